"""Lives that the log tells of: to whom, once, anew where known better, and not against what a person took back."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.entries import LIFE
from shotlog.life_text import LifeTold, life_told
from shotlog.records import Shot
from shotlog.store.inserts.entries import mount, remove
from shotlog.store.inserts.lives_told import ENOUGH_OWN, LivesTold, lives_of_other_logs
from shotlog.store.log.log import Log, open_log
from shotlog.store.undo import take_back

NOW = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)
A0 = LifeTold("A-0", "cap", 50, 40, True, course=(0.1, 0.9))


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    """Three presses of five shots: two with inserts of one design, one with another."""
    with open_log(f"sqlite:///{tmp_path}/a.db", read_only=False) as made:
        for press, serial, design in (("P1", "A", "cap"), ("P2", "B", "cap"), ("P3", "C", "lid")):
            mount(made, press, serial, NOW, design=design)
        shoot(made, 5)
        yield made


def shoot(log: Log, upto: int, first: int = 1) -> None:
    for n in range(first, upto + 1):
        log.append([Shot(f"P{k}", n, n, NOW + timedelta(minutes=n), {"cushion": 5.0}) for k in (1, 2, 3)])


def told(log: Log, press: str) -> list[tuple[int, LifeTold | None]]:
    return [(one.at_shot, life_told(one.text)) for one in log.timeline(press).events if one.kind == LIFE]


def test_a_life_is_told_once_at_its_press_and_at_those_of_its_design(log: Log) -> None:
    lives = LivesTold()
    assert lives.tell(log, NOW, {"P1": [A0]}) == 2
    assert lives.tell(log, NOW, {"P1": [A0]}) == 0
    assert LivesTold().tell(log, NOW, {"P1": [A0]}) == 0  # another process, or the next start
    assert told(log, "P1") == [(6, A0)]
    ((at, there),) = told(log, "P2")
    assert (at, there) == (6, LifeTold("A-0", "cap", 50, 40, True, press="P1", course=A0.course))
    assert told(log, "P3") == []


def test_a_life_that_is_known_better_is_told_anew(log: Log) -> None:
    lives = LivesTold()
    lives.tell(log, NOW, {"P1": [A0]})
    shoot(log, 8, first=6)
    assert lives.tell(log, NOW, {"P1": [LifeTold("A-0", "cap", 50, 50)]}) == 2
    assert told(log, "P2")[-1] == (9, LifeTold("A-0", "cap", 50, 50, press="P1"))


def test_what_a_person_took_back_is_not_told_again(log: Log) -> None:
    lives = LivesTold()
    lives.tell(log, NOW, {"P1": [A0]})
    take_back(log, "events", lives.told["P2", "", "A-0"][0], NOW, "another resin")
    assert lives.tell(log, NOW, {"P1": [A0]}) == 0
    assert told(log, "P2") == []


@pytest.mark.either
def test_a_life_taken_back_at_its_own_press_is_none_to_the_others(log: Log) -> None:
    lives = LivesTold()
    lives.tell(log, NOW, {"P1": [A0]})
    take_back(log, "events", lives.own["P1", "", "A-0"][0], NOW, "it was a trial of the loader")
    assert lives.tell(log, NOW, {"P1": [A0]}) == 1
    assert told(log, "P2")[-1][1] == LifeTold("A-0", "cap", 0, 0, press="P1")
    assert lives.tell(log, NOW, {"P1": [A0]}) == 0


def test_an_insert_that_goes_to_another_press_brings_its_shots(log: Log) -> None:
    """The press that it left makes no shot after it, so that nobody there sees its life end."""
    remove(log, "P1", "A", NOW, reason="to the other press")
    remove(log, "P2", "B", NOW, reason="end of trial")
    mount(log, "P2", "A", NOW)
    lives = LivesTold()
    assert lives.tell(log, NOW, {}) == 1
    assert told(log, "P2") == [(6, LifeTold("A", "cap", 5, 5, press="P1"))]
    assert lives.tell(log, NOW, {}) == 0


def test_a_press_that_mounts_a_design_later_is_told_of_what_was_before(log: Log) -> None:
    lives = LivesTold()
    lives.tell(log, NOW, {"P1": [A0]})
    mount(log, "P3", "D", NOW, half="fixed", design="cap")
    assert lives.tell(log, NOW, {}) == 1
    assert [life and life.serial for _, life in told(log, "P3")] == ["A-0"]


def test_a_press_with_enough_lives_of_its_own_is_told_of_no_more(log: Log) -> None:
    own = [LifeTold(f"B-{k}", "cap", 60, 50, True) for k in range(ENOUGH_OWN)]
    lives = LivesTold()
    assert lives.tell(log, NOW, {"P2": own}) == 2 * ENOUGH_OWN
    assert lives.tell(log, NOW, {"P1": [A0]}) == 1
    assert all(life is not None and not life.press for _, life in told(log, "P2"))


def test_lives_of_another_log_are_told_with_their_site(log: Log) -> None:
    far = LifeTold("Z-1", "cap", 70, 60, True, press="M4", site="hall-2")
    lives = LivesTold()
    assert lives.tell(log, NOW, {}, [far]) == 2
    assert told(log, "P1") == told(log, "P2") == [(6, far)]
    assert lives.tell(log, NOW, {}, [far]) == 0


def test_an_insert_of_a_serial_that_another_log_has_as_well_is_another_one(log: Log) -> None:
    """Small shops count alike: each is told beside the other, and none takes the place of another."""
    lives, far = LivesTold(), LifeTold("A-0", "cap", 70, 60, True, press="M4", site="hall-2")
    assert lives.tell(log, NOW, {"P1": [A0]}, [far]) == 4
    assert [life for _, life in told(log, "P2")] == [replace(A0, press="P1"), far]
    assert [life for _, life in told(log, "P1")] == [A0, far]
    assert lives.tell(log, NOW, {"P1": [A0]}, [far]) == 0
    assert lives_of_other_logs(log, "cap") == [far]
    third = replace(far, site="hall-3")
    assert lives.tell(log, NOW, {}, [far, third]) == 2
    assert lives_of_other_logs(log, "cap") == [far, third]
