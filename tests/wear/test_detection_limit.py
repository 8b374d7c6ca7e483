"""The call against the least delay any detector can have: near it, and never under it.

Reference: `tests/reference/detection_limit.csv`. The monitor's own run length is measured first, and the reference
taken there. Small samples: 60 healthy lives, 16 of each change, a standard error of the ratios of some 8 %. The long
form is in `tests/long`.
"""

from collections.abc import Mapping

import pytest

from tests.benchmark.lives.known import SIZES, Delays, Quiet, delays, healthy, learnt, most_found

STATED, QUIET_LIVES, LIVES = 40.0, 60, 16
CHANGES = [(kind, size) for kind, sizes in SIZES.items() for size in sizes]

MOST = {("step", 2.0): 2.0, ("step", 3.0): 2.2, ("drift", 0.05): 2.0, ("drift", 0.1): 1.8, ("drift", 0.2): 1.6}
"""Ratios of mean delay to the least possible; what the monitor reaches and two standard errors. A step of one spread is
none a press is stopped for, and the monitor does not look for it."""


@pytest.fixture(scope="module")
def quiet() -> Quiet:
    return healthy(learnt(STATED), STATED, QUIET_LIVES)


@pytest.fixture(scope="module")
def found(quiet: Quiet) -> Mapping[tuple[str, float], Delays]:
    state = learnt(STATED)
    return {(kind, size): delays(state, STATED, kind, size, LIVES, quiet.run_length) for kind, size in CHANGES}


def test_false_calls_are_no_more_than_stated(quiet: Quiet) -> None:
    share = quiet.calls / quiet.lives
    assert share <= STATED / 100 + 2 * (0.4 * 0.6 / quiet.lives) ** 0.5


@pytest.mark.parametrize(("kind", "size"), CHANGES)
def test_no_call_comes_sooner_than_any_detector_can(
    kind: str, size: float, quiet: Quiet, found: Mapping[tuple[str, float], Delays]
) -> None:
    one = found[kind, size]
    assert one.mean + 3 * one.error >= one.lower_bound
    rate = min((quiet.calls + 2 * quiet.calls**0.5 + 2) / quiet.lives, 0.99)
    for shots in (1, 2, 3, 5, 8, 10, 15, 20):
        most = most_found(kind, size, shots, rate)
        assert one.found_within(shots) <= most + 3 * (most * (1 - most) / one.lives) ** 0.5 + 1e-9


@pytest.mark.parametrize(("kind", "size"), MOST)
def test_delays_are_near_the_least_possible(kind: str, size: float, found: Mapping[tuple[str, float], Delays]) -> None:
    assert found[kind, size].ratio <= MOST[kind, size]
