"""A press over EUROMAP 63 from its options on: what is asked, what is followed, what becomes of it when it fails."""

import os
import re
import stat
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import Collector, Options, Resume, options
from shotlog.errors import PressRefused, PressUnreachable, SettingsError
from shotlog.records import Fault, Gap, SetPoint, SetPointChange, Shot
from shotlog.settings import PressSettings, Section
from tests.collectors.folder_press import FolderPress, shared_folder

UNITS = {"cushion": "mm", "fill_time": "s"}


@pytest.fixture
def press() -> Iterator[FolderPress]:
    with shared_folder() as made:
        yield made
        assert made.forbidden == []


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


def chosen(press: FolderPress, **more: Any) -> Options:
    return press.wired(checked(press.keys(UNITS) | more))


def checked(keys: dict[str, Any]) -> Options:
    return options(PressSettings("P25", "euromap63", Section("trial.toml", "press[1].collector", keys)))


def opened(press: FolderPress, clock: HandClock, resume: Resume | None = None, **more: Any) -> Collector:
    collector = chosen(press, **more).build("P25", clock, resume)
    collector.open()
    collector.poll()
    return collector


def shot(press: FolderPress, counter: int, **others: str) -> None:
    press.show(counter, {"cushion": 5.0 + counter / 64, "fill_time": 0.75}, **others)


def polled(collector: Collector, times: int = 4) -> list[Any]:
    return [record for _ in range(times) for record in collector.poll()]


def numbers(records: list[Any]) -> list[int]:
    return [record.shot for record in records if isinstance(record, Shot)]


def kinds(records: list[Any]) -> list[str]:
    return [record.kind for record in records if isinstance(record, Fault)]


def test_what_is_asked_and_in_which_order(press: FolderPress, clock: HandClock) -> None:
    opened(press, clock)
    assert press.asked == [
        "CONNECT",
        'GETINFO "S01INFO.DAT";',
        'GETID "S01IDS.DAT";',
        'REPORT S01R0001 APPEND "S01R0001.DAT"',
    ]
    assert press.jobs == {"S01R0001": ["DATE", "TIME", "ActCntCyc", "Act0[1,0]", "Act1[1,1]"]}


@pytest.mark.parametrize(("plain", "logs"), [(True, True), (False, False), (True, False)])
def test_a_press_that_answers_in_short_is_read(press: FolderPress, clock: HandClock, plain: bool, logs: bool) -> None:
    press.plain, press.logs = plain, logs
    collector = opened(press, clock)
    shot(press, 7)
    assert numbers(polled(collector)) == [7]


def test_an_answer_to_another_request_is_not_taken_for_this_one(press: FolderPress, clock: HandClock) -> None:
    press.answers = lambda number, word: '00000099 PROCESSED "CONNECT";'
    with pytest.raises(PressUnreachable, match="did not answer CONNECT within"):
        opened(press, clock, timeout_s=1.0)


def test_an_answer_that_lay_there_before_is_not_taken_for_this_one(press: FolderPress, clock: HandClock) -> None:
    (press.folder / "SESS0001.RSP").write_text('00000000 PROCESSED "CONNECT";\r\n')
    press.silent = True
    with pytest.raises(PressUnreachable, match=r"SESS0001.REQ still lay in .*: look whether the press is on"):
        opened(press, clock, timeout_s=1.0)
    assert list(press.folder.iterdir()) == [], "a press switched on later finds no old request"


@pytest.mark.parametrize(
    ("error", "kind", "says"),
    [
        ('ERROR 05 00000005 "busy";', PressUnreachable, "it is busy"),
        ('ERROR 05 00000006 "offline";', PressUnreachable, "online at the press"),
        ('ERROR 05 00000002 "syntax";', PressRefused, "cannot read the request"),
    ],
)
def test_a_press_that_is_busy_or_offline_is_asked_again(
    press: FolderPress, clock: HandClock, error: str, kind: type[Exception], says: str
) -> None:
    press.refuse["CONNECT"] = error
    collector = chosen(press).build("P25", clock, None)
    with pytest.raises(kind, match=says):
        collector.open()
    press.refuse.clear()
    collector.open()
    shot(press, 7)
    assert numbers(polled(collector)) == [7]


@pytest.mark.parametrize("logs", [True, False])
def test_a_report_that_is_refused_says_why_and_names_what_the_press_does_not_know(
    press: FolderPress, clock: HandClock, logs: bool
) -> None:
    press.refuse["REPORT"] = 'ERROR 06 00000006 "unknown parameter";'
    press.logs = logs
    press.lists["GETID"] = 'ActCntCyc,N,8,0,0,"","Shots";\r\nAct0[1,0],N,12,9,0,"mm","A";'
    with pytest.raises(PressRefused, match=r"not know one of the tokens.*has no Act1\[1,1\] \(nearest: Act0\[1,0\]\)"):
        opened(press, clock)


