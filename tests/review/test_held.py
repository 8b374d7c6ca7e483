"""Held parts by their main reason: what a person found before a call, and no span cut up for a second reason."""

from dataclasses import replace
from datetime import timedelta

from shotlog.parts.against import FAR_OUT
from shotlog.parts.doubt import Doubt, Since
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import MadePart, Part
from shotlog.parts.standing import Decision, Ground, PartStanding
from shotlog.parts.told import FINDING, INSPECTION, Wrong
from shotlog.review.held import HeldGroup, HeldGroups
from tests.review.made_up_press import at

SINCE = dict.fromkeys(range(1, 200), Since(1, at(1)))
BAD = Inspection(1, Part("P1", 20), "look", None, None, None, "", "flash", "fixed", "", "ab", at(90), at(90))
WRONG = Wrong(9, INSPECTION, 20, "fixed", "flash", "ab", at(90), BAD)


def called(verdict: str, first: int, last: int, serial: str = "B-1") -> Doubt:
    return Doubt("P1", "verdict", serial, first, last, SINCE, verdict, "parting-line wear", first)


def found(first: int, last: int, serial: str = "A-1") -> Doubt:
    return Doubt("P1", INSPECTION, serial, first, last, SINCE, wrong=WRONG)


def held(standings: list[PartStanding], first: int = 0) -> tuple[HeldGroup, ...]:
    runs = HeldGroups(first)
    for one in standings:
        runs.take(one)
    return runs.found


def parts(
    shots: range, *doubts: Doubt, state: str = "held", cavity: int = 1, said: Decision | None = None
) -> list[PartStanding]:
    return [
        PartStanding(
            MadePart(Part("P1", shot, cavity), at(shot), {}, "", ""),
            Ground(state, tuple(d for d in doubts if d.first <= shot <= d.last), said, False),
            (),
        )
        for shot in shots
    ]


def test_a_second_reason_cuts_no_span_up() -> None:
    """Two calls overlap: the call to swap is the main reason where it holds, whatever else holds there."""
    (swap, watch) = held(parts(range(10, 40), called("swap", 10, 29), called("watch", 20, 39, "A-1")))
    assert (swap.spans, swap.n, [doubt.verdict for doubt in swap.against]) == (((10, 29),), 20, ["swap", "watch"])
    assert (watch.spans, watch.n, [doubt.verdict for doubt in watch.against]) == (((30, 39),), 10, ["watch"])


def test_what_a_person_found_goes_before_a_call_and_the_part_itself_before_all() -> None:
    itself = found(20, 20, "")
    one, after, call = held(parts(range(20, 30), itself, found(21, 25), called("swap", 18, 29)))
    assert [(group.spans, group.by_people) for group in (one, after, call)] == [
        (((20, 20),), True), (((21, 25),), True), (((26, 29),), False),
    ]  # fmt: skip


def test_the_part_a_finding_was_seen_on_stands_with_the_others_it_holds() -> None:
    seen = replace(WRONG, basis=FINDING, bad=None)
    alone = Doubt("P1", FINDING, "", 25, 25, SINCE, wrong=seen)
    (group,) = held(parts(range(20, 30), alone, Doubt("P1", FINDING, "A-1", 20, 29, SINCE, wrong=seen)))
    assert (group.spans, group.against[0].serial, group.midway) == (((20, 29),), "A-1", 24)


def test_parts_held_for_one_finding_after_another_are_decided_on_in_these_steps() -> None:
    """Under the first of them, 114 parts stood in one row, most of them held for what was seen only later."""
    seen = replace(WRONG, basis=FINDING, bad=None)
    first, later = (Doubt("P1", FINDING, "A-1", start, 39, SINCE, wrong=seen) for start in (20, 30))
    out = Doubt("P1", FINDING, "B-1", 35, 35, SINCE, wrong=seen)
    groups = held(parts(range(20, 40), first, later, out, called("swap", 10, 39)))
    assert [(group.spans, group.against[0]) for group in groups] == [
        (((20, 29),), replace(first, since={})), (((30, 39),), replace(later, since={})),
    ]  # fmt: skip


def test_a_shot_that_lay_far_out_cuts_no_call_up() -> None:
    alone = Doubt("P1", FAR_OUT, "B-1", 25, 25, SINCE)
    (call,) = held(parts(range(20, 30), alone, called("watch", 20, 29)))
    assert (call.spans, [doubt.basis for doubt in call.against]) == (((20, 29),), ["verdict", FAR_OUT])


def test_parts_decided_on_and_those_before_the_period_wait_for_nobody() -> None:
    doubt = called("watch", 1, 60)
    made = [*parts(range(1, 5), doubt), *parts(range(5, 8), doubt, state="released"), *parts(range(8, 12), doubt)]
    assert [group.spans for group in held(made)] == [((1, 4), (8, 11))]
    assert [group.spans for group in held(made, first=8)] == [((8, 11),)]


def test_cavities_are_named_only_where_not_all_are_held() -> None:
    doubt = called("watch", 1, 3)
    places = [(shot, cavity) for shot in (1, 2, 3) for cavity in (1, 2)]
    every = [one for shot, cavity in places for one in parts(range(shot, shot + 1), doubt, cavity=cavity)]
    (both,) = held(every)
    assert (both.n, both.cavities) == (6, ())
    alone = [one for one in every if one.part.cavity == 1 or one.part.shot == 2]
    first, second = held(alone)
    assert {(one.spans, one.cavities, one.n) for one in (first, second)} == {(((1, 3),), (1,), 3), (((2, 2),), (2,), 1)}


def test_a_person_alone_can_hold_and_newer_evidence_is_told_apart() -> None:
    said = Decision(3, "P1", 5, 6, None, "held", "smells burnt", "cd", at(7) + timedelta(hours=1))
    (alone,) = held(parts(range(5, 7), said=said))
    assert (alone.against, alone.decision, alone.by_people) == ((), said, False)
