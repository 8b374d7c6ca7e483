"""What a press is set to: kept where it changes, and made a set-up entry, once, whoever tells of it first."""

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from shotlog.errors import StoreDamaged
from shotlog.records import Event, Link, SetPoint, SetPointChange, Shot, Start
from shotlog.store.asked.entries_made import entries_made
from shotlog.store.asked.set_points import set_points_at
from shotlog.store.inserts.entries import note
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.signed import PROGRAM
from shotlog.store.undo import take_back
from shotlog.wording.entries import made_said

T0 = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
HOLD = {"scale": 0.1, "unit": "bar", "address": 40}


@pytest.fixture
def log(log: Log) -> Log:
    """A log of a logger that reads two set-points."""
    log.signature = PROGRAM
    begin(log)
    return log


def begin(log: Log, **maps: Mapping[str, object]) -> None:
    """Start the recorder with these set-points in its configuration."""
    read = {f"set-point {name}": own for name, own in ({"hold": HOLD, "cooling": {"unit": "s"}} | maps).items()}
    log.append([Start(T0, "1", "b", "", "d", json.dumps({"p": read}), "host", "1")])


def shot(n: int, /, **set_points: float | str | SetPoint) -> Shot:
    units = {"hold": "bar", "cooling": "s"}
    said = {
        name: one if isinstance(one, SetPoint) else SetPoint(one, units.get(name, ""))
        for name, one in set_points.items()
    }
    return Shot("p", n, n, T0 + timedelta(minutes=n), {"cushion": 4.9}, set_points=said)


def told(n: int, name: str, old: float | None, new: float, by: str = "K") -> SetPointChange:
    return SetPointChange("p", n, T0 + timedelta(minutes=n), name, old, new, "bar" if name == "hold" else "s", by)


def entries(log: Log) -> list[tuple[int, str]]:
    return [(each.at_shot, each.text) for each in log.timeline("p").events if each.kind == "setup"]


def rows(log: Log, name: str = "hold") -> list[tuple[int, str, str | None]]:
    table = schema.set_points
    with log.reading() as connection:
        found = connection.execute(table.select().where(table.c.name == name).order_by(table.c.id)).mappings()
        return [(row["shot"], row["value"], row["old"]) for row in found]


def faults(log: Log) -> list[tuple[int | None, str, str]]:
    with log.reading() as connection:
        found = connection.execute(schema.faults.select().order_by(schema.faults.c.id)).mappings()
        return [(row["shot"], row["kind"], row["detail"]) for row in found]


def test_only_what_changed_is_kept_and_the_first_reading_is_no_entry(log: Log) -> None:
    for n in range(1, 6):
        log.append([shot(n, hold=350.0, cooling=45.0)])
    assert rows(log) == [(1, "350", None)]
    assert entries(log) == []


def test_a_change_is_an_entry_by_the_logger_at_the_first_shot_made_with_it(log: Log) -> None:
    log.append([shot(1, hold=350.0, cooling=45.0), shot(2, hold=350.0, cooling=45.0)])
    made = log.append([shot(3, hold=360.0, cooling=45.0)])
    assert entries(log) == [(3, "hold 350 -> 360 bar")]
    assert made == [Event("p", 3, "setup", "hold 350 -> 360 bar", T0 + timedelta(minutes=3))]
    assert rows(log) == [(1, "350", None), (3, "360", "350")]
    (entry,) = entries_made(log, "p")
    assert entry.who.is_program


def test_all_that_changed_at_a_shot_is_one_entry(log: Log) -> None:
    log.append([shot(1, hold=350.0, cooling=45.0, program="pawl 7"), shot(2, hold=360.5, cooling=50.0, program="x;y")])
    assert entries(log) == [(2, "hold 350 -> 360.5 bar, cooling 45 -> 50 s, program pawl 7 -> x;y")]


