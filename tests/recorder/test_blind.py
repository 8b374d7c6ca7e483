"""Numbering while the log cannot be asked: nothing lost, nothing doubled, and no shot taken for one of before."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Connection

from shotlog.clock import HandClock
from shotlog.collectors.base import Resume
from shotlog.errors import StoreUnreachable
from shotlog.recorder.blind import Start
from shotlog.recorder.noting import Noting
from shotlog.recorder.outbox import Outbox
from shotlog.recorder.renumber import After, renumbered, shift_of
from shotlog.records import Event, Gap, SetPointChange, Shot
from shotlog.store.asked import state
from shotlog.store.asked.faults import faults
from shotlog.store.asked.trials import trials
from shotlog.store.log.journal import Journal
from shotlog.store.log.journal_note import Note, Position, read_note, write_note
from shotlog.store.log.journal_space import NOTES_AT
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import Asked
from shotlog.store.log.transaction import Transaction

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
TRIAL = ("cap 7", "cap", "PP", "2026-01-05T06:00:00.000000Z")


def shot(number: int, counter: int) -> Shot:
    return Shot("P25", number, counter, NOW, {"cushion": 5.0 + counter / 1000})


class Away(Log):
    """The log under test, that can be away altogether."""

    def __init__(self, log: Log) -> None:
        super().__init__(log.url, log._writer, log._reader)
        self.away = True

    @contextmanager
    def transaction(self, origin: str | None = None, asked: Sequence[Asked] = ()) -> Iterator[Transaction]:
        if self.away:
            raise StoreUnreachable("log: connection refused")
        with super().transaction(origin, asked) as work:
            yield work

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        if self.away:
            raise StoreUnreachable("log: connection refused")
        with super().reading() as connection:
            yield connection


@pytest.fixture
def away(log: Log) -> Away:
    return Away(log)


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    made = Journal(tmp_path / "trial.db.p.journal", 50_000)
    made.reserve()
    return made


def begun(away: Log, journal: Journal, clock: HandClock) -> tuple[Outbox, Start]:
    """Return what a process that starts now delivers through, and where P25 goes on."""
    outbox = Outbox(away, Journal(journal.path, 50_000), clock, TRIAL)
    outbox.drain()
    return outbox, outbox.start("P25")


def noted(journal: Journal, shot: int, counter: int) -> None:
    journal.note(Note(NOW, "a log", {"P25": Position(shot, counter, {"cushion": 5.0})}))


def in_log(log: Log) -> list[tuple[int, int]]:
    """Return number and counter of every stored shot; each value tells by which counter it was made."""
    stored = [(one.shot, round(1000 * (one.values["cushion"] - 5.0))) for one in log.logged("P25")]
    assert state.gaps(log, "P25") == [] or all(
        not gap.first <= number <= gap.last for gap in state.gaps(log, "P25") for number, _ in stored
    )
    return stored


@pytest.mark.parametrize(
    ("counter", "number", "after", "last", "shift"),
    [
        (104, 104, (103, 103), (103, 103), 0),  # noted to the last
        (110, 110, (100, 100), (103, 103), 0),  # noted some seconds before the last
        (103, 103, (100, 100), (103, 103), 0),  # what stands in the registers is the last
        (65_540, 65_540, (65_530, 65_530), (65_533, 65_533), 0),
        (4, 65_540, (65_530, 65_530), (65_533, 65_533), 0),  # it rolled over meanwhile
        (2, 102, (100, 100), (103, 103), 3),  # it began anew meanwhile: 103 went before
        (110, 110, None, None, 0),  # the log has no shot either
        (110, 110, None, (10_103, 103), 10_000),  # nothing was noted: on from where the counter was
        (103, 103, None, (10_103, 103), 10_000),
        (2, 2, None, (10_103, 103), 10_103),  # a new count
        (110, 110, (50, 50), (10_103, 103), 10_000),  # noted before the counter began anew
    ],
)
def test_by_how_much_numbers_are_moved(
    counter: int, number: int, after: After, last: tuple[int, int] | None, shift: int
) -> None:
    assert shift_of(shot(number, counter), after, last) == shift


def test_a_start_without_the_log_goes_on_from_what_was_noted(away: Away, journal: Journal) -> None:
    """Without it the first shot after a power failure would be number 1, or a repeated register a shot."""
    clock = HandClock()
    away.away = False
    away.append([shot(n, n - 65_000) for n in range(65_001, 65_004)])
    noted(journal, 65_001, 1)  # the last note was some seconds old when the power went
    away.away = True
    outbox, start = begun(away, journal, clock)
    assert start == Start(Resume(65_001, 1), True, (65_001, 1))
    place, _ = outbox.deliver([Gap("P25", 65_002, 65_004, NOW, "counter went on"), shot(65_005, 5)])
    assert place == "journal"
    away.away = False
    clock.advance(5.0)
    assert outbox.deliver([shot(65_006, 6)])[0] == "log"
    assert in_log(away) == [(65_001, 1), (65_002, 2), (65_003, 3), (65_005, 5), (65_006, 6)]
    assert [(gap.first, gap.last) for gap in state.gaps(away, "P25")] == [(65_004, 65_004)]
    assert {one.kind for one in faults(away, "P25")} == {"log"}  # that it was away, and nothing else
    away.verify()


def test_the_shot_that_still_stands_in_the_registers_is_stored_once(away: Away, journal: Journal) -> None:
    clock = HandClock()
    away.away = False
    away.append([shot(n, n) for n in range(1, 5)])
    noted(journal, 2, 2)
    away.away = True
    outbox, _ = begun(away, journal, clock)
    outbox.deliver([Gap("P25", 3, 3, NOW, "counter went on"), shot(4, 4)])
    away.away = False
    clock.advance(5.0)
    assert outbox.drain()
    assert in_log(away) == [(1, 1), (2, 2), (3, 3), (4, 4)]
    assert state.gaps(away, "P25") == []
    assert {one.kind for one in faults(away, "P25")} == {"log"}  # that it was away, and nothing else


def test_without_a_note_shots_are_numbered_by_the_counter_and_again_by_the_log(
    away: Away, journal: Journal, caplog: pytest.LogCaptureFixture
) -> None:
    """Shots 5 to 7 of a second count were taken for shots 5 to 7 of the first, and dropped."""
    clock = HandClock()
    away.away = False
    away.append([shot(n, n) for n in range(1, 11)] + [shot(n, n - 10) for n in range(11, 14)])  # began anew after 10
    away.away = True
    outbox, start = begun(away, journal, clock)
    assert start == Start(None, True, None)
    assert "no position of P25 is noted" in caplog.text
    outbox.deliver([shot(5, 5), Event("P25", 5, "note", "as it stood", NOW)])
    outbox.deliver([Gap("P25", 6, 6, NOW, "counter went on"), shot(7, 7)])
    away.away = False
    clock.advance(5.0)
    place, stored = outbox.deliver([shot(8, 8)])
    assert (place, stored) == ("log", (shot(18, 8),))  # what is shown is what is stored
    assert in_log(away)[-4:] == [(13, 3), (15, 5), (17, 7), (18, 8)]
    assert [(gap.first, gap.last) for gap in state.gaps(away, "P25")] == [(14, 14), (16, 16)]
    (fault,) = [one for one in faults(away, "P25") if one.kind != "log"]
    assert fault.kind == "numbered again"
    assert (
        "its last shot is 13, where the counter read 3; from counter 5 on shots are numbered 15, and not 5"
        in fault.detail
    )
    assert [event.at_shot for event in away.timeline("P25").events] == [15]
    away.verify()


@pytest.mark.parametrize("delivered", [0, 1, 2, 3])
def test_killed_at_any_batch_of_moving_what_was_numbered_blind(away: Away, journal: Journal, delivered: int) -> None:
    """Asked again, the log answered with a shot that had been moved already, and the rest was moved twice."""
    clock = HandClock()
    away.away = False
    away.append([shot(n + 100, n) for n in range(1, 4)])
    away.away = True
    outbox, _ = begun(away, journal, clock)
    for n in (5, 6, 7):
        outbox.deliver([shot(n, n)])
    before = journal.path.read_bytes()
    away.away = False
    clock.advance(5.0)
    for n, batch in enumerate(Journal(journal.path).batches()):
        if n < delivered:
            outbox._store(batch)
    journal.path.write_bytes(before)  # killed: the journal is as it was
    _, start = begun(away, journal, clock)
    assert start.resume is not None
    assert (start.resume.shot, start.blind) == (107, False)
    assert in_log(away) == [(101, 1), (102, 2), (103, 3), (105, 5), (106, 6), (107, 7)]
    assert [(gap.first, gap.last) for gap in state.gaps(away, "P25")] == [(104, 104)]


def test_a_second_start_without_the_log_goes_on_from_what_waits(away: Away, journal: Journal) -> None:
    clock = HandClock()
    away.away = False
    away.append([shot(n + 100, n) for n in range(1, 4)])
    away.away = True
    begun(away, journal, clock)[0].deliver([shot(5, 5)])
    outbox, start = begun(away, journal, clock)
    assert start == Start(Resume(5, 5, {"cushion": 5.005}), True, None)
    outbox.deliver([shot(6, 6)])
    away.away = False
    clock.advance(5.0)
    assert outbox.deliver([shot(7, 7)])[1] == (shot(107, 7),)
    assert in_log(away) == [(101, 1), (102, 2), (103, 3), (105, 5), (106, 6), (107, 7)]


def test_shots_that_waited_belong_to_the_trial_they_were_made_under(away: Away, journal: Journal) -> None:
    """They were logged under the trial of the configuration that happened to bring them in."""
    clock = HandClock()
    begun(away, journal, clock)[0].deliver([shot(1, 1)])
    away.away = False
    other = Outbox(away, Journal(journal.path), clock, ("lid 8", "lid", "PP", TRIAL[3]))
    other.deliver([shot(2, 2)])
    assert [(one.name, one.shots) for one in trials(away)] == [("cap 7", {"P25": (1, 1)}), ("lid 8", {"P25": (2, 2)})]


def test_the_note_tells_positions_and_what_waits_and_survives_a_cut(away: Away, journal: Journal) -> None:
    clock = HandClock()
    outbox, start = begun(away, journal, clock)
    noting = Noting(journal, outbox, clock, "sqlite:///trial.db")
    noting.begin("P25", start.resume)
    for n in (1, 2):
        noting.take(outbox.deliver([shot(n, n)])[1])
        noting.turn()  # the second time it is not due yet, but what waits is another
    note = read_note(journal.path)
    assert note is not None
    assert note.positions == {"P25": Position(2, 2, {"cushion": 5.002}, NOW)}
    assert (note.waiting, note.unsafe, note.store, note.why) == (2, 0, "sqlite:///trial.db", "log: connection refused")
    data = bytearray(journal.path.read_bytes())
    newest = max(data.find(b'"waiting": 2'), NOTES_AT)
    data[newest + 11] ^= 1
    journal.path.write_bytes(data)
    before = read_note(journal.path)
    assert before is not None
    assert (before.waiting, before.positions["P25"].shot) == (1, 1)
    assert len(list(Journal(journal.path).batches())) == 2


def test_a_note_that_has_no_room_or_no_journal_is_no_note(journal: Journal, tmp_path: Path) -> None:
    assert read_note(tmp_path / "none") is None
    assert read_note(journal.path) is None
    write_note(tmp_path / "none", Note(NOW, "a log"))
    assert not (tmp_path / "none").exists()
    with pytest.raises(OSError, match="does not fit"):
        journal.note(Note(NOW, "a log", {f"P{n}": Position(n, n, {"cushion": 5.0}) for n in range(2000)}))


def test_what_a_press_told_of_a_shot_is_moved_with_it() -> None:
    told = SetPointChange("P25", 8, NOW, "hold", 350.0, 360.0, "bar", "K")
    assert renumbered([told], {"P25": 65_000}, {}) == [replace(told, shot=65_008)]
