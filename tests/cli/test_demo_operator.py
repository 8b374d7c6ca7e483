"""The people of the demo: every act of theirs can be entered, in the order of a day, and leaves something to see."""

import pytest

from shotlog.cli.demo import configuration
from shotlog.parts.part import Part
from shotlog.store.asked.state import entries
from shotlog.store.log.log import open_log
from shotlog.store.parts.baths import baths
from shotlog.store.parts.dispositions import decisions, part_standings
from shotlog.store.parts.inspections import inspections
from shotlog.store.parts.places import where_is
from shotlog.store.parts.soaks import soaks
from tests.demo_day import DemoDay, demo_day


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> DemoDay:
    return demo_day(tmp_path_factory.mktemp("demo"), {"P25": 345, "P15": 90}, judged=False)


def test_nothing_the_people_do_is_refused(demo: DemoDay) -> None:
    assert [one for one in demo.said if "could not" in one] == []


def test_what_is_seen_is_entered_before_the_half_is_changed_and_names_it(demo: DemoDay) -> None:
    """The flash of A-07 was entered after the swap it led to, and named no half."""
    order = [
        "P25 169: notes finding: window missing, core blade broken",
        "P25 169: takes out B-12: core blade broken",
        "P25 259: notes finding: flash at the parting line",
        "P25 259: notes good: no flash on it",
        "P25 263: takes out B-13: flash",
        "P25 267: notes finding: flash on the flat half",
        "P25 283: takes out A-07: flash on the flat half",
    ]
    assert [one for one in demo.said if one in order] == order
    with open_log(demo.settings.store) as log:
        halves = {row.event.at_shot: (row.event.half, row.event.initials) for row in entries(log, "P25")}
    assert (halves[168], halves[258], halves[266]) == (("moving", "mk"), ("", "mk"), ("fixed", "mk"))


def test_no_part_comes_out_of_the_bath_before_it_is_due(demo: DemoDay) -> None:
    with open_log(demo.settings.store) as log:
        stays = soaks(log, "P15")
        assert [bath.name for bath in baths(log)] == ["bath 1", "bath 2"]
        assert all(bath.checks and not bath.checks[0].wrong for bath in baths(log))
    assert sorted(one.part.shot for one in stays) == list(range(1, 49))
    assert all(one.came_out is not None and one.came_out >= one.due for one in stays)


def test_a_bad_part_is_found_that_holds_others_and_people_decide(demo: DemoDay) -> None:
    with open_log(demo.settings.store) as log:
        bad = [one.part.shot for one in inspections(log, "P15") if one.bad]
        sound = [one.part.shot for one in inspections(log, "P15") if not one.bad]
        state = {one.part.shot: one.state for one in part_standings(log, "P15", demo.settings.designs)}
        assert {one.initials for one in decisions(log, "P15")} == {"ab"}
    assert (bad, sound) == ([19, 30, 41], [12, 18, 25, 38])
    assert {state[shot] for shot in range(42, 49)} == {"held"}
    assert (state[19], state[25], state[30], state[41]) == ("scrapped", "released", "held", "scrapped")


def test_the_bath_is_told_in_the_time_of_a_few_shots_and_said_so() -> None:
    told = configuration({}, 100.0)
    assert "dissolve_h = 0.0100" in told
    assert "26 h in 1 mol/l caustic" in told
    assert "it tells them in 36 s" in told


def test_it_is_said_where_each_part_of_the_day_is(demo: DemoDay) -> None:
    with open_log(demo.settings.store) as log:
        boxes, trays = where_is(log, "P25"), where_is(log, "P15")
    told = [place.name for part in (5, 160, 200) if (place := boxes.of(Part("P25", part)))]
    told += [place.name for part in (5, 40) if (place := trays.of(Part("P15", part)))]
    assert told == ["box 1", "red bag", "box 3", "tray 1", "tray 2"]