@pytest.mark.parametrize("one_batch", [False, True])
def test_over_a_gap_it_is_said_between_which_shots(log: Log, one_batch: bool) -> None:
    shots = [shot(118, hold=350.0), shot(125, hold=360.0, cooling=45.0)]
    for batch in [shots] if one_batch else [shots[:1], shots[1:]]:
        log.append(batch)
    assert entries(log) == [(125, "hold 350 -> 360 bar (between shots 118 and 125)")]


@pytest.mark.parametrize("state", ["lost", "stopped"])
def test_after_an_outage_or_a_restart_it_is_said_between_which_shots(log: Log, state: str) -> None:
    log.append([shot(7, hold=350.0, cooling=45.0), Link("p", T0 + timedelta(minutes=7, seconds=5), state, "")])
    begin(log)
    log.append([Link("p", T0 + timedelta(minutes=7, seconds=9), "connected", ""), shot(8, hold=360.0, cooling=45.0)])
    assert entries(log) == [(8, "hold 350 -> 360 bar (between shots 7 and 8)")]


def test_what_could_not_be_read_is_no_change_and_widens_between_which_shots(log: Log) -> None:
    for n in range(1, 4):
        log.append([shot(n, hold=350.0, cooling=45.0)])
    for n in range(4, 7):
        log.append([shot(n, cooling=45.0)])
    log.append([shot(7, hold=360.0, cooling=45.0)])
    assert rows(log) == [(1, "350", None), (4, "", None), (7, "360", "350")]
    assert entries(log) == [(7, "hold 350 -> 360 bar (between shots 3 and 7)")]


def test_what_comes_back_as_it_was_is_no_change(log: Log) -> None:
    log.append([shot(1, hold=350.0), shot(2), shot(3, hold=350.0), shot(4, hold=350.0)])
    assert rows(log) == [(1, "350", None), (2, "", None), (3, "350", None)]
    assert entries(log) == []


def test_read_otherwise_is_no_change_of_the_press(log: Log) -> None:
    """A wrong scale was corrected, at first without a change of the value, then with one."""
    log.append([shot(1, hold=350.0)])
    begin(log, hold=HOLD | {"scale": 1.0})
    log.append([shot(2, hold=3500.0), shot(3, hold=3600.0)])
    assert rows(log) == [(1, "350", None), (2, "3500", None), (3, "3600", "3500")]
    assert entries(log) == [(3, "hold 3500 -> 3600 bar")]
    begin(log, hold=HOLD | {"address": 41})
    log.append([shot(4, hold=3600.0), shot(5, hold=3700.0)])
    assert entries(log)[1:] == [(5, "hold 3600 -> 3700 bar")]


def test_another_unit_is_no_change_of_the_press(log: Log) -> None:
    log.append([shot(1, hold=350.0), shot(2, hold=SetPoint(35.0, "MPa"))])
    assert entries(log) == []
    assert rows(log) == [(1, "350", None), (2, "35", None)]


def test_a_restart_with_the_same_map_says_nothing_of_what_stands(log: Log) -> None:
    log.append([shot(1, hold=350.0)])
    begin(log)
    log.append([shot(2, hold=350.0)])
    assert rows(log) == [(1, "350", None)]


def test_told_ahead_of_the_shot_and_read_with_it_is_one_entry_with_who(log: Log) -> None:
    log.append([shot(1, hold=350.0, cooling=45.0)])
    log.append([told(2, "hold", 350.0, 360.0)])
    log.append([told(2, "cooling", 45.0, 50.0)])
    assert entries(log) == []
    log.append([shot(2, hold=360.0, cooling=50.0), shot(3, hold=360.0, cooling=50.0)])
    assert entries(log) == [(2, "hold 350 -> 360 bar, cooling 45 -> 50 s (by K at the press)")]


