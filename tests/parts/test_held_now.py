"""What is held now, and which two parts tell most: never one of which somebody knows already."""

from collections.abc import Iterable
from datetime import UTC, datetime

import pytest

from shotlog.parts.doubt import Doubt, Since
from shotlog.parts.held import HeldBlock, HeldNow, held_now
from shotlog.parts.part import Part
from shotlog.parts.standing import Decision, Ground

NOON = datetime(2026, 1, 5, 12, tzinfo=UTC)


def told(
    held: Iterable[int],
    made: Iterable[int],
    looked_at: Iterable[int] = (),
    decided: tuple[tuple[int, int, str], ...] = (),
    last_good: int | None = None,
) -> HeldNow | None:
    shots = sorted(held)
    since = dict.fromkeys(shots, Since(1, NOON))
    doubts = (Doubt("P1", "finding", "B-1", shots[0], shots[-1], since, last_good=last_good),) if shots else ()
    stands = [(Part("P1", shot), Ground("held", doubts, None, False)) for shot in shots]
    return held_now(
        stands,
        lambda shot: max((one for one in made if one < shot), default=None),
        set(looked_at),
        [Decision(1, "P1", first, last, 1, what, "seen", "ab", NOON) for first, last, what in decided],
    )


MADE = range(1, 21)


@pytest.mark.parametrize(
    ("more", "look"),
    [
        ({}, (9, 10)),
        ({"last_good": 9}, (10,)),
        ({"looked_at": [9]}, (10,)),
        ({"looked_at": [10, 11]}, (9, 12)),
        ({"decided": ((5, 9, "scrapped"),)}, (10,)),
        ({"decided": ((9, 9, "released"),)}, (10,)),
        ({"looked_at": range(10, 21)}, ()),
    ],
)
def test_no_part_of_which_somebody_knows_is_to_be_looked_at(more: dict[str, object], look: tuple[int, ...]) -> None:
    now = told(range(10, 21), MADE, **more)  # type: ignore[arg-type]
    assert now == HeldNow(11, (HeldBlock(10, 20, 11),), look)


def test_shots_never_made_part_no_run_so_that_the_onset_is_looked_at() -> None:
    """Of 50 to 51 and 53 to 59 it named 52, which is not in the log."""
    made = [*range(41, 52), *range(53, 60)]
    now = told([50, 51, *range(53, 60)], made)
    assert now == HeldNow(9, (HeldBlock(50, 51, 2), HeldBlock(53, 59, 7)), (49, 50))


def test_the_newest_run_that_nobody_has_looked_at_goes_first() -> None:
    held = [5, 6, 15, 16]
    both = told(held, MADE)
    older = told(held, MADE, looked_at=[15, 16])
    assert both is not None
    assert older is not None
    assert (both.look_first, older.look_first) == ((14, 15), (4, 5))


def test_the_first_ever_made_has_none_before_it() -> None:
    now = told(range(1, 4), MADE)
    assert now is not None
    assert now.look_first == (1,)
    assert told((), MADE) is None
