"""Which half a change is laid to, from what is open on each: made up by hand, no shots."""

import numpy as np
import pytest

from shotlog.facts import SwapFinding
from shotlog.records import InForce
from shotlog.wear.change.onset import Onset
from shotlog.wear.constants import MOST_STANDING
from shotlog.wear.level.baseline import Prior, freed
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.halves import laid, name_by_course, same_changes
from shotlog.wear.life.lifetimes import EndedLife
from shotlog.wear.life.marks import StretchShot
from shotlog.wear.life.other_swap import answer_others, question_to
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.stretch import Stretch
from tests.wear.test_detector import PRIOR

NOW = 200


def change(
    first: int, onset: tuple[int, int, int], group: str = "insert", mm: float = -5.0, at: int = 190
) -> OpenChange:
    """Return a change dated in the press's shots: onset, low and high; `first`: shot the half came in at."""
    shot, low, high = onset
    cause = {"insert": "parting-line wear", "material": "lot change", "press": "clamp slackening"}[group]
    weights = {cause: 1.0}
    one = OpenChange(at, Onset(shot, low, high, low), group, cause, 1.0, weights=weights, effect={"cushion": mm})
    return one.later(1 - first)


def half(serial: str, first: int, *changes: OpenChange, prior: Prior = PRIOR) -> HalfState:
    stretch = Stretch([StretchShot(NOW - first + 1, {})], prior=prior)
    call = changes[-1] if changes else None
    return HalfState(
        InForce(serial, serial[0]), first, f"{serial[0]}|0", stretch=stretch, call=call, standing=list(changes[:-1])
    )


def whose(lives: dict[str, HalfState], pool: Pool | None = None) -> dict[str, list[tuple[int, str]]]:
    """Return by half the onsets of what is laid to it, in the press's shots, and the serial it cannot be told from."""
    found = laid(lives, pool or Pool())
    return {
        h: [(one.change.later(lives[h].first - 1).onset.shot, one.alike) for one in told] for h, told in found.items()
    }


def test_a_half_that_came_in_after_the_onset_cannot_have_it() -> None:
    lives = {
        "fixed": half("F2", 171, change(171, (175, 172, 180))),
        "moving": half("M1", 101, change(101, (160, 150, 172))),
    }
    assert whose(lives) == {"fixed": [], "moving": [(160, "")]}


def test_halves_that_came_in_together_are_alike_and_the_moving_one_is_named() -> None:
    lives = {
        "fixed": half("F1", 101, change(101, (160, 155, 165))),
        "moving": half("M1", 101, change(101, (161, 156, 166))),
    }
    assert whose(lives) == {"fixed": [], "moving": [(161, "F1")]}


def test_lives_tell_halves_apart_where_one_design_goes_much_earlier() -> None:
    lives = {
        "fixed": half("F1", 101, change(101, (160, 155, 165))),
        "moving": half("M1", 101, change(101, (161, 156, 166))),
    }
    pool = Pool()
    for nth in range(4):
        pool.end("F", EndedLife(60, True, f"F-{nth}"))
        pool.end("M", EndedLife(400, False, f"M-{nth}"))
    assert whose(lives, pool) == {"fixed": [(160, "")], "moving": []}


def test_a_change_that_only_one_sees_is_its_own_or_alike() -> None:
    lives = {"fixed": half("F1", 101), "moving": half("M1", 101, change(101, (161, 156, 166)))}
    assert whose(lives) == {"fixed": [], "moving": [(161, "F1")]}
    lives = {"fixed": half("F1", 181), "moving": half("M1", 101, change(101, (161, 156, 166)))}
    assert whose(lives) == {"fixed": [], "moving": [(161, "")]}


def test_a_half_that_is_going_off_has_the_next_change_too() -> None:
    lives = {
        "fixed": half("F2", 171, change(171, (186, 184, 188), mm=6.0)),
        "moving": half("M1", 101, change(101, (150, 145, 155), at=160), change(101, (187, 185, 189), mm=6.0)),
    }
    assert whose(lives) == {"fixed": [], "moving": [(150, ""), (187, "")]}


def test_another_change_on_the_newer_half_is_not_lost() -> None:
    """It lies across what was open before: no course of that one."""
    lives = {
        "fixed": half("F2", 171, change(171, (186, 184, 188), mm=6.0)),
        "moving": half("M1", 101, change(101, (150, 145, 155))),
    }
    assert whose(lives) == {"fixed": [(186, "M1")], "moving": [(150, "")]}


@pytest.mark.parametrize(
    ("onset", "mm", "named"),
    [((182, 178, 186), -3.0, "insert"), ((182, 178, 186), 3.0, "material"), ((160, 150, 180), -3.0, "material")],
)
def test_a_change_goes_by_the_name_of_its_course(onset: tuple[int, int, int], mm: float, named: str) -> None:
    older = half("M1", 101, change(101, (150, 145, 155), "material"))
    name_by_course({"fixed": half("F2", 171, change(171, onset, mm=mm)), "moving": older})
    assert older.call is not None
    assert (older.call.group, older.call.onset.shot) == (named, 50)


@pytest.mark.parametrize(("free", "able"), [(0.0, True), (1e3, False)])
def test_a_half_whose_level_is_free_leaves_the_answer_to_the_one_that_comes_in(free: float, able: bool) -> None:
    """Called from its first shots on: without them it knows its level by its sisters, or not at all."""
    prior = freed(PRIOR, PRIOR.mean[:, 0], np.full(1, free))
    stays = half("F1", 101, change(101, (104, 101, 108)), prior=prior)
    lives = {"fixed": stays, "moving": half("M1", 101, change(101, (104, 101, 108)))}
    asked = question_to("fixed", same_changes(lives), lives, ["moving"], Pool(), NOW + 1)
    assert asked is not None
    assert (asked.insert, asked.n, asked.low, asked.able) == ("M1", 101, 4, able)
    stays.ask(asked)
    answer_others([stays], SwapFinding("p", "M1", NOW + 1, "confirmed", -5.0, 0.0))
    assert (stays.open() == []) is not able


def test_however_many_changes_come_the_first_and_the_last_are_kept() -> None:
    many = half("F1", 101)
    for nth in range(40):
        many.take_over(change(101, (110 + nth, 110 + nth, 110 + nth), at=110 + nth))
    kept = [one.at for one in many.standing]
    assert len(kept) == MOST_STANDING
    assert (kept[0], kept[-1]) == (10, 49)
