"""Cycle events as shots: twice, late, missed, a new job, dry runs, a burst."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from shotlog.collectors.base import Resume
from shotlog.collectors.opcua_shots import Cycle, EventShots
from shotlog.collectors.opcua_times import EventTimes
from shotlog.records import Fault, Gap, Shot

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def cycle(counter: int, id: bytes | None = None, cushion: float | None = None, **more: str) -> Cycle:
    values = {"cushion": 5.0 + counter / 64 if cushion is None else cushion, "fill_time": 0.7 + counter / 1024}
    return Cycle(b"%d" % counter if id is None else id, counter, values, (), NOON, f"JobCycleCounter={counter}", **more)


def taken(*looks: tuple[Cycle, ...], resume: Resume | None = None, flush: bool = True) -> list[tuple]:
    shots = EventShots("P25", 2**32 - 1, resume)
    shots.connected()
    records = [record for look in looks for record in shots.take(look)]
    return [said(record) for record in records + (shots.flush() if flush else [])]


def said(record: Shot | Gap | Fault) -> tuple:
    if isinstance(record, Shot):
        return ("shot", record.shot, record.counter)
    return ("gap", record.first, record.last) if isinstance(record, Gap) else ("fault", record.kind)


def test_one_that_was_missed_is_a_gap_after_one_more_look():
    assert taken((cycle(7),), (cycle(9),), flush=False) == [("shot", 7, 7)]
    assert taken((cycle(7),), (cycle(9),), (), flush=False) == [("shot", 7, 7), ("gap", 8, 8), ("shot", 9, 9)]


def test_one_that_comes_late_in_the_same_or_the_next_look_is_put_in_order():
    in_order = [("shot", 7, 7), ("shot", 8, 8), ("shot", 9, 9)]
    assert taken((cycle(7),), (cycle(9), cycle(8))) == in_order
    assert taken((cycle(7),), (cycle(9),), (cycle(8),)) == in_order


def test_one_that_comes_later_still_stays_in_its_gap_with_its_text():
    assert taken((cycle(7),), (cycle(9),), (), (cycle(8),))[-1] == ("fault", "late event")


def test_the_same_event_twice_is_one_shot():
    assert taken((cycle(7), cycle(7)), (cycle(8),)) == [("fault", "repeat"), ("shot", 7, 7), ("shot", 8, 8)]
    again = cycle(7, id=b"another")
    assert taken((cycle(7),), (again,), (cycle(8),)) == [("shot", 7, 7), ("fault", "repeat"), ("shot", 8, 8)]
    other = cycle(7, id=b"another", cushion=9.0)
    assert taken((cycle(7),), (other,)) == [("shot", 7, 7), ("fault", "conflict")]


def test_a_new_job_that_brings_count_and_values_again_is_known_by_the_time_of_the_press():
    """A press that rounds, and three parts of a job: only its clock tells the next job's from them."""

    def at(counter: int, minute: int) -> Cycle:
        return replace(cycle(counter, b"%d at %d" % (counter, minute)), said=NOON + timedelta(minutes=minute))

    first = tuple((at(n, n),) for n in (1, 2, 3))
    assert taken(*first, *((at(n, n + 3),) for n in (1, 2, 3))) == [
        *(("shot", n, n) for n in (1, 2, 3)),
        ("fault", "counter reset"),
        *(("shot", n + 3, n) for n in (1, 2, 3)),
    ]
    again = tuple((replace(at(n, n), id=b"again %d" % n),) for n in (1, 2, 3))
    assert taken(*first, *again)[3:] == [("fault", "repeat")] * 3
    assert taken(*first, (at(3, 4),))[3:] == [("fault", "repeat")]


def test_what_was_logged_before_this_start_is_not_taken_again():
    assert taken((cycle(7), cycle(8)), resume=Resume(1007, 7)) == [("fault", "repeat"), ("shot", 1008, 8)]


def test_a_new_job_counts_anew_and_what_was_missed_of_it_is_a_gap():
    assert taken((cycle(500),), (cycle(1),), (cycle(2),)) == [
        ("shot", 500, 500), ("fault", "counter reset"), ("shot", 501, 1), ("shot", 502, 2),
    ]  # fmt: skip
    assert taken((cycle(500),), (cycle(3),)) == [
        ("shot", 500, 500), ("fault", "counter reset"), ("gap", 501, 502), ("shot", 503, 3),
    ]  # fmt: skip