def test_a_session_that_the_press_does_not_have_is_refused(press: FolderPress, clock: HandClock) -> None:
    press.lists["GETINFO"] = "MaxSessions,2;"
    with pytest.raises(PressRefused, match=r"sessions 0 to 1 \(MaxSessions\).*session = 5"):
        opened(press, clock, session=5)


def test_two_loggers_in_one_folder_do_not_touch_each_other(press: FolderPress, clock: HandClock) -> None:
    one, other = opened(press, clock, session=1), opened(press, clock, session=2)
    shot(press, 7)
    assert sorted(press.jobs) == ["S01R0001", "S02R0001"]
    assert numbers(polled(one)) == numbers(polled(other)) == [7]


# Units


def without_units(press: FolderPress) -> dict[str, Any]:
    keys = press.keys(UNITS)
    for own in keys["channels"].values():
        del own["unit"]
    return keys


def test_units_come_from_the_press_and_are_converted(press: FolderPress, clock: HandClock) -> None:
    keys = without_units(press)
    press.lists["GETID"] = 'Act0[1,0],N,8,4,0,"inch","Cushion";\r\nAct1[1,1],N,8,4,0,"ms","Fill";'
    collector = press.wired(checked(keys)).build("P25", clock, None)
    collector.open()
    press.show(7, {"cushion": 0.2, "fill_time": 750.0})
    (taken,) = (one for one in polled(collector) if isinstance(one, Shot))
    assert dict(taken.values) == {"cushion": pytest.approx(5.08), "fill_time": pytest.approx(0.75)}


@pytest.mark.parametrize("listed", ['Act0[1,0],N,8,4,0,"","Cushion";', 'Act0[1,0],N,8,4,0,"C","Cushion";'])
def test_a_unit_is_never_guessed(press: FolderPress, clock: HandClock, listed: str) -> None:
    keys = without_units(press)
    press.lists["GETID"] = f'{listed}\r\nAct1[1,1],N,8,4,0,"s","Fill";'
    with pytest.raises(PressRefused, match=r"no unit is known for cushion \(Act0\[1,0\].*give unit ="):
        press.wired(checked(keys)).build("P25", clock, None).open()


def test_a_token_that_the_press_does_not_know_is_named_with_the_nearest_one(
    press: FolderPress, clock: HandClock
) -> None:
    keys = without_units(press)
    press.lists["GETID"] = 'Act1[1,1],N,8,4,0,"s","Fill";'
    with pytest.raises(PressRefused, match=r"knows no token Act0\[1,0\], given for cushion \(it has Act1\[1,1\]\)"):
        press.wired(checked(keys)).build("P25", clock, None).open()


def test_where_both_give_a_unit_and_differ_the_configuration_wins_and_it_is_said(
    press: FolderPress, clock: HandClock
) -> None:
    press.lists["GETID"] = 'Act0[1,0],N,8,4,0,"cm","Cushion";\r\nAct1[1,1],N,8,4,0,"second","Fill";'
    collector = chosen(press).build("P25", clock, None)
    collector.open()
    press.show(7, {"cushion": 5.0, "fill_time": 0.75})
    records = polled(collector)
    assert [one.detail for one in records if isinstance(one, Fault)] == [
        "cushion: the press gives Act0[1,0] in 'cm', the configuration says 'mm': it is taken as the configuration says"
    ]
    assert [dict(one.values) for one in records if isinstance(one, Shot)] == [{"cushion": 5.0, "fill_time": 0.75}]


def test_a_press_that_gives_no_lists_is_read_with_units_of_the_configuration(
    press: FolderPress, clock: HandClock
) -> None:
    press.refuse |= {"GETINFO": 'ERROR 06 00000001 "no";', "GETID": 'ERROR 06 00000001 "no";'}
    collector = chosen(press).build("P25", clock, None)
    collector.open()
    shot(press, 7)
    records = polled(collector)
    assert numbers(records) == [7]
    assert [re.split("[;:] ", one.detail)[-1] for one in records if isinstance(one, Fault)] == [
        "the press is read without it",
        'encoding = "..." sets another',
        "the press is read without it",
    ]


# Silence, restarts, new days


def test_a_press_that_was_switched_off_runs_its_job_again_and_nothing_is_lost_unsaid(
    press: FolderPress, clock: HandClock
) -> None:
    collector = opened(press, clock)
    for counter in (7, 8):
        shot(press, counter)
        polled(collector)
    press.restart()
    shot(press, 9)
    clock.advance(31.0)
    records = polled(collector)
    assert kinds(records) == ["job"]
    assert press.asked[-2:] == ["CONNECT", 'REPORT S01R0001 APPEND "S01R0001.DAT"']
    shot(press, 10)
    records = polled(collector)
    assert numbers(records) == [10]
    assert [(one.first, one.last) for one in records if isinstance(one, Gap)] == [(9, 9)]


