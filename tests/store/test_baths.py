"""The caustic bath: a part cannot be out before it went in, nor in before it was moulded."""

from datetime import datetime, timedelta

import pytest

from shotlog.errors import UsageError
from shotlog.parts.bath import OutOfRange
from shotlog.parts.part import Part
from shotlog.settings import Bound, DesignSettings
from shotlog.store.asked import state
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log
from shotlog.store.parts.baths import baths, check_bath, make_up
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.inspections import inspect
from shotlog.store.parts.soaks import put_in, soaks, take_out
from shotlog.store.undo import take_back
from shotlog.wording.parts import wrong_text
from tests.made_shots import START, shots

DESIGNS = {
    "cap": DesignSettings(name="cap", dissolve_h=30.0),
    "lid": DesignSettings(name="lid", dissolve_h=None),
}


def hour(n: float) -> datetime:
    return START + timedelta(hours=n)


@pytest.fixture
def bath(log: Log) -> Log:
    """A log with ten shots in single-use halves, and a bath."""
    entries.mount(log, "P15", "S-01", START, at_shot=1, design="cap", single_use=True)
    log.append(shots(1, 10, "P15"))
    make_up(log, "B1", hour(0), concentration=Bound(0.9, 1.1), temperature=Bound(None, 40.0))
    return log


def test_a_part_is_due_after_the_hours_of_its_design(bath: Log) -> None:
    (soak,) = put_in(bath, "B1", [Part("P15", 3)], hour(2), DESIGNS)
    assert soak.due == hour(32)
    assert soak.overdue_h(hour(31)) == 0.0
    assert soak.overdue_h(hour(35)) == pytest.approx(3.0)
    (out,) = take_out(bath, [Part("P15", 3)], hour(33))
    assert out.overdue_h(hour(99)) == 0.0
    assert soaks(bath) == [out]


def test_the_due_time_of_that_day_stays_when_the_setting_changes(bath: Log) -> None:
    put_in(bath, "B1", [Part("P15", 3)], hour(2), DESIGNS)
    assert soaks(bath)[0].due == hour(32)
    assert put_in(bath, "B1", [Part("P15", 4)], hour(2), {})[0].due == hour(26)


def test_a_part_cannot_be_out_before_it_went_in(bath: Log) -> None:
    with pytest.raises(UsageError, match="P15/3/1: it is in no bath"):
        take_out(bath, [Part("P15", 3)], hour(3))
    put_in(bath, "B1", [Part("P15", 3)], hour(5), DESIGNS)
    with pytest.raises(UsageError, match=r"given out at .* allowed: not before it went in, 2026-01-05 11:00 UTC"):
        take_out(bath, [Part("P15", 3)], hour(6), came_out=hour(4))
    assert soaks(bath)[0].came_out is None


def test_a_part_cannot_be_in_two_baths_or_in_before_it_was_moulded_or_came_out(bath: Log) -> None:
    make_up(bath, "B2", hour(0))
    put_in(bath, "B1", [Part("P15", 3)], hour(5), DESIGNS)
    with pytest.raises(UsageError, match="P15/3/1: it is in bath B1 since 2026-01-05 11:00 UTC"):
        put_in(bath, "B2", [Part("P15", 4), Part("P15", 3)], hour(6), DESIGNS)
    assert [soak.part.shot for soak in soaks(bath)] == [3], "nothing of a refused entry is kept"
    with pytest.raises(UsageError, match="not before it was moulded, 2026-01-05 06:09 UTC"):
        put_in(bath, "B2", [Part("P15", 9)], hour(6), DESIGNS, went_in=START + timedelta(minutes=5))
    take_out(bath, [Part("P15", 3)], hour(30), cleared=False, remark="gate side left")
    with pytest.raises(UsageError, match="not before it came out"):
        put_in(bath, "B2", [Part("P15", 3)], hour(31), DESIGNS, went_in=hour(29))
    assert not put_in(bath, "B2", [Part("P15", 3)], hour(31), DESIGNS)[0].cleared


def test_a_part_never_moulded_cannot_go_in(bath: Log) -> None:
    with pytest.raises(UsageError, match="shot 11 of P15: the press has counted no such shot"):
        put_in(bath, "B1", [Part("P15", 11)], hour(2), DESIGNS)


def test_a_design_that_must_not_be_dissolved_is_refused_in_words(bath: Log) -> None:
    entries.mount(bath, "P15", "L-1", START, half="fixed", at_shot=5, design="lid")
    with pytest.raises(UsageError, match='P15/6/1: design lid is set to dissolve = "not allowed"'):
        put_in(bath, "B1", [Part("P15", 6)], hour(2), DESIGNS)
    assert put_in(bath, "B1", [Part("P15", 4)], hour(2), DESIGNS)


