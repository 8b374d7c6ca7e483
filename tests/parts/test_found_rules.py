"""What people found holds parts: compared with the rule written out shot by shot, and what holds whatever is said."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.parts.against import FAR_OUT, by_far_out, by_found
from shotlog.parts.ending import damage_in, tells_damage
from shotlog.parts.far import FAR, FarOut
from shotlog.parts.found import FoundWrong, damages, found_wrong, verdict_beside
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import MadePart, Part
from shotlog.parts.standing import Decision, standings
from shotlog.parts.told import FINDING, INSPECTION, NOTE, TAKEN_OUT, Released, Sound, Told, Wrong
from shotlog.records import Insert, Mounting, Stay

LAST = 16
shot_numbers = st.integers(1, LAST)


def at(minute: int) -> datetime:
    return datetime(2026, 1, 5, 6, 0, tzinfo=UTC) + timedelta(minutes=minute)


def stay(serial: str, half: str, first: int, end: float = inf, single_use: bool = False) -> Stay:
    return Stay(Mounting("P1", half, Insert(serial), first, at(0), single_use), first, end)


def wrong(place: int, shot: int, half: str = "", basis: str = FINDING, text: str = "crack") -> Wrong:
    return Wrong(place, basis, shot, half, text, "", at(place))


def result(shot: int, finding: str = "", value: float | None = None, high: float | None = None) -> Inspection:
    part, time = Part("P1", shot), at(0)
    return Inspection(1, part, "look", value, None, high, "", finding, "", "", "", time, time)


def held(told: Told) -> set[int]:
    return {shot for doubt in by_found("P1", found_wrong(told)) for shot in doubt.since}


def shots(first: int, last: int) -> set[int]:
    return set(range(first, last + 1))


# the rule, written out shot by shot from what was asked for


def good_by_rule(told: Told, shot: int, before: int) -> bool:
    said = max((place for place, of in told.good if of == shot), default=None)
    against = max((one.place for one in told.wrong if one.shot == shot and one.basis != TAKEN_OUT), default=None)
    if against is not None or said is not None:
        return said is not None and (against is None or said > against)
    looked = [one for one in told.results if one.part.shot == shot]
    fine = bool(looked) and not any(one.bad for one in looked)
    fine = fine and any(one.value is None or one.low is not None or one.high is not None for one in looked)
    decided = [one for one in told.decided if one.first <= shot <= one.last and one.place < before]
    return fine or (bool(decided) and max(decided, key=lambda one: one.place).released)


def once_good_by_rule(told: Told, shot: int, before: int) -> bool:
    """Whether anybody ever said so, whatever is known since."""
    looked = [one for one in told.results if one.part.shot == shot and not one.bad]
    let_go = [one for one in told.decided if one.released and one.first <= shot <= one.last and one.place < before]
    return bool(looked or let_go) or shot in {of for _, of in told.good}


def none_good_by_rule(told: Told, one: Wrong) -> bool:
    """Whether somebody answered of it that none is: of all on an insert in at the answer's shot, else of the newest."""
    for place, shot in told.none_good:
        earlier = [w for w in told.wrong if w.place < place and w.basis != NOTE]
        on = [
            w
            for w in earlier
            if any(
                s.first <= w.shot < s.end and s.first <= shot < s.end and w.half in ("", s.mounting.half)
                for s in told.stays
            )
        ]
        if one in (on or sorted(earlier, key=lambda w: w.place)[-1:]):
            return True
    return False


def held_by_rule(told: Told, shot: int) -> bool:
    return any(_held_for(told, one, shot) for one in told.wrong)


def _held_for(told: Told, one: Wrong, shot: int) -> bool:
    if one.basis != TAKEN_OUT and one.shot == shot:
        return True
    if one.basis == NOTE:
        return False
    suspects = [s for s in told.stays if s.first <= one.shot < s.end and one.half in ("", s.mounting.half)]
    return any(_made_on(told, one, shot, s, suspects) for s in suspects if not s.mounting.single_use)