def test_a_new_job_whose_counts_were_seen_before_is_one_all_the_same():
    counts = [*range(1, 6), *range(1, 4)]
    looks = [(cycle(count, id=b"%d" % n, cushion=5.0 + n / 64),) for n, count in enumerate(counts)]
    assert [one for one in taken(*looks) if one[0] == "shot"] == [
        ("shot", n, count) for n, count in enumerate(counts, 1)
    ]


def test_the_last_of_one_job_and_the_first_of_the_next_may_come_turned_round():
    looks = ((cycle(15),), (cycle(1), cycle(16), cycle(2)))
    assert [one for one in taken(*looks) if one[0] == "shot"] == [
        ("shot", 15, 15), ("shot", 16, 16), ("shot", 17, 1), ("shot", 18, 2),
    ]  # fmt: skip


def test_a_stray_old_event_is_no_new_job():
    assert taken((cycle(17),), (cycle(15),), (cycle(18),), resume=Resume(1016, 16)) == [
        ("shot", 1017, 17), ("shot", 1018, 18), ("fault", "counter glitch"),
    ]  # fmt: skip


def test_a_count_far_off_waits_for_the_next_event():
    far = 5_000_000
    assert taken((cycle(7),), (cycle(far),), (cycle(8),)) == [
        ("shot", 7, 7), ("shot", 8, 8), ("fault", "counter glitch"),
    ]  # fmt: skip
    gone_on = taken((cycle(7),), (cycle(far),), (cycle(far + 1),))
    assert gone_on[-2:] == [("shot", 8, far), ("shot", 9, far + 1)]


def test_a_dry_run_that_is_counted_made_no_part_and_one_that_is_not_is_said():
    shots = EventShots("P25", 2**32 - 1, None)
    shots.connected()
    dry = "dry run (ProductionStatus 5)"
    (first, counted) = shots.take((cycle(7), cycle(8, no_part=dry)))
    assert isinstance(first, Shot)
    assert isinstance(counted, Shot)
    assert (first.no_part, counted.no_part) == ("", dry)
    (fault,) = shots.take((cycle(8, id=b"x", cushion=0.0, no_part=dry),))
    assert isinstance(fault, Fault)
    assert fault.detail == f"{dry}, which the press did not count: shot counter still 8"


def test_a_burst_after_a_stop_of_the_line_is_taken_whole():
    assert taken(tuple(cycle(n) for n in range(1, 2001))) == [("shot", n, n) for n in range(1, 2001)]


def test_five_equal_shots_are_said():
    looks = [(Cycle(b"%d" % n, n, {"cushion": 5.0, "fill_time": 0.7}, (), NOON, ""),) for n in range(1, 7)]
    assert [one for one in taken(*looks) if one[0] == "fault"] == [("fault", "frozen")]


def at(seconds: float) -> datetime:
    return NOON + timedelta(seconds=seconds)


def test_shots_bear_our_time_however_wrong_the_clock_of_the_press_is():
    clock, off = EventTimes(), 3 * 3600.0
    assert clock.made_at(at(off), at(0.1), None) == at(0.1)
    assert clock.off_said().startswith("the press's clock is 3 h 0 min ahead of this computer's")
    assert clock.off_said() == ""
    assert clock.made_at(None, at(30.0), at(29.0)) == at(30.0)


def test_a_burst_is_spread_over_the_time_in_which_nothing_was_heard():
    clock = EventTimes()
    clock.made_at(at(-500.0), at(0.0), None)
    made = [clock.made_at(at(-500.0 + 30.0 * n), at(100.0), at(20.0)) for n in (1, 2, 3)]
    assert made == [at(30.0), at(60.0), at(90.0)]


def test_a_clock_that_is_set_back_moves_no_shot_before_the_press_was_last_heard_of():
    clock = EventTimes()
    clock.made_at(at(0.0), at(0.0), None)
    assert clock.made_at(at(30.0 - 7200.0), at(30.0), at(28.0)) == at(28.0)
    assert clock.made_at(at(60.0 + 7200.0), at(60.0), at(58.0)) == at(60.0)
