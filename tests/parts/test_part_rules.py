"""What must hold of the rules about parts, whatever the facts: who is held, what is lifted, what a bad part does."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from math import inf

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shotlog.parts.doubt import Doubt, JudgedFrom, Naming, Since, by_verdict
from shotlog.parts.ends import BadPart, InsertEnd, PressStays, blamed_half, ends_of
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import MadePart, Part
from shotlog.parts.standing import DECISIONS, Decision, standings
from shotlog.records import HALVES, InForce, Insert, Mounting, Stay, half_judged

LAST = 24
"""The newest shot of the made-up press."""

shot_numbers = st.integers(1, LAST)
minutes = st.integers(0, 500)


def at(minute: int) -> datetime:
    return datetime(2026, 1, 5, 6, 0, tzinfo=UTC) + timedelta(minutes=minute)


def known(place: int) -> Since:
    """Known at a place in the log, by a clock that runs backwards: it must not matter."""
    return Since(place, at(500 - place))


MADE = [MadePart(Part("P1", shot, cavity), None, {}, "", "") for shot in range(1, LAST + 1) for cavity in (1, 2)]


@st.composite
def spans(draw: st.DrawFn) -> tuple[int, int]:
    first = draw(shot_numbers)
    return first, draw(st.integers(first, LAST))


@st.composite
def some_doubt(draw: st.DrawFn) -> Doubt:
    first, last = draw(spans())
    since = {shot: known(draw(minutes)) for shot in range(first, last + 1)}
    return Doubt("P1", "verdict", "B-1", first, last, since, draw(st.sampled_from(["watch", "swap"])))


@st.composite
def some_decision(draw: st.DrawFn) -> Decision:
    first, last = draw(spans())
    cavity, word = draw(st.sampled_from([None, 1, 2])), draw(st.sampled_from(DECISIONS))
    place = draw(minutes)
    return Decision(draw(st.integers(1, 99)), "P1", first, last, cavity, word, "looked at", "AB", at(-place), place)


doubts = st.lists(some_doubt(), max_size=4)
decisions = st.lists(some_decision(), max_size=5)


@given(doubts, decisions)
def test_every_part_stands_in_one_way(against: list[Doubt], decided: list[Decision]) -> None:
    found = standings(MADE, against, [], decided)
    assert [one.made for one in found] == MADE
    assert {one.state for one in found} <= {"made", *DECISIONS}
    assert all(one.doubts or one.decision for one in found if one.state != "made")


@given(doubts, decisions)
def test_a_persons_last_word_stands_unless_newer_evidence_speaks_against_a_released_part(
    against: list[Doubt], decided: list[Decision]
) -> None:
    for one in standings(MADE, against, [], decided):
        mine = [said for said in decided if said.is_about(one.part)]
        if not mine:
            assert one.state == ("held" if any(d.first <= one.part.shot <= d.last for d in against) else "made")
            continue
        newer = any(one.part.shot in d.since and d.since[one.part.shot].place > mine[-1].place for d in against)
        assert one.again == (newer and mine[-1].decision == "released")
        assert one.state == ("held" if one.again else mine[-1].decision)


@given(doubts, decisions, st.randoms(use_true_random=False))
def test_neither_the_order_of_reading_nor_other_parts_change_a_part(
    against: list[Doubt], decided: list[Decision], random: object
) -> None:
    whole = {one.part: (one.state, one.decision, one.again) for one in standings(MADE, against, [], decided)}
    mixed, few = list(against), list(MADE)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    random.shuffle(few)  # type: ignore[attr-defined]
    for one in standings(few[: LAST // 2], mixed, [], decided):
        assert (one.state, one.decision, one.again) == whole[one.part]


@given(doubts, decisions, some_doubt())
def test_newer_evidence_never_lets_a_part_go(against: list[Doubt], decided: list[Decision], more: Doubt) -> None:
    before = [one.part for one in standings(MADE, against, [], decided) if one.state == "held"]
    after = {one.part for one in standings(MADE, [*against, more], [], decided) if one.state == "held"}
    assert after >= set(before)


@st.composite
def said(draw: st.DrawFn) -> tuple[list[Naming], list[JudgedFrom]]:
    """Verdicts of up to two judgings on shots of which some were missed; the second judging covers from its shot on."""
    seen = sorted(draw(st.sets(shot_numbers, min_size=2)))
    again = draw(st.none() | st.sampled_from(seen))
    judgings = [JudgedFrom(1, 1, "first")] + ([] if again is None else [JudgedFrom(2, again, "lot")])
    found = []
    for shot, before in zip(seen, [None, *seen], strict=False):
        for judging in judgings:
            verdict = draw(st.sampled_from(["keep", "watch", "swap"]))
            if verdict == "keep" or judging.from_shot > shot:
                continue
            onset = draw(st.none() | st.integers(1, shot))
            low = None if onset is None else draw(st.none() | st.integers(1, onset))
            high = None if onset is None else draw(st.none() | st.integers(onset, LAST))
            stands = again is None or shot < again or judging.number == 2
            insert = draw(st.sampled_from(["B-1", "B-2"]))
            judged = at(1000 * judging.number)
            found.append(
                Naming(
                    shot,
                    insert,
                    verdict,
                    "",
                    onset,
                    low,
                    high,
                    judging.number,
                    judged,
                    at(shot),
                    before,
                    stands,
                    place=100 * judging.number + shot,
                )
            )
    return found, judgings


@given(said())
def test_whoever_was_named_once_stays_on_show(facts: tuple[list[Naming], list[JudgedFrom]]) -> None:
    namings, judgings = facts
    held, lifted = by_verdict("P1", namings, judgings)
    named = {shot for one in namings for shot in range(one.early_edge, one.shot + 1)}
    in_doubt = {shot for one in held for shot in range(one.first, one.last + 1)}
    once = [shot for one in lifted for shot in range(one.first, one.last + 1)]
    assert len(once) == len(set(once))
    assert not in_doubt & set(once)
    assert in_doubt | set(once) >= named
    assert set(once) <= named


@given(said())
def test_a_verdict_in_force_holds_its_own_shot_and_dates_it_once_said(
    facts: tuple[list[Naming], list[JudgedFrom]],
) -> None:
    held, _ = by_verdict("P1", *facts)
    for one in held:
        assert set(one.since) == set(range(one.first, one.last + 1))
    for naming in facts[0]:
        mine = [one for one in held if one.first <= naming.shot <= one.last]
        assert mine or not naming.stands
        assert not naming.stands or min(one.since[naming.shot] for one in mine) <= naming.said


@given(said())
def test_a_call_long_after_changes_nothing_before_it(facts: tuple[list[Naming], list[JudgedFrom]]) -> None:
    namings, judgings = facts
    shot, when, number = LAST + 9, at(9000), judgings[-1].number
    late = Naming(shot, "B-1", "swap", "", None, None, None, number, when, when, shot - 1, True, place=9000)
    before, lifted = by_verdict("P1", namings, judgings)
    after, still = by_verdict("P1", [*namings, late], judgings)
    assert after[:-1] == before
    assert still == lifted


@st.composite
def stays(draw: st.DrawFn) -> list[Stay]:
    """Stays in two halves that follow each other; an insert may come back."""
    found = []
    for half, serials in (("fixed", ("F-1", "F-2")), ("moving", ("M-1", "M-2"))):
        cuts = sorted(draw(st.sets(shot_numbers, max_size=3)))
        for first, end in zip([1, *cuts], [*cuts, inf], strict=True):
            if end > first:
                insert = Insert(draw(st.sampled_from(serials)))
                found.append(Stay(Mounting("P1", half, insert, first, at(0)), first, end))
    return found


def bad_part(mounted: Sequence[Stay], shot: int, half: str, entered: int, n: int = 1) -> BadPart:
    here = {one.mounting.half: one for one in mounted if one.first <= shot < one.end}
    halves = {half: InForce(one.mounting.insert.serial) for half, one in here.items()}
    time = at(entered)
    result = Inspection(n, Part("P1", shot), "look", None, None, None, "", "flash", half, "", "", time, time)
    return BadPart(result, halves, here, "")


some_bad = st.lists(st.tuples(shot_numbers, st.sampled_from(["", "fixed", "moving"]), minutes), max_size=4)


@given(stays(), some_bad)
def test_a_life_ends_once_and_counts_its_shots(mounted: list[Stay], known: list[tuple[int, str, int]]) -> None:
    bad = [bad_part(mounted, *fact) for fact in sorted(known)]
    ends = ends_of([PressStays(mounted, [3, 7], LAST, bad)])
    assert {one.serial for one in ends} == {stay.mounting.insert.serial for stay in mounted}
    for one in ends:
        mine = [stay for stay in mounted if stay.mounting.insert.serial == one.serial]
        made = [shot for stay in mine for shot in range(stay.first, LAST + 1) if shot < stay.end and shot not in (3, 7)]
        assert one.shots_made == len(made)
        assert one.stays == tuple(mine)
        assert (one.ended == "bad part") == (one.bad is not None)
        if one.bad is not None:
            assert one.shots == sum(shot < one.bad.part.shot for shot in made)
        else:
            assert (one.ended == "mounted", one.shots) == (mine[-1].end == inf, len(made))


def test_a_life_that_ended_by_a_bad_part_stays_ended() -> None:
    first, second = (Stay(Mounting("P1", "moving", Insert("M-1"), a, at(0)), a, b) for a, b in ((1, 6), (11, 16)))
    bad = [bad_part([first, second], shot, "", 60) for shot in (4, 12)]
    (end,) = ends_of([PressStays([first, second], [], LAST, bad)])
    assert isinstance(end, InsertEnd)
    assert (end.ended, end.at_shot, end.shots, end.shots_made) == ("bad part", 4, 3, 10)


@pytest.mark.parametrize(
    ("since", "half"),
    [
        ({}, ""),
        ({"fixed": 1, "moving": 1}, "moving"),
        ({"fixed": 2, "moving": 1}, "fixed"),
        ({"fixed": 5, "core": 5}, "core"),
        ({"core": 3, "moving": 3, "fixed": 3}, "moving"),
    ],
)
def test_the_half_changed_last_is_judged(since: dict[str, int], half: str) -> None:
    assert half_judged(since) == half
    assert blamed_half({one: InForce(f"{one}-1") for one in since}, "", "", since) == half


@given(st.dictionaries(st.sampled_from(HALVES), shot_numbers, min_size=1), st.sampled_from(HALVES))
def test_a_bad_part_speaks_against_the_half_a_person_names_then_the_one_judged(
    since: dict[str, int], named: str
) -> None:
    halves = {half: InForce(f"{half}-1", single_use=half == "core") for half in since}
    assert blamed_half(halves, named, "", since) == (named if named in halves else "")
    assume(named in halves)
    assert blamed_half(halves, "", f"{named}-1", since) == named
    reused = {half: shot for half, shot in since.items() if half != "core"}
    assert blamed_half(halves, "", "", since) == half_judged(reused or since)