def _made_on(told: Told, one: Wrong, shot: int, blamed: Stay, suspects: Sequence[Stay]) -> bool:
    serial = blamed.mounting.insert.serial
    here = [s for s in told.stays if s.mounting.insert.serial == serial and s.first <= shot < s.end]
    if not here or here[0].first < blamed.first or (one.basis == TAKEN_OUT and here[0] != blamed):
        return False
    end = one.shot + (one.basis == TAKEN_OUT)
    said = {of for _, of in told.good}
    asked_of = [g for g in range(end) if g >= blamed.first or g in said]
    answered = none_good_by_rule(told, one) or any(once_good_by_rule(told, g, one.place) for g in asked_of)
    if shot < one.shot and not answered:
        return False
    if any(good_by_rule(told, g, one.place) for g in range(max(blamed.first, shot), end)):
        return False
    for answer in told.sound:
        mounted = [s for s in told.stays if s.mounting.insert.serial == serial and s.first <= answer.shot < s.end]
        mounted = [s for s in mounted if answer.half in ("", s.mounting.half) and s.first >= blamed.first]
        if one.basis == TAKEN_OUT:
            mounted = [s for s in mounted if s == blamed]
        if mounted and answer.place > one.place and one.shot <= answer.shot < shot:
            return False
    others = [s for s in suspects if s is not blamed]
    for g in range(one.shot + 1, min(shot, LAST) + 1):
        alone = blamed.first <= g < blamed.end and all(
            g >= (one.shot + 1 if s.mounting.single_use else s.end) for s in others
        )
        spoken = g in {of for _, of in told.good} or any(r.part.shot == g for r in told.results)
        if others and alone and spoken and good_by_rule(told, g, one.place):
            return False
    return True


# whatever is said


@st.composite
def mounted(draw: st.DrawFn) -> list[Stay]:
    """Stays in two halves; an insert may come back, and a half may stand empty or be single-use."""
    found = []
    for half, serials in (("fixed", ("F-1", "F-2")), ("moving", ("M-1", "M-2"))):
        cuts = sorted(draw(st.sets(st.integers(2, LAST), max_size=3)))
        for first, end in zip([1, *cuts], [*cuts, inf], strict=True):
            serial = draw(st.sampled_from((*serials, "")))
            if serial:
                found.append(stay(serial, half, first, end, half == "moving" and draw(st.integers(0, 4)) == 0))
    return sorted(found, key=lambda one: one.first)


halves = st.sampled_from(["", "fixed", "moving"])


@st.composite
def tellings(draw: st.DrawFn) -> Told:
    """What people said of one press, each at its own place in the log."""
    places = iter(draw(st.permutations(range(1, 25))))
    stays = draw(mounted())
    found = []
    for basis in draw(st.lists(st.sampled_from([FINDING, INSPECTION, NOTE]), min_size=1, max_size=3)):
        found.append(wrong(next(places), draw(shot_numbers), draw(halves), basis))
    ended = [one for one in stays if one.end < inf and not one.mounting.single_use]
    for one in draw(st.lists(st.sampled_from(ended), max_size=1)) if ended else []:
        found.append(wrong(next(places), int(one.end) - 1, one.mounting.half, TAKEN_OUT))
    results = [result(one.shot, "crack") for one in found if one.basis == INSPECTION]
    results += [result(shot) for shot in draw(st.lists(shot_numbers, max_size=3))]
    decided = []
    for first, n, let_go in draw(st.lists(st.tuples(shot_numbers, st.integers(0, 5), st.booleans()), max_size=3)):
        decided.append(Released(next(places), first, min(first + n, LAST), draw(st.sampled_from([None, 1])), let_go))
    sound = [
        Sound(next(places), shot, half) for shot, half in draw(st.lists(st.tuples(shot_numbers, halves), max_size=2))
    ]
    good = [(next(places), shot) for shot in draw(st.lists(shot_numbers, max_size=3))]
    none_good = draw(st.sampled_from([[], [(98, LAST)]]))
    return Told(found, stays, LAST, good, none_good, sound, decided, results)


@given(tellings())
def test_what_is_held_is_what_the_rule_says_shot_by_shot(told: Told) -> None:
    bare = [one for one in told.wrong if not any(s.first <= one.shot < s.end for s in told.stays)]
    told = replace(told, wrong=[one for one in told.wrong if one not in bare])
    assert held(told) == {shot for shot in range(1, LAST + 1) if held_by_rule(told, shot)}


@given(tellings(), shot_numbers, halves, st.sampled_from([FINDING, INSPECTION, NOTE]))
def test_one_more_finding_lets_no_part_go(told: Told, shot: int, half: str, basis: str) -> None:
    more = wrong(99, shot, half, basis)
    results = [*told.results, *([result(shot, "crack")] if basis == INSPECTION else [])]
    assert held(replace(told, wrong=[*told.wrong, more], results=results)) >= held(told) | {shot}


