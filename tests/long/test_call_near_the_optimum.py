"""The call against the least delay any detector can have, on enough lives to tell: standard errors of some 2 %."""

import pytest

from tests.benchmark.lives.known import SIZES, Quiet, delays, healthy, learnt

pytestmark = pytest.mark.long

STATED = 40.0
MOST = {("step", 2.0): 1.5, ("step", 3.0): 1.75, ("drift", 0.05): 1.55, ("drift", 0.1): 1.4, ("drift", 0.2): 1.3}


@pytest.fixture(scope="module")
def quiet() -> Quiet:
    return healthy(learnt(STATED), STATED, 600)


@pytest.mark.parametrize(("kind", "size"), [(kind, size) for kind, sizes in SIZES.items() for size in sizes])
def test_delays_lie_between_the_least_possible_and_what_is_reached(kind: str, size: float, quiet: Quiet) -> None:
    one = delays(learnt(STATED), STATED, kind, size, 200, quiet.run_length)
    print(f"run length {quiet.run_length:.0f}, {kind} {size}: {one.mean:.2f} of {one.reference:.2f}, {one.ratio:.2f}")
    assert one.mean + 3 * one.error >= one.lower_bound
    assert one.ratio <= MOST.get((kind, size), 99.0)