def test_a_press_that_only_stands_is_asked_and_goes_on(press: FolderPress, clock: HandClock) -> None:
    collector = opened(press, clock)
    for counter in range(7, 10):
        shot(press, counter)
        for _ in range(8):
            assert kinds(polled(collector, 1)) == []
            clock.advance(31.0)
    assert press.asked.count("CONNECT") > 10
    assert list(press.jobs) == ["S01R0001"]
    shot(press, 10)
    assert numbers(polled(collector)) == [10]


def test_a_press_that_falls_silent_is_out_of_reach_and_its_shots_are_caught_up(
    press: FolderPress, clock: HandClock
) -> None:
    collector = opened(press, clock)
    shot(press, 7)
    records = polled(collector)
    press.silent = True
    clock.advance(31.0)
    with pytest.raises(PressUnreachable, match="did not answer CONNECT"):
        collector.poll()
    collector.close()
    press.silent = False
    shot(press, 8)
    shot(press, 9)
    collector.open()
    records += polled(collector)
    assert numbers(records) == [7, 8, 9]
    assert kinds(records) == []


@pytest.mark.parametrize("counter", ["ActCntCyc", "COUNT"])
def test_no_poll_takes_longer_than_an_answer_may_of_a_press_that_is_slow(
    press: FolderPress, clock: HandClock, counter: str
) -> None:
    press.logs = False
    looked_at = [0.0]

    def pause(seconds: float) -> None:
        clock.advance(seconds)
        if clock.monotonic() - looked_at[0] >= 8.0:
            looked_at[0] = clock.monotonic()
            press.look(seconds)

    keys = press.keys(UNITS) | with_set_points(shot_counter={"token": counter})
    press.lists["GETID"] = ""
    collector = replace(checked(keys), pause=pause).build("P25", clock, None)  # type: ignore[type-var]
    collector.open()
    took = []
    for away_s in (0.0, 31.0, 86_400.0):
        clock.advance(away_s)
        for _ in range(8):
            began = clock.monotonic()
            collector.poll()
            took.append(clock.monotonic() - began)
            clock.advance(1.0)
    assert max(took) <= 11.0, "an answer, and what was asked within a second before"
    assert list(press.jobs) == ["S01R0002"]
    assert press.events == ["S01E0002"]
    assert press.asked.count("CONNECT") > 1


def test_a_new_day_is_a_new_report_and_the_one_before_is_read_to_its_end(press: FolderPress, clock: HandClock) -> None:
    collector = opened(press, clock)
    shot(press, 7)
    records = polled(collector)
    clock.advance(86_400.0)
    press.date = "20260106"
    shot(press, 8)
    records += polled(collector, 2)  # the new one is ordered, and shot 8 stands in the old
    assert sorted(press.jobs) == ["S01R0001", "S01R0002"]
    shot(press, 9)  # in both
    records += polled(collector)
    assert list(press.jobs) == ["S01R0002"]
    shot(press, 10)
    records += polled(collector)
    assert numbers(records) == [7, 8, 9, 10]
    assert not any(isinstance(one, Fault | Gap) for one in records)
    assert not (press.folder / "S01R0001.JOB").exists()
    assert (press.folder / "S01R0001.DAT").exists()


def test_a_press_that_gives_one_report_gets_its_next_once_the_first_is_ended(
    press: FolderPress, clock: HandClock
) -> None:
    collector = opened(press, clock)
    shot(press, 7)
    records = polled(collector)
    clock.advance(86_400.0)
    run = press._run

    def one_only(file: Path) -> str:
        is_new = file.stem.startswith("S01R") and file.stem not in press.jobs and press.jobs
        press.refuse = {"REPORT": 'ERROR 06 00000007 "too many";'} if is_new else {}
        return run(file)

    press._run = one_only  # type: ignore[method-assign]
    records += polled(collector)
    shot(press, 8)
    records += polled(collector)
    assert numbers(records) == [7, 8]
    assert list(press.jobs) == ["S01R0002"]