@given(tellings(), shot_numbers)
def test_one_more_part_known_to_be_good_holds_nothing_more(told: Told, shot: int) -> None:
    """Once it is answered at all: before, a finding goes no further back than its own part."""
    told = replace(told, none_good=[(98, one.shot) for one in told.wrong])
    assert held(replace(told, good=[*told.good, (99, shot)])) <= held(told)


@given(tellings())
def test_a_further_shot_lets_nothing_go(told: Told) -> None:
    assert held(replace(told, newest=LAST + 1)) - {LAST + 1} == held(told)


@given(tellings(), st.permutations(range(4)))
def test_the_clock_says_nothing(told: Told, minutes: list[int]) -> None:
    set_back = [replace(one, time=at(-minutes[n % 4])) for n, one in enumerate(told.wrong)]
    assert held(replace(told, wrong=set_back)) == held(told)
    assert held(replace(told, wrong=list(reversed(told.wrong)))) == held(told), "nor does the order of reading"


@given(tellings(), st.lists(st.tuples(st.integers(1, 99), shot_numbers, st.integers(0, 6)), max_size=3))
def test_a_release_lets_go_its_own_parts_and_no_others(told: Told, let_go: list[tuple[int, int, int]]) -> None:
    """Released after everything that was found: exactly those parts go."""
    made = [MadePart(Part("P1", shot), None, {}, "", "") for shot in range(1, LAST + 1)]
    decided = [
        Decision(n, "P1", first, first + more, None, "released", "looked at", "", at(-n), 100 + n)
        for n, first, more in let_go
    ]
    later = [Released(one.place, one.first, one.last, None, True) for one in decided]
    told = replace(told, decided=[*told.decided, *later])
    doubts = by_found("P1", found_wrong(told))
    found = {one.part.shot for one in standings(made, doubts, [], decided) if one.state == "held"}
    gone = {shot for one in decided for shot in range(one.first, one.last + 1)}
    assert found == held(replace(told, decided=told.decided[: len(told.decided) - len(later)])) - gone


# one thing at a time

A, B = stay("A-07", "fixed", 1), stay("B-12", "moving", 5)
NONE_KNOWN = Told([], [A, B], LAST, none_good=[(99, LAST)])


def one_found(*found: Wrong, **said: object) -> FoundWrong:
    return found_wrong(replace(NONE_KNOWN, wrong=list(found), **said))[-1]  # type: ignore[arg-type]


def one_asked(*found: Wrong, **said: object) -> FoundWrong:
    """With no answer but those given."""
    return one_found(*found, **{"none_good": [], **said})


def test_a_finding_holds_what_both_halves_made_where_no_half_is_named() -> None:
    found = one_found(wrong(1, 10))
    assert [(one.serial, one.first, one.last, one.goes_on) for one in found.held] == [
        ("A-07", 1, LAST, True), ("B-12", 5, LAST, True),
    ]  # fmt: skip
    assert (found.stands, found.asks) == (True, False)
    named = one_found(wrong(1, 10, "moving"))
    assert [one.serial for one in named.held] == ["B-12"]


@pytest.mark.parametrize(
    "text", ["flash", "short", "burn", "crack", "dimension out", "looks odd", "not filled", "no gloss"]
)
def test_every_finding_of_damage_tells_damage(text: str) -> None:
    assert tells_damage(text)


@pytest.mark.parametrize("text", ["no flash", "not worn yet", "looks sound", "vents cleaned"])
def test_what_was_not_seen_tells_none(text: str) -> None:
    assert not tells_damage(text) or text == "vents cleaned", "a finding is one, whatever else it says"
    assert not damage_in(text)


@pytest.mark.parametrize(
    ("said", "first"),
    [
        ({"good": [(2, 8)]}, 9),
        ({"results": [result(7)]}, 8),
        ({"results": [result(7, value=1.2, high=1.3)]}, 8),
        ({"results": [result(7, value=1.2)]}, 5),
        ({"results": [result(7), result(7, "burn")]}, 5),
        ({"decided": [Released(0, 5, 6, None, True)]}, 7),
        ({"decided": [Released(9, 5, 6, None, True)]}, 5),
        ({"decided": [Released(-1, 5, 6, None, True), Released(0, 6, 6, None, False)]}, 6),
        ({"good": [(2, 4)]}, 5),
        ({"good": [(2, 11)]}, 5),
    ],
)
def test_what_counts_as_known_to_be_good(said: dict[str, object], first: int) -> None:
    """Said, looked at, within a tolerance, released before; no bare value, none released after, no other insert's."""
    assert one_found(wrong(1, 10, "moving"), **said).held[0].first == first


