"""What a person may enter at all: texts that somebody reads, and for presses that are configured."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.records import Event, Shot, Signature
from shotlog.store.asked import state
from shotlog.store.inserts import entries
from shotlog.store.inserts.making import describe
from shotlog.store.keeping.head import head_of
from shotlog.store.log.bounds import MOST_NAME, MOST_TEXT
from shotlog.store.log.log import Log
from shotlog.store.log.signed import PROGRAM
from shotlog.store.parts import baths, dispositions, inspections, places, soaks
from shotlog.store.undo import enter_again, take_back
from tests.made_shots import START

SOMEBODY = Signature("", "", "MK", "command", "here")


@pytest.fixture
def two(log: Log) -> Log:
    """A log of two presses, of which P25 is configured; P9 is of an earlier configuration, with entries of its own."""
    for press in ("P25", "P9"):
        log.append([Shot(press, n, n, START + timedelta(seconds=30 * n), {"cushion": 5.0}) for n in range(1, 6)])
    entries.note(log, "P9", "note", "of before", START, at_shot=2)
    entries.note(log, "P9", "note", "taken back before", START, at_shot=2)
    take_back(log, "events", 2, START, "a mistake")
    baths.make_up(log, "B1", START)
    soaks.put_in(log, "B1", [Part("P9", 1, 1)], START + timedelta(hours=1), {})
    log.signature, log.presses_open = SOMEBODY, ["P25"]
    return log


NOW = START + timedelta(hours=2)
OF_P9: dict[str, Callable[[Log], object]] = {
    "mount": lambda log: entries.mount(log, "P9", "B-1", NOW),
    "note": lambda log: entries.note(log, "P9", "note", "x", NOW),
    "undo": lambda log: take_back(log, "events", 1, NOW, "x"),
    "again": lambda log: enter_again(log, "events", 2, NOW),
    "decide": lambda log: dispositions.enter_decision(
        log, [Part("P9", 2, 1)], "scrapped", NOW, reason="x", initials="MK"
    ),
    "inspect": lambda log: inspections.inspect(log, Part("P9", 2, 1), NOW, finding="flash"),
    "place": lambda log: places.put_at(log, [Part("P9", 2, 1)], "box", NOW),
    "bath in": lambda log: soaks.put_in(log, "B1", [Part("P9", 2, 1)], NOW, {}),
    "bath out": lambda log: soaks.take_out(log, [Part("P9", 1, 1)], NOW),
}


@pytest.mark.parametrize("way", OF_P9)
def test_nothing_is_entered_for_a_press_that_is_not_configured(two: Log, way: str) -> None:
    head = head_of(two)
    with pytest.raises(UsageError, match="press P9: it is not in this configuration"):
        OF_P9[way](two)
    assert head_of(two) == head
    assert [row.event.text for row in state.entries(two, "P9", 0, 9)] == ["of before", "taken back before"]


def test_a_press_that_no_log_knows_is_not_added(two: Log) -> None:
    with pytest.raises(UsageError, match="press FOREIGN: it is not in this configuration"):
        entries.note(two, "FOREIGN", "note", "x", NOW)
    assert two.presses() == ["P25", "P9"]


def test_what_is_about_no_press_is_entered(two: Log) -> None:
    entries.mount(two, "P25", "B-1", NOW)
    describe(two, ["B-1"], NOW, said={"remark": "x"}, dimensions={"wall": (1.2, "mm")})
    baths.check_bath(two, "B1", NOW, temperature=60.0)


def test_a_long_and_honest_note_fits_and_a_longer_one_is_told_what_does(two: Log) -> None:
    entries.note(two, "P25", "note", "x" * MOST_TEXT, NOW)
    with pytest.raises(UsageError, match=f"^text: given {MOST_TEXT + 1} characters, allowed: {MOST_TEXT} at most$"):
        entries.note(two, "P25", "note", "x" * (MOST_TEXT + 1), NOW)
    with pytest.raises(UsageError, match=f"^serial: given 201 characters, allowed: {MOST_NAME} at most$"):
        entries.mount(two, "P25", "B" * 201, NOW)
    with pytest.raises(UsageError, match="reason: given 3000000 characters"):
        dispositions.enter_decision(two, [Part("P25", 2, 1)], "scrapped", NOW, reason="x" * 3_000_000, initials="MK")
    with pytest.raises(UsageError, match="initials: given 201 characters"):
        entries.note(two, "P25", "note", "x", NOW, initials="M" * 201)


def test_what_the_logger_itself_notes_is_as_long_as_it_has_to_be(two: Log) -> None:
    two.signature = PROGRAM
    two.append([Event("P25", 3, "map", "x" * 9_000, NOW)])
