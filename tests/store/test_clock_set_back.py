"""The computer's clock was set back in a trial: what came first is what the log has first, whatever times say.

Each was played first on a log whose newest shots bore earlier times than those before them.
"""

import json
from collections.abc import Callable
from datetime import UTC, datetime

import pytest

from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.parts.part import Part
from shotlog.records import ClockStep, Shot, Weighing
from shotlog.settings import Bound
from shotlog.store.asked.entries_made import entries_made, newest_entries
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log
from shotlog.store.parts.baths import check_bath, make_up
from shotlog.store.parts.dispositions import enter_decision, part_standings
from shotlog.store.parts.soaks import put_in, soaks, take_out
from shotlog.store.parts.weights import match_new, weighings, weighings_between
from shotlog.store.undo import take_back

BACK_S = -7200.0


@pytest.fixture
def clock() -> HandClock:
    return HandClock(datetime(2026, 1, 5, 12, 0, tzinfo=UTC))


def make(log: Log, clock: HandClock, first: int, last: int) -> None:
    for number in range(first, last + 1):
        clock.advance(45.0)
        log.append([Shot("P25", number, number, clock.now(), {"cushion": 3.0})])


def set_clock(log: Log, clock: HandClock, by: float) -> None:
    clock.set_by(by)
    log.append([ClockStep(clock.now(), by, "set")])


def weigh(log: Log, clock: HandClock, grams: float = 12.0, after_s: float = 60.0) -> None:
    log.append([Weighing("P25", "B", grams, clock.now(), after_s)])
    match_new(log, "P25", clock.now(), repr)


@pytest.mark.parametrize("by", [BACK_S, -BACK_S])
def test_a_crack_found_after_a_release_holds_what_was_made_since_the_part_known_to_be_good(
    log: Log, clock: HandClock, by: float
) -> None:
    entries.mount(log, "P25", "B-11", clock.now(), half="moving")
    make(log, clock, 1, 8)
    enter_decision(
        log, [Part("P25", n) for n in range(5, 9)], "released", clock.now(), reason="looked at", initials="QA"
    )
    set_clock(log, clock, by)
    entries.note(log, "P25", "finding", "crack", clock.now(), at_shot=6, half="moving")
    held = [one.part.shot for one in part_standings(log, "P25", {}) if one.state == "held"]
    assert held == [6, 7, 8]


@pytest.mark.parametrize("by", [BACK_S, -BACK_S])
def test_a_weighing_goes_with_the_shot_made_just_before_it(log: Log, clock: HandClock, by: float) -> None:
    make(log, clock, 1, 3)
    set_clock(log, clock, by)
    clock.advance(20.0)
    weigh(log, clock)
    make(log, clock, 4, 4)
    clock.advance(20.0)
    weigh(log, clock, 13.0)
    assert [(one.grams, one.shot) for one in weighings(log, "P25")] == [(12.0, 3), (13.0, 4)]


@pytest.mark.either
def test_a_shot_of_two_hours_ago_is_not_taken_for_one_of_now(log: Log, clock: HandClock) -> None:
    """Set back by two hours, the clock shows again what it showed when the shots of then were made."""
    make(log, clock, 1, 2)
    clock.advance(-BACK_S)
    set_clock(log, clock, BACK_S)
    clock.advance(20.0)
    weigh(log, clock)
    (one,) = weighings(log, "P25")
    assert one.shot is None
    assert weighings_between(log, "P25", 2, 2) == [one]
    assert weighings_between(log, "P25", 1, 1) == []


@pytest.mark.either
def test_the_weighing_before_is_the_one_that_came_before(log: Log, clock: HandClock) -> None:
    """After a step back, the newest times are not the newest weighings: shot 1 was offered again for the next one."""
    make(log, clock, 1, 2)
    weigh(log, clock, after_s=40.0)
    set_clock(log, clock, BACK_S)
    make(log, clock, 3, 3)
    weigh(log, clock, after_s=600.0)
    assert [(one.shot, one.others) for one in weighings(log, "P25")] == [(2, ()), (3, ())]