def test_until_it_is_answered_a_finding_goes_no_further_back_than_its_own_part() -> None:
    asked = one_found(wrong(1, 10, "moving"), none_good=[])
    assert asked.asks
    assert [(one.first, one.goes_on) for one in asked.held] == [(10, True)]
    assert one_found(wrong(1, 10, "moving"), none_good=[(0, 10)]).held[0].first == 10, "answered before it was found"
    assert one_found(wrong(1, 10, "moving"), none_good=[(2, 10)]).held[0].first == 5
    assert one_found(wrong(1, 10, "moving"), none_good=[], good=[(2, 3)]).held[0].first == 5, "good, on the one before"
    for fine_before in ({"results": [result(3)]}, {"decided": [Released(0, 1, 4, None, True)]}):
        held_now = one_asked(wrong(1, 10, "moving"), **fine_before).held
        assert held_now[0].first == 10, "that an earlier insert made fine parts says nothing of this one"
    out = wrong(1, 11, "moving", TAKEN_OUT, "flash")
    assert one_found(out, stays=[A, stay("B-12", "moving", 5, 12)], none_good=[]).held[0].first == 11


@pytest.mark.parametrize("basis", [FINDING, INSPECTION, NOTE])
@pytest.mark.parametrize(
    "said", [{"good": [(2, 7)]}, {"results": [result(7)]}, {"decided": [Released(0, 7, 7, None, True)]}]
)
def test_what_is_found_on_the_part_thought_good_lets_no_other_go(said: dict[str, object], basis: str) -> None:
    first = one_found(wrong(3, 10, "moving"), **{"none_good": [], **said})
    assert first.held[0].first == 8
    more = [*said.get("results", []), *([result(7, "burn")] if basis == INSPECTION else [])]  # type: ignore[misc]
    told = replace(NONE_KNOWN, none_good=[], wrong=[wrong(3, 10, "moving"), wrong(9, 7, "fixed", basis)], **said)  # type: ignore[arg-type]
    assert held(replace(told, results=more)) >= shots(8, LAST)
    assert found_wrong(replace(told, results=more))[0].held[0].first == 5


def test_a_word_of_good_goes_by_the_order_of_the_log() -> None:
    bad = wrong(3, 8, basis=INSPECTION)
    assert one_found(bad, wrong(5, 10, "moving"), good=[(4, 8)]).held[0].last_good == 8
    assert one_found(bad, wrong(5, 10, "moving"), good=[(2, 8)]).held[0].last_good is None


def test_it_ends_when_found_sound_and_what_was_held_stays_held() -> None:
    found = one_found(wrong(3, 10, "moving"), sound=[Sound(4, 12, "moving")])
    assert [(one.first, one.last, one.goes_on) for one in found.held] == [(5, 12, False)]
    assert not found.stands
    assert one_found(wrong(3, 10, "moving"), sound=[Sound(2, 12)]).stands, (
        "said before it was found, of what was not known"
    )
    assert one_found(wrong(3, 10, "moving"), sound=[Sound(4, 12, "fixed")]).stands


def test_it_ends_when_the_insert_comes_out_and_goes_on_should_it_come_back() -> None:
    out = stay("B-12", "moving", 5, 12)
    assert [(one.first, one.last) for one in one_found(wrong(1, 10, "moving"), stays=[A, out]).held] == [(5, 11)]
    back = one_found(wrong(1, 10, "moving"), stays=[A, out, stay("B-12", "moving", 14)])
    assert [(one.first, one.last, one.goes_on) for one in back.held] == [(5, 11, False), (14, LAST, True)]
    assert back.stands


def test_the_half_that_stayed_is_cleared_by_a_good_part_made_without_the_other() -> None:
    out = [A, stay("B-12", "moving", 5, 12), stay("B-13", "moving", 12)]
    found = one_found(wrong(1, 10), stays=out)
    assert [(one.serial, one.last, one.goes_on) for one in found.held] == [("A-07", LAST, True), ("B-12", 11, False)]
    cleared = one_found(wrong(1, 10), stays=out, results=[result(14)])
    assert [(one.serial, one.last, one.goes_on) for one in cleared.held] == [("A-07", 13, False), ("B-12", 11, False)]
    assert not cleared.stands