def test_a_restart_of_ours_reads_what_was_made_meanwhile_and_names_nothing_twice(
    press: FolderPress, clock: HandClock
) -> None:
    before = opened(press, clock)
    press.time = "07:00:00"
    shot(press, 7)
    records = polled(before)
    logged = records[-1]
    assert isinstance(logged, Shot)
    before.close()
    for n, counter in enumerate((8, 9, 10)):
        press.time = f"07:0{n + 1}:00"
        shot(press, counter)
    clock.advance(900.0)
    resume = Resume(1007, 7, logged.values, logged.time, 60.0)
    after = chosen(press).build("P25", clock, resume)
    after.open()
    press.time = "07:15:00"
    shot(press, 11)
    found = [one for one in polled(after, 6) if isinstance(one, Shot)]
    assert [one.shot for one in found] == [1008, 1009, 1010, 1011]
    assert [(one.time - logged.time) / timedelta(minutes=1) for one in found] == [1.0, 2.0, 3.0, 15.0]
    assert list(press.jobs) == ["S01R0002"]
    assert (press.folder / "S01R0001.DAT").exists()


def test_a_report_that_is_being_written_whole_at_our_start_is_looked_at_again(
    press: FolderPress, clock: HandClock
) -> None:
    before = opened(press, clock)
    shot(press, 7)
    logged = polled(before)[-1]
    before.close()
    shot(press, 8)
    file = press.folder / "S01R0001.DAT"
    whole = file.read_bytes()

    def pause(seconds: float) -> None:
        press.look(seconds)
        if len(press.jobs) == 2:  # the new report is ordered, and the old one is whole again
            file.write_bytes(whole)

    keys = press.keys(UNITS)
    after = replace(checked(keys), pause=pause).build(  # type: ignore[type-var]
        "P25", clock, Resume(7, 7, logged.values, logged.time, 60.0)
    )
    after.open()
    file.write_bytes(whole[:50])
    records = polled(after)
    assert numbers(records) == [8]
    assert kinds(records) == []


def test_a_report_of_ours_that_lost_its_header_is_caught_up_with_by_what_was_asked_for(
    press: FolderPress, clock: HandClock
) -> None:
    before = opened(press, clock)
    shot(press, 7)
    logged = polled(before)[-1]
    before.close()
    file = press.folder / "S01R0001.DAT"
    file.write_text(file.read_text().partition("\n")[2])
    shot(press, 8)
    after = chosen(press).build("P25", clock, Resume(7, 7, logged.values, logged.time, 60.0))
    after.open()
    records = polled(after)
    shot(press, 9)
    records += polled(after)
    assert numbers(records) == [8, 9]
    assert kinds(records) == []


@pytest.mark.parametrize(
    ("away", "after", "numbered"),
    [
        ((6, 7, 1, 2, 3), range(4, 10), range(6, 17)),
        ((6, 7, 8), range(1, 5), range(6, 13)),
        ((), range(1, 4), range(6, 9)),
    ],
)
def test_a_count_that_began_anew_around_a_stop_of_ours_loses_nothing(
    press: FolderPress, clock: HandClock, away: tuple[int, ...], after: range, numbered: range
) -> None:
    made = iter(range(1000))

    def make(counter: int) -> None:
        press.show(counter, {"cushion": 5.0 + next(made) / 64, "fill_time": 0.75})

    before = opened(press, clock)
    records: list[Any] = []
    for counter in range(1, 6):
        make(counter)
        records += polled(before)
    logged = records[-1]
    before.close()
    for counter in away:
        make(counter)
    collector = chosen(press).build("P25", clock, Resume(5, 5, logged.values, logged.time, 1.0))
    collector.open()
    found: list[Any] = polled(collector, 6)
    for counter in after:
        make(counter)
        found += polled(collector)
    assert numbers(found) == [*numbered]
    assert not any(isinstance(one, Gap) for one in found)


def test_a_count_that_is_of_the_report_never_runs_twice(press: FolderPress, clock: HandClock) -> None:
    collector = opened(press, clock, shot_counter={"token": "COUNT"})
    shot(press, 1)
    shot(press, 2)
    records = polled(collector)
    clock.advance(86_400.0)
    press.date = "20260106"
    records += polled(collector)
    shot(press, 1)
    records += polled(collector)
    assert numbers(records) == [1, 2, 3]
    assert not any(isinstance(one, Gap) for one in records)


def test_a_report_that_somebody_deleted_is_ordered_anew(press: FolderPress, clock: HandClock) -> None:
    collector = opened(press, clock)
    shot(press, 7)
    records = polled(collector)
    (press.folder / "S01R0001.DAT").unlink()
    records += polled(collector, 6)
    shot(press, 8)
    records += polled(collector, 6)
    assert numbers(records) == [7, 8]


def test_a_report_of_a_new_day_that_somebody_deleted_is_ordered_anew(press: FolderPress, clock: HandClock) -> None:
    collector = opened(press, clock)
    shot(press, 7)
    records = polled(collector)
    clock.advance(86_400.0)
    records += polled(collector)
    (press.folder / "S01R0002.DAT").unlink()  # no shot stands there yet: the one before is followed still
    records += polled(collector, 6)
    shot(press, 8)
    records += polled(collector)
    assert "S01R0003" in press.jobs
    assert numbers(records) == [7, 8]


