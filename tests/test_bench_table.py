"""The table of `make bench`: what a row says, of figures made by hand; nothing is timed here."""

from importlib import import_module
from inspect import isfunction
from pathlib import Path

import pytest

from tests.benchmark import table
from tests.benchmark.bench import Bench
from tests.benchmark.row import Row, by_turns, figure


def test_every_benchmark_gives_rows() -> None:
    assert all(isfunction(import_module(f"tests.benchmark.bench_{name}").rows) for name in table.BENCHES)


def test_a_ratio_is_of_neighbouring_turns() -> None:
    row = Row("stored", "s", [2.0, 30.0, 4.0], [1.0, 10.0, 2.0], "raw", "a chain", goal=1.5)
    assert row.ratios == [2.0, 3.0, 2.0]
    assert row.reached is False
    assert list(table.printed([row])) == [
        f"{'stored':<46}{'4.00 s':>18}{'2.00 s':>18}{'2.00 (2.00 to 2.50)':>24}{'1.5 !':>9}{3:>5}",
        "    beside: raw; a chain",
    ]


def test_a_limit_is_one_figure_for_all_rounds() -> None:
    row = Row("memory", "B", [90e6, 100e6], [200e6], "what is allowed", "", goal=1.0)
    assert row.ratios == [0.45, 0.5]
    assert row.reached


def test_what_cannot_be_measured_says_why() -> None:
    (said,) = table.printed([Row.without("stored on PostgreSQL", "no server")])
    assert said.split("  ")[-1] == "not measured here: no server"


@pytest.mark.parametrize(
    ("number", "unit", "said"),
    [
        (3.1e-4, "s a shot", "310 us a shot"),
        (0.9996, "s", "1.00 s"),
        (61.2, "s", "61.2 s"),
        (4.3e-10, "s", "0.43 ns"),
        (189.4, "B a shot", "189 B a shot"),
        (12.34e6, "B", "12.3 MB"),
    ],
)
def test_a_figure_has_three_digits(number: float, unit: str, said: str) -> None:
    assert figure(number, unit) == said


def test_works_take_turns_and_the_first_round_is_left_out() -> None:
    done: list[str] = []
    hand = iter(range(100))
    works = {name: lambda name=name: done.append(name) for name in ("ours", "theirs")}  # type: ignore[misc]
    took = by_turns(works, 2, clock=lambda: float(next(hand)), per=2)
    assert done == ["ours", "theirs"] * 3
    assert took == {"ours": [0.5, 0.5], "theirs": [0.5, 0.5]}


def test_a_benchmark_that_breaks_off_is_a_row_that_says_so(tmp_path: Path) -> None:
    (row,) = table.measured("of_nothing", Bench(tmp_path))
    assert row.missing.startswith("broke off with exit status 1")