def test_of_three_halves_all_others_must_be_out_before_one_is_cleared() -> None:
    three = [
        A,
        stay("B-12", "moving", 5, 12),
        stay("B-13", "moving", 12),
        stay("C-1", "core", 1, 14),
        stay("C-2", "core", 14),
    ]
    held_for = [one_found(wrong(1, 10), stays=three, results=[result(shot)]).held[0] for shot in (13, 14)]
    assert [(one.serial, one.last, one.goes_on) for one in held_for] == [("A-07", LAST, True), ("A-07", 13, False)]


def test_an_insert_found_sound_may_come_back() -> None:
    back = [A, stay("B-12", "moving", 5, 12), stay("B-12", "moving", 14)]
    found = one_found(wrong(1, 10, "moving"), stays=back, sound=[Sound(2, 11)])
    assert [(one.first, one.last) for one in found.held] == [(5, 11)]


def test_a_half_taken_out_after_a_good_part_holds_nothing() -> None:
    out = [A, stay("B-12", "moving", 5, 12)]
    assert held(Told([wrong(3, 11, "moving", TAKEN_OUT, "flash")], out, LAST, good=[(4, 11)])) == set()


def test_a_note_on_a_part_holds_that_part_alone() -> None:
    assert held(replace(NONE_KNOWN, wrong=[wrong(1, 10, basis=NOTE)])) == {10}


def test_a_half_taken_out_for_damage_holds_what_it_made() -> None:
    out = [A, stay("B-12", "moving", 5, 12), stay("B-13", "moving", 12)]
    taken = wrong(3, 11, "moving", TAKEN_OUT, "flash")
    assert held(Told([taken], out, LAST)) == {11}
    assert held(Told([taken], out, LAST, none_good=[(4, 10)])) == shots(5, 11)
    assert held(Told([taken], out, LAST, good=[(4, 9)])) == {10, 11}
    (found,) = found_wrong(Told([taken], out, LAST))
    assert (found.stands, found.asks) == (False, True)
    (answered,) = found_wrong(Told([taken], out, LAST, good=[(2, 9)]))
    assert (answered.held[0].first, answered.asks) == (10, False), "of a finding before it came out"
    twice = [*out[:2], stay("B-13", "moving", 12, 14), stay("B-14", "moving", 14)]
    (later,) = found_wrong(Told([taken], twice, LAST, mounted=[(4, "moving"), (5, "moving")]))
    assert not later.asks, "the press has gone on to the insert after the next"


def test_a_finding_with_no_insert_on_record_holds_all_made_without_one() -> None:
    found = found_wrong(Told([wrong(1, 10)], [stay("B-12", "moving", 1, 5)], LAST, good=[(2, 7)]))[0]
    assert [(one.serial, one.first, one.last) for one in found.held] == [("", 8, LAST)]
    assert found.stands


def test_a_finding_on_a_single_use_half_is_about_its_part_and_stands_while_it_is_the_last() -> None:
    once = [stay("S-1", "moving", 1, single_use=True)]
    for newest, stands in ((10, True), (11, False)):
        (found,) = found_wrong(Told([wrong(1, 10, "moving")], once, newest))
        assert (found.held, found.stands, found.asks) == ((), stands, False)


def test_the_question_is_asked_until_somebody_answers_after_the_finding() -> None:
    assert one_asked(wrong(3, 10, "moving"), good=[(2, 8)]).asks
    assert not one_asked(wrong(3, 10, "moving"), good=[(4, 8)]).asks
    assert not one_asked(wrong(3, 10, "moving"), none_good=[(4, 10)]).asks
    assert not one_asked(wrong(3, 10, "moving"), results=[result(9)]).asks, "the one before it is known to be good"
    assert one_asked(wrong(3, 10, "moving"), good=[(4, 12)]).asks, "good after it says nothing of how far back"


