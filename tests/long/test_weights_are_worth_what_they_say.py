"""Stated weights over enough lives to tell a tenth: in each with 100 calls, within a tenth of the share right."""

import pytest

from tests.benchmark.bench_call import run
from tests.benchmark.lives.reliability import BEYOND, by_tenth, reliability_table, said_of

pytestmark = pytest.mark.long

PRESSES, ENOUGH, OFF = 200, 100, 0.10


@pytest.mark.parametrize("n_channels", [3, 9])
def test_in_every_tenth_with_enough_calls_as_many_are_right(n_channels: int) -> None:
    rows = run(60606, PRESSES, n_channels, best=False, beyond=BEYOND)
    print("\n" + reliability_table(rows))
    for when in ("", "_end"):
        for one in by_tenth(said_of(rows, when)):
            assert one.n < ENOUGH or abs(one.off) <= OFF + one.error, one
