"""One word for one thing: no other word for it stands where people read, and Help explains every one."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from dashboard import Source, build
from shotlog.cli.main import parser
from shotlog.clock import SystemClock
from shotlog.settings import Settings, load
from shotlog.wording.terms import TERMS, Term
from tests.dashboard.asked_for import ask, words

ROOT = Path(__file__).parents[2]
SCREENS = ("shotlog/wording", "shotlog/cli", "shotlog/report", "shotlog/answers", "dashboard")
TABLES = ("shotlog/wear/change/causes.py", "shotlog/entries.py", "shotlog/channels.py")
WRITTEN = ("README.md", *(path.relative_to(ROOT).as_posix() for path in sorted((ROOT / "docs").glob("**/*.md"))))
NAMES = {"resin family", "moulded material"}
"""What lives are grouped by in the files: names in JSON, which screens say in the words of the table."""


def texts(file: Path) -> Iterator[str]:
    """Yield the texts of a module that somebody may read: its strings, but for docstrings and names alone."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    loose = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs | loose:
            yield from {node.value} - NAMES


def read() -> list[tuple[str, str]]:
    """Return everything people read, with where it stands."""
    files = [path for room in SCREENS for path in sorted((ROOT / room).rglob("*.py"))]
    files += [ROOT / name for name in TABLES]
    said = [
        (path.relative_to(ROOT).as_posix(), text) for path in files if path.name != "terms.py" for text in texts(path)
    ]
    said += [(name, (ROOT / name).read_text(encoding="utf-8")) for name in WRITTEN]
    return [*said, ("--help", parser().format_help())]


@pytest.fixture(scope="module")
def everything() -> list[tuple[str, str]]:
    return read()


@pytest.mark.parametrize("term", [one for one in TERMS if one.never], ids=lambda one: one.word)
def test_nothing_is_called_by_another_word(term: Term, everything: list[tuple[str, str]]) -> None:
    for other in term.never:
        found = [where for where, text in everything if re.search(rf"\b{re.escape(other)}\b", text, re.IGNORECASE)]
        assert not found, f"{other!r} for {term.word!r}"


def test_the_search_finds_what_stands_there(everything: list[tuple[str, str]]) -> None:
    assert len(everything) > 1000
    assert any("print material" in text for _, text in everything)


def test_help_explains_every_word(tmp_path: Path) -> None:
    (tmp_path / "trial.toml").write_text(
        '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P1"\n  [press.collector]\n  kind = "recording"\n',
        encoding="utf-8",
    )
    settings: Settings = load(tmp_path / "trial.toml")
    source = Source(settings, SystemClock())
    try:
        page = ask(build(source).server.test_client(), "page.children", url="/help")
    finally:
        source.close()
    said = " ".join(words(page["page"]["children"]))
    for term in TERMS:
        assert f"{term.word} {term.meaning}" in said


@pytest.mark.parametrize(
    "word", ["far out", "spreads", "no level yet", "other signal", "dry shot", "torn", "queue", "single-use", "plate"]
)
def test_a_word_that_stands_on_a_screen_is_explained(word: str) -> None:
    assert word in {one.word for one in TERMS}


def test_the_table_for_developers_is_the_table_in_force() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = [f"| {one.word} | {one.meaning} | {', '.join(one.never)} |" for one in TERMS]
    listed = text.partition("\n| word | what it stands for | never |\n|---|---|---|\n")[2].partition("\n\n")[0]
    assert listed.splitlines() == rows


def test_no_word_stands_for_two_things() -> None:
    every = [word.strip() for one in TERMS for word in one.word.split(",")]
    assert len(set(every)) == len(every)
    assert not {word.lower() for one in TERMS for word in one.never} & {word.lower() for word in every}
