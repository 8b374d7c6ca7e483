"""The call against the least delay any detector can have: near it, and never under it.

Reference: `tests/reference/detection_limit.csv`. At a high rate of false calls (40 in 100 lives) the monitor's own run
length is measured first, and the reference taken there. At the rate that is used (5 in 100) calls are too few to
measure it by: the reference is that of a run length of 1000 shots, less than the 1755 that 5 in 100 lives of 90 come
to, so the least delay is rather said too short. Small samples: 60 healthy lives, 16 of each change, a standard error of
the ratios of some 8 %. The long form is in `tests/long`.
"""

from collections.abc import Mapping

import pytest

from shotlog.wear.constants import FALSE_CALLS_PER_100
from tests.benchmark.lives.known import SIZES, Delays, Quiet, delays, healthy, learnt, most_found

OFTEN, USED, USED_RUN = 40.0, FALSE_CALLS_PER_100, 1000.0
QUIET_LIVES, LIVES = 60, 16
CHANGES = [(kind, size) for kind, sizes in SIZES.items() for size in sizes]

MOST = {("step", 2.0): 2.0, ("step", 3.0): 2.2, ("drift", 0.05): 2.0, ("drift", 0.1): 1.8, ("drift", 0.2): 1.6}
"""Ratios of mean delay to the least possible; what the monitor reaches and two standard errors. A step of one spread is
none a press is stopped for, and the monitor does not look for it."""


@pytest.fixture(scope="module", params=[OFTEN, pytest.param(USED, marks=pytest.mark.long)])
def stated(request: pytest.FixtureRequest) -> float:
    return float(request.param)


@pytest.fixture(scope="module")
def quiet(stated: float) -> Quiet:
    return healthy(learnt(stated), stated, QUIET_LIVES)


@pytest.fixture(scope="module")
def found(stated: float, quiet: Quiet) -> Mapping[tuple[str, float], Delays]:
    state, run = learnt(stated), quiet.run_length if stated == OFTEN else USED_RUN
    return {(kind, size): delays(state, stated, kind, size, LIVES, run) for kind, size in CHANGES}


def test_false_calls_are_no_more_than_stated(stated: float, quiet: Quiet) -> None:
    share = stated / 100
    assert quiet.calls / quiet.lives <= share + 2 * (share * (1 - share) / quiet.lives) ** 0.5


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
