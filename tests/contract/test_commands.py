"""Every command is in the help with a text, and in the README."""

import argparse
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

from shotlog.cli.main import parser

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


@cache
def choices(asked: str = "") -> dict[str, argparse.ArgumentParser]:
    return next(
        dict(action.choices)
        for action in parser(asked)._actions
        if isinstance(action, argparse._SubParsersAction)  # argparse has no public way to its commands
    )


@pytest.mark.parametrize("name", sorted(choices()))
def test_a_command_is_described_and_documented(name: str) -> None:
    assert f"`shotlog {name}" in README
    assert choices()[name].description


@pytest.mark.parametrize("name", sorted(choices()))
def test_a_command_made_alone_says_what_it_says_among_all(name: str) -> None:
    (alone,) = choices(name).items()
    assert alone[0] == name
    assert alone[1].format_help() == choices()[name].format_help()


def test_the_contract_of_commands_is_kept() -> None:
    """Design section 5: these names are called by others and stay."""
    contract = {
        "demo", "check", "probe", "run", "mount", "remove", "note", "status", "review", "inserts", "export", "replay",
        "verify", "chart", "explain",
    }  # fmt: skip
    assert contract <= set(choices())


@pytest.mark.parametrize(
    ("made", "heavy"),
    [("shotlog.cli.main", ("numba", "pandas", "scipy", "werkzeug")), ("dashboard.app", ("numba", "pandas"))],
)
def test_what_is_started_often_starts_without_what_only_judging_needs(made: str, heavy: tuple[str, ...]) -> None:
    """Loading the compiler of the call takes longer than most commands run, and as long as half of the pages."""
    loaded = f"import sys, {made}; print([m for m in {heavy} if m in sys.modules])"
    assert subprocess.run([sys.executable, "-c", loaded], capture_output=True, text=True, check=True).stdout == "[]\n"