def test_old_reports_of_ours_are_deleted_in_the_end_and_those_of_others_stay(
    press: FolderPress, clock: HandClock
) -> None:
    others = ["SHOTS01.DAT", "S02R0001.DAT", "OTHER.JOB"]
    for name in [f"S01R{n:04d}.DAT" for n in range(1, 21)] + others:
        (press.folder / name).write_text("H\r\n")
    opened(press, clock)
    left = {one.name for one in press.folder.iterdir()}
    assert left >= set(others)
    assert "S01R0005.DAT" not in left
    assert {"S01R0008.DAT", "S01R0020.DAT", "S01R0021.DAT"} <= left


def test_a_press_that_refuses_the_report_of_a_new_day_is_read_by_that_of_yesterday(
    press: FolderPress, clock: HandClock
) -> None:
    collector = opened(press, clock)
    press.refuse["REPORT"] = 'ERROR 06 00000004 "disk full";'
    clock.advance(86_400.0)
    press.date = "20260106"
    records = []
    for counter in (7, 8, 9):
        shot(press, counter)
        records += polled(collector)
    assert numbers(records) == [7, 8, 9]
    assert [one.detail.split("; ")[-1] for one in records if isinstance(one, Fault)] == [
        "the report of yesterday is followed on, and another is ordered in an hour"
    ]
    assert sorted({one.name[:8] for one in press.folder.glob("S01R*")}) == ["S01R0001"]


def test_a_press_that_never_says_that_a_job_runs_is_not_given_it_over_and_over(
    press: FolderPress, clock: HandClock
) -> None:
    collector = opened(press, clock)
    shot(press, 7)
    records = polled(collector)
    for _ in range(20):
        press.restart()  # so that it takes the job each time as if it had not run
        press.jobs["S01R0001"] = ["DATE", "TIME", "ActCntCyc", "Act0[1,0]", "Act1[1,1]"]
        run, press.jobs = press.jobs, {}
        clock.advance(31.0)
        records += polled(collector, 1)
        press.jobs = run
    assert kinds(records) == ["job", "job"]
    assert press.asked.count("CONNECT") > 20


def test_a_line_that_was_damaged_and_is_whole_when_read_over_comes_too_late(
    press: FolderPress, clock: HandClock
) -> None:
    collector = opened(press, clock)
    records = []
    for counter in (7, 8, 9):
        shot(press, counter)
        records += polled(collector)
    file = press.folder / "S01R0001.DAT"
    whole = file.read_text()
    lines = whole.splitlines(keepends=True)
    file.write_text("".join([*lines[:2], "8,half\r\n", *lines[3:]]), newline="")
    records += polled(collector)
    file.write_text(whole, newline="")
    records += polled(collector)
    shot(press, 10)
    records += polled(collector)
    assert numbers(records) == [7, 8, 9, 10]
    assert set(kinds(records)) <= {"field count"}


# Set-points


def with_set_points(**more: Any) -> dict[str, Any]:
    return {"setpoints": {"hold": {"token": "SetPrsHldSpec[1]"}, "resin": {"token": "SetDescMat", "text": True}}} | more


def test_set_points_are_read_with_each_shot(press: FolderPress, clock: HandClock) -> None:
    press.lists["GETID"] = 'SetPrsHldSpec[1],N,8,1,1,"bar","Hold";\r\nSetDescMat,A,20,0,1,"","Resin";'
    collector = opened(press, clock, **with_set_points())
    shot(press, 7, **{"SetPrsHldSpec[1]": "540.0", "SetDescMat": '"PA 6"'})
    (taken,) = (one for one in polled(collector) if isinstance(one, Shot))
    assert taken.set_points == {"hold": SetPoint(540.0, "bar"), "resin": SetPoint("PA 6")}
    assert press.events == ["S01E0001"]


def test_a_set_point_that_the_press_does_not_list_costs_no_shot(press: FolderPress, clock: HandClock) -> None:
    press.lists["GETID"] = (
        'Act0[1,0],N,8,4,0,"mm","C";\r\nAct1[1,1],N,8,4,0,"s","F";\r\nSetDescMat,A,20,0,1,"","Resin";'
    )
    collector = chosen(press, **with_set_points()).build("P25", clock, None)
    collector.open()
    shot(press, 7, SetDescMat='"PA 6"')
    records = polled(collector)
    assert [one.set_points for one in records if isinstance(one, Shot)] == [{"resin": SetPoint("PA 6")}]
    assert [one.detail for one in records if isinstance(one, Fault)] == [
        "set-point hold: the press does not list (GETID) SetPrsHldSpec[1]; the report goes without it"
    ]
    assert "SetPrsHldSpec[1]" not in press.jobs["S01R0001"]