@pytest.mark.parametrize("counted", [1, 2, 3])
@pytest.mark.either
def test_read_with_the_shot_and_told_afterwards_is_one_entry(log: Log, counted: int) -> None:
    """The press counts the change one before, at, or one after the first shot that was made with it."""
    log.append([shot(1, hold=350.0), shot(2, hold=360.0), shot(3, hold=360.0)])
    log.append([told(counted, "hold", 350.0, 360.0)])
    assert entries(log) == [(2, "hold 350 -> 360 bar")]
    assert rows(log)[1:] == [(2, "360", "350"), (2, "360", "350")]  # the second says who
    log.append([shot(4, hold=360.0), told(counted, "hold", 350.0, 360.0)])
    assert len(rows(log)) == 3
    (entry,) = entries_made(log, "p")
    assert made_said(entry) == "p, shot 2, set-up: hold 350 -> 360 bar, by K at the press"
    assert [(one.since, one.by) for one in set_points_at(log, "p") if one.name == "hold"] == [(2, "K")]


def test_told_of_the_shot_before_the_one_that_is_read_with_it_is_one_entry(log: Log) -> None:
    log.append([shot(1, hold=350.0)])
    log.append([told(1, "hold", 350.0, 360.0)])
    assert entries(log) == []
    log.append([shot(2, hold=360.0)])
    assert entries(log) == [(2, "hold 350 -> 360 bar (by K at the press)")]
    (entry,) = entries_made(log, "p")
    assert made_said(entry) == "p, shot 2, set-up: hold 350 -> 360 bar (by K at the press)"


def test_told_over_a_gap_it_is_entered_at_the_shot_that_the_press_names(log: Log) -> None:
    log.append([shot(1, hold=350.0), told(5, "hold", 350.0, 360.0)])
    log.append([shot(9, hold=360.0)])
    assert entries(log) == [(5, "hold 350 -> 360 bar (by K at the press)")]


def test_set_and_set_back_between_two_shots_is_no_entry(log: Log) -> None:
    log.append([shot(1, hold=350.0), told(2, "hold", 350.0, 360.0), told(2, "hold", 360.0, 350.0)])
    log.append([shot(2, hold=350.0)])
    assert entries(log) == []


def test_what_is_told_and_not_read_with_shots_is_entered_with_the_next_or_late(log: Log) -> None:
    log.append([told(3, "SetTmp", 290.0, 295.0), shot(3), shot(4)])
    assert entries(log) == []  # no shot was made before it
    log.append([told(5, "SetTmp", 295.0, 300.0), told(5, "SetDose", 27.0, 26.0)])
    log.append([shot(5)])
    assert entries(log) == [(5, "SetTmp 295 -> 300 s, SetDose 27 -> 26 s (by K at the press)")]
    log.append([shot(6), shot(7), told(6, "SetTmp", 300.0, 310.0), told(6, "SetDose", 26.0, 25.0)])
    assert entries(log)[1:] == [(6, "SetTmp 300 -> 310 s, SetDose 26 -> 25 s (by K at the press)")]


def test_an_entry_that_is_taken_back_stays_taken_back(log: Log) -> None:
    log.append([shot(1, hold=350.0), shot(2, hold=360.0)])
    (entry,) = entries_made(log, "p")
    take_back(log, "events", entry.number, T0, "it was set back before the shot", "KB")
    log.append([shot(3, hold=360.0), told(2, "hold", 350.0, 360.0)])
    begin(log)
    log.append([shot(4, hold=360.0)])
    assert entries(log) == []


def test_beside_what_a_person_entered_it_is_an_entry_of_its_own(log: Log) -> None:
    log.append([shot(1, hold=350.0)])
    note(log, "p", "setup", "hold up by 10", T0, initials="KB")
    log.append([shot(2, hold=360.0)])
    assert entries(log) == [(2, "hold up by 10"), (2, "hold 350 -> 360 bar")]


def test_what_changes_with_every_shot_is_said_once_and_made_entries_of_no_longer(log: Log) -> None:
    log.append([shot(n, hold=350.0 + n) for n in range(1, 41)])
    assert [at for at, _ in entries(log)] == [2, 3, 4, 5, 6]
    ((at, kind, detail),) = faults(log)
    assert (at, kind) == (7, "set-point hold keeps changing")
    assert detail == (
        "set-point hold changed 6 times within 20 shots: it is taken for a measured value, and no set-up entry is made "
        "of it until it has stood still for 20 shots; see what stands where it is read"
    )