def test_the_question_outlives_the_swap_of_the_insert_until_the_next_one_goes() -> None:
    swapped = [A, stay("B-12", "moving", 5, 12), stay("B-13", "moving", 12)]
    assert one_asked(wrong(3, 10, "moving"), stays=swapped).asks
    assert not one_asked(wrong(3, 10, "moving"), stays=swapped, good=[(4, 8)]).asks
    assert one_asked(wrong(3, 10, "moving"), stays=swapped, good=[(4, 8)]).held[0].first == 9
    twice = [A, stay("B-12", "moving", 5, 12), stay("B-13", "moving", 12, 14), stay("B-14", "moving", 14)]
    mounted: list[tuple[int, str]] = [(1, "moving"), (4, "moving")]
    assert one_asked(wrong(3, 10, "moving"), stays=twice, mounted=mounted).asks, "the next one went before it was found"
    assert not one_asked(wrong(3, 10, "moving"), stays=twice, mounted=[*mounted, (5, "moving")]).asks
    assert not one_asked(wrong(3, 10, "moving"), stays=twice, sound=[Sound(4, 11)]).stands


def test_that_none_is_known_is_said_of_one_insert_and_no_other() -> None:
    twice = [A, stay("B-12", "moving", 5, 12), stay("B-13", "moving", 12)]
    both = replace(NONE_KNOWN, stays=twice, wrong=[wrong(1, 10, "moving"), wrong(2, 14, "moving")], none_good=[(3, 14)])
    assert [(one.held[0].first, one.asks) for one in found_wrong(both)] == [(10, True), (12, False)]


def test_the_newest_finding_on_an_insert_speaks_for_those_that_hold_no_more() -> None:
    told = replace(NONE_KNOWN, wrong=[wrong(1, 8, "moving"), wrong(2, 10, "moving"), wrong(3, 10, "fixed")])
    spans = [
        (one.serial, one.wrong.place if one.wrong else 0) for one in by_found("P1", found_wrong(told)) if one.serial
    ]
    assert sorted(spans) == [("A-07", 3), ("B-12", 2)]
    bounded = replace(told, good=[(4, 9)])
    firsts = {one.first for one in by_found("P1", found_wrong(bounded)) if one.serial == "B-12"}
    assert firsts == {5, 10}, "the earlier one holds more"


@pytest.mark.parametrize(
    ("text", "said", "stands"),
    [("crack", "keep", "swap"), ("flash", "keep", "watch"), ("flash", "swap", "swap"), ("flash", "watch", "watch")],
)
def test_while_it_stands_the_verdict_is_never_keep(text: str, said: str, stands: str) -> None:
    assert verdict_beside(said, [one_found(wrong(3, 10, "moving", text=text))]) == stands
    assert verdict_beside(said, [one_found(wrong(3, 10, text=text), sound=[Sound(4, 10)])]) == said


def test_every_cavity_of_a_shot_must_be_known_to_be_good() -> None:
    def two(_shot: int) -> int:
        return 2

    assert one_found(wrong(3, 10, "moving"), results=[result(8)], cavities=two).held[0].last_good is None
    other = replace(result(8), part=Part("P1", 8, 2))
    assert one_found(wrong(3, 10, "moving"), results=[result(8), other], cavities=two).held[0].last_good == 8


def test_a_shot_far_out_alone_is_held_from_so_many_spreads_on() -> None:
    near, far = (FarOut(n, "B-1", "cushion", by, n, at(n)) for n, by in ((3, 0.9 * FAR), (4, -FAR)))
    doubts = by_far_out("P1", [near, far, replace(far, place=9)])
    assert [(one.basis, one.first, one.since[one.first].place) for one in doubts] == [(FAR_OUT, 4, 4)]


def test_a_shot_of_which_an_earlier_release_kept_no_distance_is_held_once_a_later_judging_knows_it() -> None:
    unknown = FarOut(5, "B-1", None, None, 1, at(1))
    later = replace(unknown, channel="cushion", by=0.8 * FAR, place=9)
    assert by_far_out("P1", [unknown]) == []
    assert by_far_out("P1", [unknown, later]) == []
    (doubt,) = by_far_out("P1", [unknown, replace(later, by=FAR)])
    assert (doubt.first, doubt.since[5].place) == (5, 9)


def test_what_broke_on_a_piece_that_left_with_its_part_swaps_nothing() -> None:
    pieces = [A, stay("S-1", "moving", 1, single_use=True)]
    cracked = one_found(wrong(1, LAST, "moving"), stays=pieces)
    assert (cracked.stands, damages(cracked), verdict_beside("keep", [cracked])) == (True, False, "watch")
    assert verdict_beside("keep", [one_found(wrong(1, LAST, "fixed"), stays=pieces)]) == "swap"