def test_parts_go_into_a_bath_and_come_out_of_it_now(log: Log, clock: HandClock) -> None:
    make_up(log, "B1", clock.now(), concentration=Bound(0.9, 1.1))
    make(log, clock, 1, 2)
    set_clock(log, clock, BACK_S)
    put_in(log, "B1", [Part("P25", 1)], clock.now(), {})
    check_bath(log, "B1", clock.now(), concentration=1.0)
    set_clock(log, clock, BACK_S)
    take_out(log, [Part("P25", 1)], clock.now())
    put_in(log, "B1", [Part("P25", 1)], clock.now(), {})
    assert [one.came_out is None for one in soaks(log)] == [False, True]


def test_an_insert_put_in_and_taken_out_at_one_shot_is_out_and_the_entries_bear_the_times_the_clock_showed(
    log: Log, clock: HandClock
) -> None:
    """The time of the second entry was put forward to after the first: a time that no clock had shown."""
    make(log, clock, 1, 4)
    mounted = entries.mount(log, "P25", "B-11", clock.now(), half="moving").record
    clock.set_by(BACK_S)
    removed = entries.remove(log, "P25", "B-11", clock.now(), reason="wrong one").record
    assert log.timeline("P25").stays_at(5) == {}
    assert (removed.time - mounted.time).total_seconds() == BACK_S
    again = entries.mount(log, "P25", "B-11", clock.now(), half="moving").record
    assert log.timeline("P25").stays_at(5)["moving"].mounting == again
    assert again.time == removed.time


def test_a_swap_taken_back_takes_its_own_removal_along_and_no_other(log: Log, clock: HandClock) -> None:
    """Entered at the same moment for the same shot, and yet not with the mounting."""
    make(log, clock, 1, 4)
    entries.mount(log, "P25", "B-11", clock.now(), half="moving")
    make(log, clock, 5, 8)
    entries.remove(log, "P25", "B-11", clock.now(), reason="flash")
    entries.mount(log, "P25", "A-1", clock.now(), half="fixed")
    made = entries.mount(log, "P25", "B-12", clock.now(), half="moving")
    take_back(log, "mountings", made.entry_id, clock.now(), "was not put in")
    assert [one.mounting.insert.serial for one in log.timeline("P25").stays_at(9).values()] == ["A-1"]


def test_what_was_entered_last_stands_last(log: Log, clock: HandClock) -> None:
    make(log, clock, 1, 4)
    entries.note(log, "P25", "finding", "flash", clock.now())
    enter_decision(log, [Part("P25", 2)], "held", clock.now())
    set_clock(log, clock, BACK_S)
    entries.note(log, "P25", "note", "vents cleaned", clock.now())
    assert [one.text for one in newest_entries(log, "P25", ("mounting", "removal", "event"), 1)] == ["vents cleaned"]
    assert [one.kind for one in entries_made(log)] == ["event", "decision", "event"]
    assert [one.text for one in entries_made(log)][-1] == "vents cleaned"


Wall = Callable[[str], None]


@pytest.fixture
def wall(monkeypatch: pytest.MonkeyPatch) -> Wall:
    """Returns what sets the clock that commands read."""

    def show(at: str) -> None:
        monkeypatch.setattr("shotlog.clock._wall", lambda: datetime.fromisoformat(at))

    return show


def test_the_rule_of_holds_by_command(
    log: Log, clock: HandClock, wall: Wall, capsys: pytest.CaptureFixture[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    config = tmp_path_factory.mktemp("c") / "c.toml"
    text = f'[log]\nstore = "{log.url}"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
    config.write_text(text, encoding="utf-8")

    def run(*words: str) -> str:
        assert main([words[0], str(config), *words[1:]]) == 0
        return capsys.readouterr().out

    wall("2026-01-05T12:00:00+00:00")
    run("mount", "P25", "B-11")
    make(log, clock, 1, 8)
    wall("2026-01-05T12:10:00+00:00")
    run("parts", "P25", "5-8", "--release", "--reason", "looked at under the lamp", "--initials", "R. K.")
    set_clock(log, clock, BACK_S)
    wall("2026-01-05T10:11:00+00:00")
    run("note", "P25", "finding", "crack", "--at-shot", "6")
    states = {(one["shot"], one["state"]) for one in json.loads(run("parts", "P25", "--all", "--json"))["parts"]}
    assert states == {*((n, "made") for n in range(1, 5)), (5, "released"), *((n, "held") for n in range(6, 9))}