@pytest.mark.either
def test_what_stands_still_again_is_entered_at_the_shot_from_which_it_stands(log: Log) -> None:
    log.append([shot(n, hold=350.0 + min(n, 12)) for n in range(1, 80)])
    assert entries(log)[5:] == [(12, "hold 356 -> 362 bar (it changed again and again from shot 7 on)")]
    log.append([shot(80, hold=370.0)])
    assert entries(log)[6:] == [(80, "hold 362 -> 370 bar")]


@pytest.mark.parametrize("every", [1, 3, 8, 11])
def test_no_actual_value_makes_entries_for_long(log: Log, every: int) -> None:
    """To and fro between two digits, or drifting: of two hundred shots few are without a level."""
    log.append([shot(n, hold=290.0 + (n // every) % 2, cooling=45.0 + n // every) for n in range(1, 201)])
    assert len(entries(log)) <= 8
    assert len(faults(log)) == 2


def test_a_person_who_tries_a_few_values_gets_an_entry_of_each(log: Log) -> None:
    values = [350, 350, 360, 360, 370, 365, 365, 365, 360, *[360] * 30]
    log.append([shot(n, hold=float(value)) for n, value in enumerate(values, 1)])
    assert [at for at, _ in entries(log)] == [3, 5, 6, 9]
    assert faults(log) == []


def test_a_log_of_no_set_points_is_asked_nothing_more(log: Log) -> None:
    log.append([shot(1), shot(2)])
    assert (rows(log), entries(log)) == ([], [])


def test_a_shot_that_comes_twice_changes_nothing(log: Log) -> None:
    log.append([shot(1, hold=350.0), shot(2, hold=360.0), shot(1, hold=350.0), shot(2, hold=360.0)])
    assert len(rows(log)) == 2
    assert len(entries(log)) == 1


def test_the_chain_covers_them(log: Log) -> None:
    log.append([shot(1, hold=350.0), shot(2, hold=360.0)])
    assert log.verify()[0] > 0
    with log.transaction() as work:
        work.connection.execute(schema.set_points.update().values(value="355"))
    with pytest.raises(StoreDamaged, match="set_points"):
        log.verify()


def test_two_changes_at_one_shot_that_are_told_again_are_known(log: Log) -> None:
    """A press's file of changes that is read over from its beginning."""
    name = "SetTmpMold[1]"
    changes = [told(4, name, 40.0, 50.0), told(4, name, 50.0, 45.0)]
    log.append([told(2, name, 38.0, 40.0), shot(1), shot(2), shot(3), *changes, shot(4), shot(5)])
    before = rows(log, name), entries(log)
    assert before[0][-2:] == [(4, "50", "40"), (4, "45", "50")]
    assert log.append([*changes, shot(6)]) == []
    assert (rows(log, name), entries(log)) == before


def test_what_is_set_again_at_one_shot_is_in_force(log: Log) -> None:
    """There, back, and there again, minutes apart, before the next shot."""
    name = "SetTmpMold[1]"
    there, back = told(4, name, 40.0, 50.0), told(4, name, 50.0, 40.0)
    later = [replace(one, time=one.time + timedelta(minutes=n)) for n, one in enumerate((there, back, there))]
    log.append([told(2, name, 38.0, 40.0), shot(1), shot(2), shot(3), *later, shot(4)])
    assert rows(log, name)[-1] == (4, "50", "40")
    assert entries(log)[-1] == (4, "SetTmpMold[1] 40 -> 50 s (by K at the press)")


def test_what_is_told_again_after_a_restart_is_known(log: Log) -> None:
    """The file that a press writes its changes into is read again from its start."""
    old = [told(2, "SetDose", 27.0, 26.0), told(4, "SetDose", 26.0, 25.0)]
    log.append([shot(1), old[0], shot(2), shot(3), old[1], shot(4), shot(5)])
    for _ in range(2):
        log.append(old)
    assert rows(log, "SetDose") == [(2, "26", "27"), (4, "25", "26")]
