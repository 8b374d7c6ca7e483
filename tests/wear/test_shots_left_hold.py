"""The interval of shots left holds the truth as often as it says, on inserts made apart from the call."""

import pytest

from tests.benchmark.lives.wearing import COURSES, Stated, Trial, cover, middle, trials

pytestmark = pytest.mark.long

KINDS = [
    *(Trial(course, sisters) for course in COURSES for sisters in (0, 2, 6)),
    Trial("even", 6, "peak_pressure"),
    Trial("even", 6, broken=0.006),
    Trial("even", 6, pulled=0.5),
]
PRESSES = 7
SEED = 20261128


@pytest.fixture(scope="module")
def said() -> list[tuple[Trial, Stated]]:
    """What is stated at the call, five and fifteen shots later on seven presses of each kind, 190 statements or so."""
    return list(trials(KINDS, SEED, PRESSES))


def test_eight_of_ten_intervals_hold_the_truth(said: list[tuple[Trial, Stated]]) -> None:
    """80 % over everything: 0.72-0.92 with 190 statements of 80 lives, three a life, whose standard error is 0.04."""
    every = [one for _, one in said]
    assert len(every) > 150
    assert 0.72 <= cover(every) <= 0.92


@pytest.mark.parametrize("sisters", [0, 2, 6])
def test_with_few_sisters_the_interval_is_wider_and_no_less_true(
    said: list[tuple[Trial, Stated]], sisters: int
) -> None:
    """At least 0.65 hold, and the middle is no less than 0.6 of the truth.

    About 55 statements of 20 lives: they hang together by life, so the standard error is 0.05 to 0.09.
    """
    some = [one for kind, one in said if kind.sisters == sisters and kind in KINDS[:9]]
    assert len(some) > 35
    assert cover(some) >= 0.65
    assert 0.6 <= middle(some) <= 1.4


def test_sisters_narrow_the_interval(said: list[tuple[Trial, Stated]]) -> None:
    width = {}
    for sisters in (0, 6):
        some = [one for kind, one in said if kind.sisters == sisters and kind in KINDS[:9]]
        width[sisters] = middle([Stated(0, 0.0, (one.high + 1.0) / (one.low + 1.0), 0.0, 1) for one in some])
    assert width[6] < 0.75 * width[0]