def test_a_change_that_the_press_tells_is_a_record_under_the_name_of_the_configuration(
    press: FolderPress, clock: HandClock
) -> None:
    press.lists["GETID"] = 'SetPrsHldSpec[1],N,8,1,1,"bar","Hold";'
    collector = opened(press, clock, **with_set_points())
    shot(press, 7)
    polled(collector)
    press.change('1,20260105,06:00:00,7,SetPrsHldSpec[1],540,560.5,"R. K."')
    press.change('2,20260105,06:00:00,7,SetVelInj[1],?,30,""')
    press.change("3,2026")
    records = polled(collector)
    assert [one for one in records if isinstance(one, SetPointChange)] == [
        SetPointChange("P25", 8, clock.now(), "hold", 540.0, 560.5, "bar", "R. K."),
        SetPointChange("P25", 8, clock.now(), "SetVelInj[1]", None, 30.0, "", ""),
    ]
    assert [one.raw for one in records if isinstance(one, Fault)] == [b"3,2026"]


def test_a_file_of_changes_that_is_written_anew_tells_nothing_twice(press: FolderPress, clock: HandClock) -> None:
    collector = opened(press, clock, **with_set_points())
    shot(press, 7)
    polled(collector)
    press.change('1,20260105,06:00:00,7,SetPrsHldSpec[1],540,560,"R. K."')
    press.change('2,20260105,06:00:30,7,SetPrsHldSpec[1],560,550,"R. K."')
    press.change("3,2026")
    first = polled(collector)
    file = press.folder / "S01E0001.DAT"
    whole = file.read_bytes()
    file.write_bytes(whole[:20])
    again = polled(collector)
    file.write_bytes(whole)
    press.change('4,20260105,06:01:00,7,SetPrsHldSpec[1],550,560,"R. K."')
    again += polled(collector)
    assert [one.new for one in first if isinstance(one, SetPointChange)] == [560.0, 550.0]
    assert [one.new for one in again if isinstance(one, SetPointChange)] == [560.0]
    assert kinds(again) == []


def test_what_a_press_told_while_the_logger_was_stopped_is_read_at_the_next_start(
    press: FolderPress, clock: HandClock
) -> None:
    before = opened(press, clock, **with_set_points())
    press.change('1,20260105,05:59:00,7,SetVelInj[1],20,30,"R. K."')
    shot(press, 7)
    logged = polled(before)[-2]
    assert isinstance(logged, Shot)
    before.close()
    shot(press, 8)
    press.change('2,20260105,06:00:30,8,SetVelInj[1],30,35,"S. T."')
    shot(press, 9)
    resume = Resume(1007, 7, logged.values, logged.time, 60.0)
    after = chosen(press, **with_set_points()).build("P25", clock, resume)
    after.open()
    records = polled(after)
    press.change('3,20260105,06:01:00,9,SetVelInj[1],35,40,"S. T."')
    records += polled(after)
    told = [(one.shot, one.new, one.by) for one in records if isinstance(one, SetPointChange)]
    assert told == [(1009, 35.0, "S. T."), (1010, 40.0, "S. T.")]


def test_a_press_that_tells_of_no_changes_is_read_all_the_same(press: FolderPress, clock: HandClock) -> None:
    press.refuse["EVENT"] = 'ERROR 06 00000001 "unknown";'
    collector = chosen(press, **with_set_points()).build("P25", clock, None)
    collector.open()
    shot(press, 7)
    records = polled(collector)
    assert numbers(records) == [7]
    assert "set-point changes" in kinds(records)


# The passive way


def passive(press: FolderPress, **more: Any) -> dict[str, Any]:
    keys = press.keys(UNITS) | {"passive": True, "report": "SHOTS.DAT"} | more
    press.write("SHOTS.DAT", "DATE,TIME,ActCntCyc,Act0[1,0],Act1[1,1]")
    press.jobs["SHOTS"] = ["DATE", "TIME", "ActCntCyc", "Act0[1,0]", "Act1[1,1]"]
    return keys


@pytest.fixture
def unwritable(press: FolderPress) -> Iterator[Path]:
    """The folder, in which nothing can be written; of whoever may all the same, what lies there tells."""
    yield press.folder
    press.folder.chmod(stat.S_IRWXU)


