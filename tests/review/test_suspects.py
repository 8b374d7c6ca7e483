"""Which parts are in doubt: spans, what ends them, and which part to look at first; stops beside them."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from shotlog.parts.doubt import Doubt, Since
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import Part
from shotlog.parts.told import FINDING, INSPECTION, Wrong
from shotlog.records import Event, Gap, Verdict
from shotlog.review.costs import PartCounts
from shotlog.review.history import History
from shotlog.review.source import PressRecord
from shotlog.review.stops import stops_of
from shotlog.review.suspects import Suspects, found_bad, suspects_of
from shotlog.review.swaps import Swap
from shotlog.store.asked.state import EntryRow
from tests.review.made_up_press import at, mounting, record, verdict

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def calls(first: int, last: int, insert: str = "B-1", onset: int = 36) -> list[Verdict]:
    interval = {"onset": onset, "onset_low": onset - 2, "onset_high": onset + 3}
    return [verdict(shot, insert, "swap", **interval) for shot in range(first, last + 1)]


def history(verdicts: Sequence[Verdict], outcomes: dict[int, str], gaps: Sequence[Gap] = ()) -> History:
    starts = [1, *outcomes]
    mounted = [mounting(f"B-{n}", start) for n, start in enumerate(starts, 1)]
    press = record(100, lambda shot: 5.0, mounted, verdicts=verdicts, gaps=gaps)
    swaps = [
        Swap("P1", shot, "moving", f"B-{n}", f"B-{n + 1}", "", None, None, outcome, "", ())
        for n, (shot, outcome) in enumerate(outcomes.items(), 1)
    ]
    return History(press, tuple(swaps))


def counted(first: int, last: int) -> PartCounts:
    return PartCounts(held=last - first + 1)


def spans(given: History, doubts: Sequence[Doubt] = ()) -> list[Suspects]:
    return list(suspects_of(given, doubts, {"B-1": {"part": 2.0, "late_find": 8.0}}, counted))


def test_parts_are_in_doubt_from_the_early_edge_to_the_swap_that_helped() -> None:
    (one,) = spans(history(calls(40, 50), {51: "came back"}, [Gap("P1", 45, 46, NOON, "missed")]))
    assert (one.first, one.last, one.parts.held, one.n_missed) == (34, 50, 17, 2)
    assert (one.onset, one.onset_low, one.onset_high) == (36, 34, 39)
    assert "brought the level back" in one.ended_by


def test_in_doubt_is_what_is_held_and_a_change_that_outlives_a_swap_is_one_span() -> None:
    outcomes = {51: "stayed", 71: "came back"}
    (one,) = spans(history([*calls(40, 50), *calls(55, 70, "B-2")], outcomes))
    assert (one.first, one.last) == (34, 70)
    assert "brought the level back" in one.ended_by
    (one,) = spans(history(calls(40, 50), outcomes))
    assert (one.first, one.last) == (34, 50)
    assert "left the level where it was" in one.ended_by


def test_limits_passed_alone_are_a_span_of_their_own() -> None:
    passed = [verdict(shot, "B-1", "watch", limits=("cushion",)) for shot in (20, 21)]
    (one,) = spans(history([*passed, verdict(22, "B-1")], {}))
    assert (one.first, one.last, one.withdrawn) == (20, 21, True)
    assert one.ended_by == "within its limits again after shot 21: cushion"


def test_a_call_still_standing_runs_to_the_last_shot() -> None:
    (one,) = spans(history(calls(90, 100, onset=88), {}))
    assert (one.first, one.last, one.withdrawn) == (86, 100, False)


def test_a_withdrawn_call_leaves_its_parts_to_be_decided() -> None:
    (one,) = spans(history([*calls(40, 44), verdict(45, "B-1")], {}))
    assert (one.first, one.last, one.withdrawn) == (34, 44, True)


def test_the_span_begins_where_the_log_began_to_hold() -> None:
    held = Doubt("P1", "verdict", "B-1", 30, 50, dict.fromkeys(range(30, 51), Since(1, NOON)), "swap")
    (one,) = spans(history(calls(40, 50), {51: "came back"}), [held])
    assert (one.first, one.onset_low) == (30, 34)


def test_ten_shots_earlier_is_no_earlier_than_the_insert() -> None:
    (one,) = spans(history(calls(40, 50), {51: "came back"}))
    assert (one.earlier, one.earlier_cost) == (10, 100.0)
    (one,) = spans(history(calls(8, 50, onset=6), {51: "came back"}))
    assert one.earlier == 3


def test_ten_shots_earlier_cost_as_many_parts_as_those_shots_made() -> None:
    given = history(calls(40, 50), {51: "came back"})
    costs = {"B-1": {"part": 2.0, "late_find": 8.0}}
    (one,) = suspects_of(given, [], costs, lambda first, last: PartCounts(open=4 * (last - first + 1)))
    assert (one.earlier, one.earlier_cost) == (10, 400.0)


def test_the_parts_to_look_at_first_are_those_around_the_onset() -> None:
    (one,) = spans(history(calls(40, 50), {51: "came back"}, [Gap("P1", 36, 36, NOON, "missed")]))
    assert [look.shot for look in one.look_first][:3] == [33, 50, 51]
    (one,) = spans(history(calls(40, 50), {51: "came back"}))
    assert one.look_first[0].shot == 36
    assert len({look.shot for look in one.look_first}) == len(one.look_first)


def test_a_bad_part_is_a_span_of_its_own() -> None:
    bad = Inspection(1, Part("P1", 20), "look", None, None, None, "", "flash", "", "", "", NOON, NOON)
    wrong = Wrong(1, INSPECTION, 20, "", "flash", "", NOON, bad)
    held = dict.fromkeys(range(11, 51), Since(1, NOON))
    alone = Doubt("P1", INSPECTION, "", 20, 20, {20: Since(1, NOON)}, wrong=wrong)
    rest = Doubt("P1", INSPECTION, "B-1", 11, 50, held, wrong=wrong, last_good=10)
    found = found_bad(history([], {}), [rest, alone], counted)
    assert [(one.first, one.last, one.bad) for one in found] == [(11, 19, bad), (20, 20, bad), (21, 50, bad)]
    assert found[1].because == "inspection of P1/20/1: flash"
    made = "made on B-1, which made a bad part (P1/20/1); held since the last known good one, shot 10"
    assert [one.because for one in (found[0], found[2])] == [made, made]


def test_what_people_found_is_told_of_the_parts_no_call_holds() -> None:
    called = spans(history(calls(40, 50), {51: "came back"}))
    held = dict.fromkeys(range(30, 61), Since(1, NOON))
    finding = Doubt("P1", FINDING, "B-1", 30, 60, held, wrong=Wrong(1, FINDING, 55, "", "crack", "", NOON))
    found = found_bad(history([], {}), [finding], counted, called)
    assert [(one.first, one.last) for one in (*called, *found)] == [(34, 50), (30, 33), (51, 60)]


def test_a_call_that_a_person_ended_by_finding_the_insert_sound_was_not_withdrawn() -> None:
    said = history([*calls(40, 44), verdict(45, "B-1")], {})
    answer = EntryRow(1, Event("P1", 45, "sound", "RK, gate", NOON), False)
    answered = replace(said, record=replace(said.record, entries=(answer,)))
    assert [one.ended_by for one in spans(answered)] == ["the insert was found sound at shot 45"]


def test_a_withdrawn_call_and_a_standing_one_share_no_part() -> None:
    found = spans(history([*calls(40, 44), verdict(45, "B-1"), *calls(46, 60, onset=42)], {}))
    assert [(one.first, one.last, one.withdrawn) for one in found] == [(34, 44, True), (45, 60, False)]


def paused(record_: PressRecord) -> list[tuple[int, float | None, str, int | None]]:
    return [(s.at_shot, s.minutes, s.noted, s.settled_after) for s in stops_of(record_)]


def test_a_stop_is_seen_in_the_times_and_settling_counted() -> None:
    verdicts = [verdict(shot, "B-1", settling=shot <= 8 or 31 <= shot <= 35) for shot in range(1, 61)]
    press = record(60, lambda shot: 5.0, [mounting("B-1", 1)], verdicts=verdicts)
    late = tuple(t + timedelta(minutes=20 if n >= 30 else 0) for n, t in enumerate(press.times))
    moved = replace(press, times=late)
    assert paused(moved) == [(31, 21.25, "", 5)]


def test_a_noted_pause_is_told_even_when_short_and_one_taken_back_is_not() -> None:
    events = [Event("P1", 20, "pause", "coffee", at(20))]
    press = record(60, lambda shot: 5.0, [mounting("B-1", 1)], events=events)
    assert paused(press) == [(20, None, "pause: coffee", 0)]
    taken = replace(press, entries=tuple(replace(one, taken_back=True) for one in press.entries))
    assert paused(taken) == []