@pytest.mark.either
def test_a_check_says_what_is_outside_its_range(bath: Log) -> None:
    assert check_bath(bath, "B1", hour(1), concentration=1.0, temperature=25.0).wrong == ()
    found = check_bath(bath, "B1", hour(2), concentration=0.7, temperature=45.0)
    low, high = OutOfRange("concentration", 0.7, 0.9, "mol/l"), OutOfRange("temperature", 45.0, 40.0, "degC")
    assert found.wrong == (low, high)
    assert wrong_text(found.wrong) == "concentration 0.7 mol/l is below 0.9; temperature 45 degC is above 40"
    assert len(baths(bath)[0].checks) == 2


@pytest.mark.either
def test_a_filling_keeps_its_own_checks(bath: Log) -> None:
    check_bath(bath, "B1", hour(1), temperature=20.0)
    make_up(bath, "B1", hour(10), concentration=Bound(1.4, 1.6))
    old, new = baths(bath)
    assert (old.old, new.old, len(old.checks), len(new.checks)) == (True, False, 1, 0)
    assert put_in(bath, "B1", [Part("P15", 1)], hour(11), DESIGNS, went_in=hour(5))[0].bath_id == old.bath_id


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({}, "given no value"),
        ({"concentration": 40.0}, "concentration: given 40 mol/l"),
        ({"temperature": 300.0}, "temperature: given 300 degC"),
        ({"temperature": 20.0, "checked": hour(9)}, "checked: given .* allowed: not after now"),
        ({"temperature": 20.0, "checked": hour(-1)}, "allowed: not before it was made up"),
    ],
)
def test_a_check_that_cannot_be_is_refused(bath: Log, given: dict[str, float], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        check_bath(bath, "B1", hour(1), **given)  # type: ignore[arg-type]


def test_every_entry_about_parts_and_baths_is_noticed_at_once(bath: Log) -> None:
    """Pages work out what is held and what is due only when the mark has changed, or a minute later."""
    marks = [state.change_mark(bath)]
    part = Part("P15", 3)
    for enter in (
        lambda: make_up(bath, "B2", hour(1)),
        lambda: check_bath(bath, "B1", hour(1), temperature=20.0),
        lambda: put_in(bath, "B1", [part], hour(2), DESIGNS),
        lambda: take_out(bath, [part], hour(40)),
        lambda: inspect(bath, part, hour(41), finding="flash"),
        lambda: enter_decision(bath, [part], "scrapped", hour(42), reason="flash", initials="QA"),
    ):
        enter()
        marks.append(state.change_mark(bath))
    assert len(set(marks)) == len(marks)
    assert state.change_mark(bath) == marks[-1]


def test_an_unknown_bath_names_the_known_ones(bath: Log) -> None:
    with pytest.raises(UsageError, match="bath: given 'B9', allowed: B1"):
        put_in(bath, "B9", [Part("P15", 1)], hour(1), DESIGNS)


def test_going_in_is_not_taken_back_while_the_part_is_out_again(bath: Log) -> None:
    (soak,) = put_in(bath, "B1", [Part("P15", 3)], hour(2), DESIGNS)
    assert soak.end_id is None
    (out,) = take_out(bath, [Part("P15", 3)], hour(40))
    assert out.end_id is not None
    with pytest.raises(UsageError, match=r"the part came out .* take that back first"):
        take_back(bath, "soaks", soak.entry_id, hour(41), "wrong part")
    take_back(bath, "soak_ends", out.end_id, hour(41), "still in")
    assert [(one.came_out, one.end_id) for one in soaks(bath)] == [(None, None)]
    take_back(bath, "soaks", soak.entry_id, hour(41), "wrong part")
    assert soaks(bath) == []
    bath.verify()


@pytest.mark.either
def test_coming_out_is_not_taken_back_while_the_part_is_in_again(bath: Log) -> None:
    """It would be in two baths at once."""
    parts = [Part("P15", 3), Part("P15", 4)]
    put_in(bath, "B1", parts, hour(2), DESIGNS)
    out, other = take_out(bath, parts, hour(40), cleared=False)
    (again,) = put_in(bath, "B1", parts[:1], hour(41), DESIGNS)
    assert out.end_id is not None
    assert other.end_id is not None
    with pytest.raises(UsageError, match=rf"the part is in again \(entry {again.entry_id}\)"):
        take_back(bath, "soak_ends", out.end_id, hour(42), "still in")
    take_back(bath, "soak_ends", other.end_id, hour(42), "still in")
    take_back(bath, "soaks", again.entry_id, hour(42), "wrong part")
    take_back(bath, "soak_ends", out.end_id, hour(42), "still in")
    assert [(one.part, one.came_out) for one in soaks(bath)] == [(part, None) for part in parts]