def test_the_passive_way_writes_nothing_at_all(press: FolderPress, clock: HandClock, unwritable: Path) -> None:
    collector = checked(passive(press)).build("P25", clock, None)
    before = {one.name: one.read_bytes() for one in unwritable.iterdir()}
    unwritable.chmod(stat.S_IRUSR | stat.S_IXUSR)
    collector.open()
    polled(collector)
    clock.advance(3600.0)
    polled(collector)
    unwritable.chmod(stat.S_IRWXU)
    shot(press, 7)
    unwritable.chmod(stat.S_IRUSR | stat.S_IXUSR)
    assert numbers(polled(collector)) == [7]
    collector.probe()
    collector.close()
    after = {one.name: one.read_bytes() for one in unwritable.iterdir()}
    assert after.keys() == before.keys()
    assert press.asked == []


def test_the_passive_way_goes_on_where_the_log_stands(press: FolderPress, clock: HandClock) -> None:
    keys = passive(press)
    for n, counter in enumerate(range(5, 10)):
        press.time = f"06:0{n}:00"
        shot(press, counter)
    values = {"cushion": 5.0 + 7 / 64, "fill_time": 0.75}
    clock.advance(300.0)
    resume = Resume(107, 7, values, clock.now() - timedelta(minutes=3), 60.0)
    collector = checked(keys).build("P25", clock, resume)
    collector.open()
    found = [one for one in polled(collector) if isinstance(one, Shot)]
    assert [one.shot for one in found] == [108, 109]
    assert [(clock.now() - one.time) / timedelta(minutes=1) for one in found] == [2.0, 1.0]


def test_what_lay_there_at_first_contact_is_of_before(press: FolderPress, clock: HandClock) -> None:
    keys = passive(press)
    shot(press, 5)
    collector = checked(keys).build("P25", clock, None)
    collector.open()
    assert polled(collector) == []
    shot(press, 6)
    assert numbers(polled(collector)) == [6]


def test_a_new_file_of_a_pattern_is_followed_once_the_one_before_is_read(press: FolderPress, clock: HandClock) -> None:
    collector = checked(passive(press, report="SHOTS*.DAT")).build("P25", clock, None)
    collector.open()
    shot(press, 7)
    records = polled(collector)
    tokens = press.jobs.pop("SHOTS")
    press.write("shots2.dat", ",".join(tokens))
    press.jobs["shots2"] = tokens
    (press.folder / "shots2.DAT").unlink(missing_ok=True)
    (press.folder / "shots2.dat").rename(press.folder / "shots2.DAT")
    shot(press, 8)
    clock.advance(11.0)
    records += polled(collector, 6)
    shot(press, 9)
    records += polled(collector)
    assert numbers(records) == [7, 8, 9]
    assert kinds(records) == []


def test_a_report_without_names_is_said_and_read_by_those_that_are_given(press: FolderPress, clock: HandClock) -> None:
    keys = passive(press)
    (press.folder / "SHOTS.DAT").write_text("")
    collector = checked(keys).build("P25", clock, None)
    collector.open()
    shot(press, 7)
    assert [one.detail.partition(": ")[0] for one in polled(collector)] == ["came before any line of names"]
    collector = checked(keys | {"header": "DATE,TIME,ActCntCyc,Act0[1,0],Act1[1,1]"}).build("P25", clock, None)
    collector.open()
    shot(press, 8)
    assert numbers(polled(collector)) == [8]


def test_lines_of_an_earlier_count_are_not_taken_for_what_came_after(press: FolderPress, clock: HandClock) -> None:
    """The report that has the last shot of the log is gone, and an older one has counts beyond it."""
    keys = passive(press, report="SHOTS*.DAT")
    for counter in range(1, 13):
        shot(press, counter)
    os.utime(press.folder / "SHOTS.DAT", (1.0, 1.0))
    values = {"cushion": 9.0, "fill_time": 0.75}
    for resume in (Resume(15, 3, values, clock.now(), 60.0), Resume(15, 20, values, None, 60.0)):
        collector = press.wired(checked(keys)).build("P25", clock, resume)
        collector.open()
        assert numbers(polled(collector)) == []


def test_a_report_that_is_not_there_is_said(press: FolderPress, clock: HandClock) -> None:
    keys = passive(press)
    (press.folder / "SHOTS.DAT").unlink()
    with pytest.raises(PressUnreachable, match=r"no report SHOTS.DAT lies in .*: look whether it is ordered"):
        checked(keys).build("P25", clock, None).open()


def test_a_report_without_the_counter_is_refused_with_what_it_has(press: FolderPress, clock: HandClock) -> None:
    keys = passive(press) | {"shot_counter": {"token": "ActCntMachAdd"}}
    collector = checked(keys).build("P25", clock, None)
    collector.open()
    shot(press, 7)
    with pytest.raises(PressRefused, match=r"no ActCntMachAdd, given as shot_counter; it has: date, time, actcntcyc"):
        polled(collector)


