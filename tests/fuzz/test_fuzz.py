"""A few thousand odd inputs of each kind, and that the search finds what is there to be found."""

from contextlib import closing
from decimal import Decimal
from pathlib import Path
from random import Random

import pytest

from shotlog.collectors import line_reader
from tests.fuzz.fuzz import KINDS
from tests.fuzz.kind import Kind, run
from tests.fuzz.of_lines import Lines

_INPUTS = {"lines": 3000, "modbus": 2000, "recordings": 2000, "imports": 300, "configurations": 1000, "typed": 3000,
           "entries": 150, "requests": 100}  # fmt: skip


@pytest.mark.parametrize("name", KINDS)
def test_no_odd_input_is_taken_for_what_it_is_not(tmp_path: Path, name: str) -> None:
    with closing(KINDS[name](tmp_path)) as kind:
        figures = run(kind, _INPUTS[name], seed=20)
    assert not figures.findings, figures.findings[0]
    assert figures.n == _INPUTS[name]
    assert len(figures.became) > 1, "all inputs of one fate try little"


class _Sevens(Kind):
    name = "sevens"

    def make(self, random: Random) -> list[int]:
        return [random.randrange(10) for _ in range(6)]

    def judge(self, given: list[int]) -> str:
        assert 7 not in given
        return "fine"


def test_what_fails_is_found_once_and_made_small() -> None:
    figures = run(_Sevens(Path()), 200, seed=1)
    (found,) = figures.findings
    assert found.smallest == [7]
    assert 0 < figures.became["fine"] < 200
    assert run(_Sevens(Path()), 200, seed=1).findings == figures.findings, "the same seed, the same inputs"


def test_a_zero_that_nobody_printed_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    right = line_reader.number
    monkeypatch.setattr(line_reader, "number", lambda text, mark: right(text, mark) or Decimal(0))
    assert run(Lines(Path()), 3000, seed=1).findings


def test_ctrl_c_keeps_the_figures_so_far(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(_: _Sevens, _given: list[int]) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr(_Sevens, "judge", stopped)
    figures = run(_Sevens(Path()), 200, seed=1)
    assert figures.stopped
    assert "0 inputs (stopped)" in str(figures)
