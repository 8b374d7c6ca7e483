"""Every screen names the parts that the log holds, by the one rule that holds them."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from asked_for import Tab, words
from hand_filled import Trial

from dashboard import Source, build
from dashboard.shared.press_reader import PressReader
from dashboard.shift import Query, ShiftReader
from dashboard.shift.life import read_life
from shotlog.parts.part import Part
from shotlog.records import Verdict
from shotlog.store.parts.dispositions import held_parts
from shotlog.store.parts.inspections import inspect

FIRST = Verdict("P25", 29, "B-11", 29, False, "watch", "a change", onset=22, onset_low=20, onset_high=24)
LATER = replace(FIRST, shot=30, shots_on_insert=30, verdict="swap", onset=28, onset_low=27, onset_high=29)
"""The change dated anew, wholly after its first date: something further has happened, and the first date stays."""


@pytest.fixture
def source(trial: Trial) -> Iterator[Source]:
    trial.mount("B-11")
    trial.shots(30)
    trial.say(FIRST)
    trial.say(LATER)
    made = Source(trial.settings, trial.clock)
    yield made
    made.close()


def test_the_log_holds_from_the_first_date(trial: Trial, source: Source) -> None:
    held = held_parts(trial.log, "P25", trial.settings.designs)
    assert [one.part.shot for one in held] == list(range(20, 31))


def test_the_page_at_the_press_says_to_hold_what_is_held(source: Source) -> None:
    shown = words(Tab(build(source).server.test_client()).refresh()["standing"]["children"])
    assert "Hold parts from 20 for this" in shown
    strips = PressReader(source).fresh("P25").view.strips
    assert (strips.onset, strips.held_from) == ((27, 28, 29), 20)


def test_nothing_is_to_be_held_once_nothing_is_called(trial: Trial, source: Source) -> None:
    trial.say(replace(FIRST, shot=30, shots_on_insert=30, verdict="keep", onset=None, onset_low=None, onset_high=None))
    assert PressReader(source).fresh("P25").view.strips.held_from is None


def test_a_life_looked_at_closely_is_in_doubt_where_its_parts_are_held(source: Source) -> None:
    life = read_life(ShiftReader(source), Query(life="B-11"))
    assert life is not None
    assert [(one.first, one.last, one.onset) for one in life.spans] == [(20, 30, 28)]


def test_parts_in_doubt_are_counted_by_how_they_stand(trial: Trial, source: Source) -> None:
    """However long the log is: bad parts were once left out of a long one, and later not counted in it."""
    inspect(trial.log, Part("P25", 12), trial.clock.now(), finding="burn", half="moving")
    (press,) = ShiftReader(source).read(Query()).presses
    assert [(one.first, one.last, one.parts.held) for one in press.suspects] == [(20, 30, 11), (12, 12, 1), (13, 19, 7)]
