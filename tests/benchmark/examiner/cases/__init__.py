"""Every case by its name, in the order of the table. Adding one is a row in the table of its file."""

from tests.benchmark.examiner.cases import (
    charted,
    first,
    halves,
    healthy,
    labels,
    limits,
    lookalikes,
    looked_at,
    one_change,
    rates,
    ringing,
    several,
    short,
    shots_left,
    shots_left_otherwise,
    weights,
)
from tests.benchmark.examiner.cases.base import Case

__all__ = ["CASES"]

_FILES = (
    healthy, one_change, lookalikes, several, limits, short, halves, shots_left, shots_left_otherwise, weights, labels,
    first, ringing, rates, charted, looked_at,
)  # fmt: skip

CASES: dict[str, Case] = {case.name: case for of in _FILES for case in of.CASES}
