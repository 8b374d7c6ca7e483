"""What bad parts have in common: held against those found sound, and honest where there is nothing to hold against."""

from collections.abc import Mapping, Sequence

import pytest

from shotlog.parts.inspection import Inspection
from shotlog.parts.part import MadePart, Part
from shotlog.parts.standing import Ground, PartStanding
from shotlog.records import InForce
from shotlog.review.shared import Shared, Shares
from shotlog.store.inserts.making import Making
from shotlog.store.parts.soaks import Soak
from tests.review.made_up_press import at

MADE = {f"S-{n:02d}": Making(f"S-{n:02d}", plate_position=("a1", "a2", "b1")[n % 3]) for n in range(1, 41)}


def standing(shot: int, state: str = "made") -> PartStanding:
    """A part of a single-use piece; batch PL-1 up to shot 20, PL-2 after; lot L1 up to 30."""
    halves = {
        "fixed": InForce("A-1", "simple"),
        "moving": InForce(f"S-{shot:02d}", "core", "PL-1" if shot <= 20 else "PL-2", True),
    }
    made = MadePart(Part("P1", shot), at(shot), halves, "L1" if shot <= 30 else "L2", "")
    return PartStanding(made, Ground(state, (), None, False), ())


def looked_at(shot: int, finding: str = "") -> Inspection:
    blank = {"value": None, "low": None, "high": None, "unit": "", "half": "", "instrument": "", "initials": ""}
    return Inspection(shot, Part("P1", shot), "look", finding=finding, inspected=at(shot), entered=at(shot), **blank)


def shared_by(
    standings: Sequence[PartStanding],
    results: Sequence[Inspection],
    soaked: Sequence[Soak],
    made: Mapping[str, Making],
) -> tuple[Shared, ...]:
    shares = Shares(results, soaked, made)
    for one in standings:
        shares.take(one)
    return shares.found


def of(found: tuple[Shared, ...], parts: str) -> list[tuple[str, str, int, int]]:
    return [(one.factor, one.value, one.n, one.n_others) for one in found if one.parts == parts]


def test_the_plate_position_of_bad_pieces_is_found() -> None:
    """Every piece from place b1 is bad: 12 of 12 against 0 of 24; Fisher's p is 1 / C(36, 12)."""
    standings = [standing(shot) for shot in range(1, 37)]
    results = [looked_at(shot, "flash" if shot % 3 == 2 else "") for shot in range(1, 37)]
    found = shared_by(standings, results, (), MADE)
    first = found[0]
    assert (first.factor, first.value, first.n, first.n_others) == ("plate position, moving", "b1", 12, 0)
    assert first.p == pytest.approx(1 / 1251677700)
    assert first.told
    assert [one.value for one in found if one.told] == ["b1"]


def test_what_all_parts_share_tells_nothing_and_is_left_out() -> None:
    found = shared_by(
        [standing(shot) for shot in range(1, 11)], [looked_at(shot, "x" * (shot > 8)) for shot in range(1, 11)], (), {}
    )
    assert of(found, "bad") == []


def test_without_sound_parts_there_is_no_chance_to_state() -> None:
    standings = [standing(shot) for shot in (10, 25)]
    found = shared_by(standings, [looked_at(10, "flash"), looked_at(25, "flash")], (), MADE)
    assert {one.p for one in found} == {None}
    assert not any(one.told for one in found)


def test_three_parts_prove_nothing() -> None:
    standings = [standing(shot) for shot in range(18, 24)]
    results = [looked_at(shot, "flash" if shot > 20 else "") for shot in range(18, 24)]
    found = shared_by(standings, results, (), {})
    assert of(found, "bad") == [("print batch, moving", "PL-2", 3, 0)]
    assert found[0].p == pytest.approx(0.1)
    assert not found[0].told


def test_parts_in_doubt_are_counted_and_not_tested() -> None:
    standings = [standing(shot, "held" if shot > 20 else "made") for shot in range(1, 41)]
    found = shared_by(standings, (), (), {})
    assert of(found, "in doubt") == [("print batch, moving", "PL-2", 20, 0), ("lot", "L2", 10, 0)]
    assert {one.p for one in found} == {None}


def test_no_bad_part_and_none_in_doubt_is_nothing() -> None:
    assert shared_by([standing(1)], [looked_at(1)], (), MADE) == ()
