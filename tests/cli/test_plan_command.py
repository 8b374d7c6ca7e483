"""The command ``plan``, as a person types it."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from shotlog.cli.main import main
from tests.review.made_up_log import fill, settings_in

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("trial")
    fill(settings_in(made))
    return made


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    def typed(*words: str, config: Path = folder / "trial.toml") -> tuple[int, str, str]:
        status = main(["plan", str(config), *words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return typed


def test_it_says_what_to_print_and_what_that_rests_on(run: Run) -> None:
    status, out, _ = run("--design", "cap-r2", "--parts", "200")
    assert status == 0
    lines = out.splitlines()
    assert lines[0].startswith("For 200 accepted parts of cap-r2, print ")
    assert lines[0].endswith(" single-use pieces of core-s: enough in 9 trials of 10.")
    assert "Mounted together with cap-r2, core-s, as in the last shot on record." in lines
    assert any(line.startswith("  50 %: ") for line in lines)
    assert "Assumed, because this log has none yet:" in out
    assert "cost of insert, cap-r2: 18, from the configuration" in out
    assert out.count("<- cheapest") == 1
    assert "If cap-r2 is swapped" in out


def test_the_same_log_gives_the_same_plan(run: Run) -> None:
    assert run("--design", "cap-r2", "--parts", "80") == run("--design", "cap-r2", "--parts", "80")


def test_json_holds_stocks_rows_and_figures_with_their_source(run: Run) -> None:
    document = json.loads(run("--design", "cap-r2", "--parts", "200", "--swap-after", "33", "--json")[1])
    assert [stock["certainty"] for stock in document["chosen"]["stocks"]] == [0.5, 0.9]
    assert document["chosen"]["planned"] == 33
    assert {"log", "assumed", "configuration"} >= {one["source"] for one in document["figures"]}
    assert [row for row in document["rows"] if row["planned"] == 33]


def test_figures_given_by_hand_are_taken_as_exact(run: Run) -> None:
    """A piece a part, one in ten scrap: 116 pieces are enough for 100 in 9 of 10 (negative binomial)."""
    given = (
        "--design",
        "new",
        "--parts",
        "100",
        "--single-use",
        "--scrap",
        "10%",
        "--breakage",
        "0",
        "--settling",
        "0",
    )
    out = run(*given, "--cycle-s", "90", "--dissolve-h", "26")[1]
    assert "print 116 single-use pieces of new: enough in 9 trials of 10" in out
    assert (
        "  90 %: 116 single-use pieces of new; 116 shots, 2.9 h at the press; the last part leaves the bath 28.9 h"
        in out
    )
    assert "Nothing is on record of new, and the configuration does not name it: what is not given is assumed." in out


def test_before_there_is_a_log_it_answers_all_the_same(run: Run, tmp_path: Path) -> None:
    settings_in(tmp_path)
    status, out, _ = run("--design", "cap-r2", "--parts", "50", config=tmp_path / "trial.toml")
    assert status == 0
    assert "half of the inserts reach, cap-r2: " in out
    assert "ASSUMED, no source, for PP on acrylate photopolymer (--life gives another)" in out
    assert not (tmp_path / "trial.db").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--design", "cap-r2", "--parts", "0"), "parts: given 0, allowed: 1 to 20000"),
        (("--design", "cap-r2", "--parts", "9", "--scrap", "1"), "scrap: given 1"),
        (("--design", "cap-r2", "--parts", "9", "--scrap", "few"), "given 'few', allowed: a number"),
        (("--design", "cap-r2", "--parts", "9", "--breakage", "3 mm"), "allowed: a share, such as 0.05 or 5%"),
        (("--design", "", "--parts", "9"), "design: given nothing"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(run: Run, words: tuple[str, ...], said: str) -> None:
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert said in err


def test_hardly_an_insert_outlives_its_settling_shots(run: Run) -> None:
    out = run("--design", "new", "--parts", "50", "--life", "3", "--settling", "90")[1]
    assert out.startswith("No stock is enough for 50 accepted parts of new")
    assert "  90 %: no stock is enough\n" in out