def test_a_report_rewritten_at_each_shot_is_followed(press: FolderPress, clock: HandClock) -> None:
    keys = passive(press, mode="rewrite")
    shot(press, 6)  # of before anybody looked
    collector = checked(keys).build("P25", clock, None)
    collector.open()
    records = polled(collector)
    assert records == []
    for counter in (7, 8):
        (press.folder / "SHOTS.DAT").unlink()
        press.write("SHOTS.DAT", ",".join(press.jobs["SHOTS"]))
        shot(press, counter)
        records += polled(collector)
    assert numbers(records) == [7, 8]
    assert kinds(records) == []


def test_what_a_rewritten_report_shows_at_a_start_is_taken_where_the_log_has_it_not(
    press: FolderPress, clock: HandClock
) -> None:
    keys = passive(press, mode="rewrite")
    shot(press, 8)
    values = {"cushion": 5.0 + 8 / 64, "fill_time": 0.75}
    for counter, new in ((8, []), (7, [8])):
        collector = checked(keys).build("P25", clock, Resume(counter, counter, values if counter == 8 else {}))
        collector.open()
        records = polled(collector)
        assert numbers(records) == new
        assert kinds(records) == []


# Probe, check


def test_a_probe_proposes_usual_tokens_and_leaves_the_reports_of_a_logger_alone(
    press: FolderPress, clock: HandClock
) -> None:
    press.lists["GETID"] = 'ActTimCyc,N,8,4,0,"s","Cycle";\r\nActPrsMachSpecMax,N,8,1,0,"","Peak";'
    logging = opened(press, clock)
    probing = chosen(press).build("P25", clock, None)
    probing.open()
    shot(press, 7)
    rows = probing.probe()
    probing.close()
    remarks = [row.remark for row in rows]
    assert 'proposed: cycle_time = { token = "ActTimCyc" } (Cycle, in s)' in remarks
    assert 'proposed: peak_pressure = { token = "ActPrsMachSpecMax", unit = "?" } (Peak, without a unit)' in remarks
    assert list(press.jobs) == ["S01R0001"]
    assert not [one for one in press.folder.iterdir() if "0002" in one.name]
    assert numbers(polled(logging)) == [7]


def test_a_probe_of_a_press_that_makes_no_shot_says_so(press: FolderPress, clock: HandClock) -> None:
    collector = chosen(press, probe_s=1.0).build("P25", clock, None)
    collector.open()
    assert collector.probe()[0].remark.startswith("no shot was written in 1 s: does the press make shots")
    collector.close()


@pytest.mark.parametrize(
    ("keys", "key"),
    [
        ({"passive": True}, "report"),
        ({"passive": True, "report": "../SHOTS.DAT"}, "report"),
        ({"session": 100}, "session"),
        ({"shot_counter": {"token": "ActCntCyc; SET X"}}, "shot_counter.token"),
        ({"channels": {}}, "channels"),
        ({"channels": {"cushion": {"token": "A B;"}}}, "channels.cushion.token"),
        ({"channels": {"cushion": {"token": "A"}, "fill_time": {"token": "a"}}}, "channels.fill_time.token"),
        ({"encoding": "cp-none"}, "encoding"),
    ],
)
def test_a_key_that_is_wrong_is_named(press: FolderPress, keys: dict[str, Any], key: str) -> None:
    with pytest.raises(SettingsError) as caught:
        checked(press.keys(UNITS) | keys)
    assert caught.value.key == f"press[1].collector.{key}"


def test_the_passive_way_says_that_it_wants_a_report(press: FolderPress) -> None:
    with pytest.raises(
        SettingsError, match=r"report: given nothing, allowed: with passive = true the name of the report"
    ):
        checked(press.keys(UNITS) | {"passive": True})


def test_in_the_passive_way_each_channel_wants_its_unit(press: FolderPress) -> None:
    with pytest.raises(SettingsError) as caught:
        checked(without_units(press) | {"passive": True, "report": "SHOTS.DAT"})
    assert caught.value.key == "press[1].collector.channels.cushion.unit"


def test_check_says_what_is_written_and_what_is_not(press: FolderPress) -> None:
    said = "\n".join(checked(press.keys(UNITS)).describe())
    assert "CONNECT, EXECUTE, GETINFO, GETID, REPORT, EVENT, ABORT" in said
    assert "ABORT of its own jobs only" in said
    assert "writes nothing" in "\n".join(checked(passive(press)).describe())


def test_a_folder_that_is_not_there_is_said_by_check_and_by_the_link(press: FolderPress, clock: HandClock) -> None:
    away = checked(press.keys(UNITS) | {"folder": str(press.folder / "none")})
    assert any("is not there now" in line for line in away.describe())
    with pytest.raises(PressUnreachable, match=r"none cannot be used: .*look whether the share is there"):
        away.build("P25", clock, None).open()
