"""What the log will not take waits and goes in later, in order, once."""

import logging
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.clock import HandClock
from shotlog.collectors.base import Resume
from shotlog.errors import StoreDamaged, StoreGone, StoreUnreachable, UsageError
from shotlog.recorder.blind import Start
from shotlog.recorder.noting import Noting
from shotlog.recorder.outbox import Outbox
from shotlog.records import Event, Fault, Gap, SetPoint, SetPointChange, Shot
from shotlog.store.asked import state
from shotlog.store.asked.faults import faults
from shotlog.store.log.journal import Batch, Journal, Spooled
from shotlog.store.log.journal_space import LINES_AT, JournalSpace
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import Asked
from shotlog.store.log.recovery import PutRight
from shotlog.store.log.transaction import Record, Trial

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def batch(number: int) -> list[Spooled]:
    return [Gap("P25", 2 * number, 2 * number, NOW, "x"), Shot("P25", 2 * number + 1, 0, NOW, {"cushion": 4.97})]


class Trouble(Log):
    """The log under test, with a switch: refuses every transaction, or takes it and says that it did not."""

    def __init__(self, log: Log) -> None:
        super().__init__(log.url, log._writer, log._reader)
        self.mood = ""
        self.n_reopened = 0
        self.refused = -1
        self.done: PutRight | None = None

    def append(
        self, records: Iterable[Record | SetPointChange], origin: str | None = None, trial: Trial = None
    ) -> list[Event | Fault]:
        given = list(records)
        if any(isinstance(one, Shot) and one.shot == self.refused for one in given):
            raise UsageError("text: given what no log takes")
        if any(isinstance(one, Shot) and "refused" in one.set_points for one in given):
            raise UsageError("set-point: given what no log takes")
        return super().append(given, origin, trial)

    def took(self) -> None:
        """Do nothing; a test puts the time here that a transaction takes."""

    def reopen(self) -> PutRight | None:
        self.n_reopened += 1
        super().reopen()
        return self.done

    @contextmanager
    def transaction(self, origin: str | None = None, asked: Sequence[Asked] = ()) -> Iterator[object]:
        if self.mood == "out of reach":
            raise StoreUnreachable("log: database is locked")
        if self.mood == "damaged":
            with self._noticed():
                raise StoreDamaged("log: database disk image is malformed")
        with super().transaction(origin, asked) as work:
            yield work
        self.took()
        if self.mood == "silent":
            raise StoreUnreachable("log: server closed the connection unexpectedly")


@pytest.fixture
def trouble(log: Log) -> Trouble:
    return Trouble(log)


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return Journal(tmp_path / "trial.db.p.journal", 50_000)


@pytest.fixture
def outbox(trouble: Trouble, journal: Journal, clock: HandClock) -> Outbox:
    return Outbox(trouble, journal, clock)


def stored(log: Log) -> list[int]:
    assert [gap.first + 1 for gap in state.gaps(log, "P25")] == [shot.shot for shot in log.logged("P25")]
    return [shot.shot for shot in log.logged("P25")]


def kept(journal: Journal) -> list[list[Spooled]]:
    """Return what a process that starts anew finds in the journal."""
    return [[*one.records] for one in Journal(journal.path).batches()]


def test_a_log_that_works_needs_no_journal(outbox: Outbox, journal: Journal, log: Log) -> None:
    assert outbox.deliver(batch(1))[0] == "log"
    assert outbox.drain()
    assert stored(log) == [3]
    assert not journal.path.exists()


def test_what_is_refused_waits_in_the_journal_and_goes_in_later_in_order(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock, caplog: pytest.LogCaptureFixture
) -> None:
    outbox.deliver(batch(1))
    trouble.mood = "out of reach"
    assert outbox.deliver(batch(2))[0] == "journal"
    assert "database is locked; shots are kept in " in caplog.text
    assert outbox.deliver(batch(3))[0] == "journal"
    trouble.mood = ""
    assert outbox.deliver(batch(4))[0] == "journal"  # too soon to try again
    assert outbox.waiting == len(kept(journal)) == 3
    clock.advance(5.0)
    assert outbox.deliver(batch(5))[0] == "log"
    assert stored(trouble) == [3, 5, 7, 9, 11]
    assert outbox.waiting == 0
    assert kept(journal) == []
    assert "the log can be written again; 3 shots that waited are in it now (P25 5 to 9)" in caplog.text
    trouble.mood = "out of reach"
    assert outbox.deliver(batch(6))[0] == "journal"
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.drain()
    assert "1 shot that waited is in it now (P25 13)" in caplog.text
    trouble.verify()


def test_another_thing_to_be_done_about_it_is_said_and_none_twice(
    outbox: Outbox, caplog: pytest.LogCaptureFixture
) -> None:
    """Only the first reason was ever said: that it was deleted, and never that there is no room to bring it back."""
    for said in ("it was deleted", "make room", "it was deleted", "make room"):
        outbox.mistrust(StoreGone(f"log trial.db: {said}"))
    assert [one.message.split(";")[0] for one in caplog.records] == [
        "log trial.db: it was deleted",
        "log trial.db: make room",
    ]


def test_what_a_killed_run_left_in_the_journal_goes_in_at_the_next_start(
    outbox: Outbox, journal: Journal, trouble: Trouble
) -> None:
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    outbox.deliver(batch(2))
    trouble.mood = ""
    restarted = Outbox(trouble, journal, HandClock())
    assert restarted.waiting == 2
    assert restarted.start("P25") == Start(Resume(5, 0, {"cushion": 4.97}))
    assert restarted.start("P50") == Start(None)
    assert restarted.drain()
    assert stored(trouble) == [3, 5]


def test_drained_and_killed_before_the_journal_was_cleared(outbox: Outbox, journal: Journal, trouble: Trouble) -> None:
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    kept = journal.path.read_bytes()
    trouble.mood = ""
    for _ in range(2):
        journal.path.write_bytes(kept)
        assert Outbox(trouble, journal, HandClock()).drain()
    assert stored(trouble) == [3]


def test_a_journal_that_could_not_be_cleared_is_cleared_later_and_all_is_well_again(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every shot was in the log, and it was called out of reach for ever."""
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    trouble.mood = ""
    clock.advance(5.0)
    with monkeypatch.context() as at:
        at.setattr(JournalSpace, "wipe", lambda *_: (_ for _ in ()).throw(OSError("disk")))
        assert not outbox.drain()
    clock.advance(5.0)
    assert outbox.deliver(batch(2))[0] == "log"
    assert (outbox.since, outbox.why, outbox.waiting) == (None, "", 0)
    assert stored(trouble) == [3, 5]


def test_a_log_that_goes_away_half_way_through_a_drain(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock
) -> None:
    trouble.mood = "out of reach"
    for number in (1, 2, 3):
        outbox.deliver(batch(number))
    trouble.mood = "silent"
    clock.advance(5.0)
    assert not outbox.drain()
    assert outbox.waiting == 3
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.drain()
    assert stored(trouble) == [3, 5, 7]


def test_a_batch_the_log_took_without_being_able_to_say_so_is_stored_once(
    outbox: Outbox, trouble: Trouble, clock: HandClock
) -> None:
    """The shot was known by its number; the gap before it was counted twice."""
    trouble.mood = "silent"
    assert outbox.deliver(batch(1))[0] == "journal"
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.drain()
    assert stored(trouble) == [3]


def test_log_and_journal_out_of_reach_keeps_in_memory_and_says_so_loudly(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock, caplog: pytest.LogCaptureFixture
) -> None:
    trouble.mood = "out of reach"
    journal.path.mkdir()
    caplog.set_level(logging.ERROR)
    assert outbox.deliver(batch(1))[0] == "memory"
    assert outbox.deliver(batch(2))[0] == "memory"
    assert "1 shot is in memory only: MAKE ROOM, DO NOT SWITCH OFF" in caplog.text
    assert (outbox.waiting, outbox.n_waiting, outbox.n_unsafe) == (2, 0, 2)
    journal.path.rmdir()
    assert outbox.deliver(batch(3))[0] == "journal"  # the journal can be written again: memory goes there first
    assert kept(journal) == [batch(1), batch(2), batch(3)]
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.drain()
    assert stored(trouble) == [3, 5, 7]


def test_closing_tries_a_last_time(outbox: Outbox, journal: Journal, trouble: Trouble) -> None:
    """What was in memory only was lost with exit status 0."""
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    trouble.mood = ""
    outbox.close()
    assert stored(trouble) == [3]
    assert kept(journal) == []


def test_closing_says_what_is_lost(outbox: Outbox, journal: Journal, trouble: Trouble) -> None:
    trouble.mood = "out of reach"
    journal.path.mkdir()
    outbox.deliver(batch(1))
    outbox.deliver(batch(2))
    assert [[*one.records] for one in outbox.close()] == [batch(1), batch(2)]
    journal.path.rmdir()
    assert outbox.close() == []
    assert kept(journal) == [batch(1), batch(2)]


def test_a_damaged_log_is_opened_again_and_takes_what_waits(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock
) -> None:
    """It was given up for ever, and what came after was in the journal of a logger that never looked again."""
    trouble.mood = "damaged"
    assert outbox.deliver(batch(1))[0] == "journal"
    clock.advance(5.0)
    assert outbox.deliver(batch(2))[0] == "journal"
    outbox.putting_right.join()
    assert not outbox.drain()
    assert (trouble.n_reopened, stored(trouble)) == (1, [])
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.deliver(batch(3))[0] == "journal"
    outbox.putting_right.join()
    assert outbox.drain()
    assert (trouble.n_reopened, stored(trouble)) == (2, [3, 5, 7])


def test_a_log_found_damaged_by_reading_is_opened_again_before_it_is_written(outbox: Outbox, trouble: Trouble) -> None:
    trouble.mood = "damaged"
    with pytest.raises(StoreDamaged), trouble.transaction():
        pass
    trouble.mood = ""
    outbox.mistrust(StoreDamaged("log: database disk image is malformed"))
    assert outbox.deliver(batch(1))[0] == "journal"
    outbox.putting_right.join()
    assert outbox.drain()  # a moment later: mostly it can be put right
    assert (trouble.n_reopened, stored(trouble)) == (1, [3])


def test_moving_what_waits_leaves_time_for_what_comes(
    outbox: Outbox, trouble: Trouble, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A hundred thousand shots went into the log at one go, and meanwhile nothing was taken from the presses."""
    trouble.mood = "out of reach"
    for number in range(1, 7):
        outbox.deliver(batch(number))
    trouble.mood = ""
    clock.advance(5.0)
    monkeypatch.setattr(trouble, "took", lambda: clock.advance(0.2))
    assert not outbox.drain()
    assert outbox.is_moving
    assert 0 < len(stored(trouble)) < 6
    assert (outbox.waiting, outbox.n_waiting) == (6 - len(stored(trouble)),) * 2
    assert outbox.deliver(batch(7))[0] == "journal"
    while not outbox.drain():
        pass
    assert stored(trouble) == [3, 5, 7, 9, 11, 13, 15]


def test_a_line_that_does_not_read_is_set_aside_and_the_rest_goes_in(
    outbox: Outbox, journal: Journal, trouble: Trouble, caplog: pytest.LogCaptureFixture
) -> None:
    """One damaged line ended the run, and no start was possible any more."""
    trouble.mood = "out of reach"
    for number in (1, 2, 3):
        outbox.deliver(batch(number))
    journal.path.write_bytes(journal.path.read_bytes().replace(b'"shot": 5', b'"shot": 7'))
    trouble.mood = ""
    for _ in range(2):  # the second start finds it cleared
        restarted = Outbox(trouble, Journal(journal.path, 50_000), HandClock())
        restarted.open()
        assert restarted.drain()
    assert [shot.shot for shot in trouble.logged("P25")] == [3, 7]
    assert [(gap.first, gap.last) for gap in state.gaps(trouble, "P25")] == [(2, 2), (4, 5), (6, 6)]
    assert state.gaps(trouble, "P25")[1].reason == "lost with a damaged line of the journal"
    assert caplog.text.count("a line does not read (its checksum is another); it is set aside in ") == 1
    assert b'"shot": 7' in journal.damaged.read_bytes()
    (fault,) = [one for one in faults(trouble, "P25") if one.kind != "log"]
    assert (fault.kind, fault.detail) == (
        "journal",
        "a line of the journal does not read (its checksum is another); it was set aside in trial.db.p.journal.damaged",
    )
    trouble.verify()


def test_the_journal_of_an_earlier_release_is_taken_in(
    outbox: Outbox, journal: Journal, trouble: Trouble, tmp_path: Path
) -> None:
    spool = tmp_path / "trial.db.p.spool"
    spool.write_bytes(
        b'{"origin": "x:1", "records": [{"record": "Gap", "press": "P25", "first": 2, "last": 2, "time": '
        b'"2026-01-05T06:00:00.000000Z", "reason": "x"}, {"record": "Shot", "press": "P25", "shot": 3, "counter": 0, '
        b'"time": "2026-01-05T06:00:00.000000Z", "values": {"cushion": 4.97}, "came": "", "no_part": ""}]}\n'
    )
    outbox.open((spool,))
    assert not spool.exists()
    assert outbox.drain()
    assert stored(trouble) == [3]


@pytest.mark.parametrize("damaged", [1, 2, 3])
def test_what_a_damaged_line_took_is_a_gap_wherever_it_stood(
    outbox: Outbox, journal: Journal, trouble: Trouble, damaged: int
) -> None:
    """Between shots 12 and 14 the log had neither shot 13 nor a gap."""
    outbox.deliver([Shot("P25", 10, 10, NOW, {})])
    trouble.mood = "out of reach"
    for number in (1, 2, 3):
        outbox.deliver([Shot("P25", 10 + number, 10 + number, NOW, {"cushion": float(number)})])
    data = journal.path.read_bytes()
    journal.path.write_bytes(data.replace(b'"cushion": %d.0' % damaged, b'"cushion": 9.0'))
    trouble.mood = ""
    again = Outbox(trouble, Journal(journal.path, 50_000), HandClock())
    again.open()
    assert again.drain()
    again.deliver([Shot("P25", 14, 14, NOW, {})])
    again.deliver([Gap("P25", 15, 16, NOW, "counter went on"), Shot("P25", 17, 17, NOW, {})])
    lost = 10 + damaged
    assert [shot.shot for shot in trouble.logged("P25")] == [n for n in (10, 11, 12, 13, 14, 17) if n != lost]
    assert [(gap.first, gap.last) for gap in state.gaps(trouble, "P25")] == [(lost, lost), (15, 16)]


@pytest.mark.parametrize(
    ("name", "was", "becomes"),
    [("press-1", b"press-1", b"prexs-1"), ("Pr\u00e9ss", b"u00e9", b"u0000"), ("Pr\u00e9ss", b"u00e9", b"ud8e9"),
     ("press-1", b'"press": "press-1', b'"prexx": "press-1')],
)  # fmt: skip
def test_no_press_is_made_of_a_damaged_line_and_none_ends_a_run(
    journal: Journal, trouble: Trouble, name: str, was: bytes, becomes: bytes
) -> None:
    """One turned byte made a press for ever, or a name that no record takes, with which no run could start again."""
    for n in range(1, 4):
        journal.append(Batch(f"a:{n}", (Shot(name, n, n, NOW, {"cushion": 4.9}),)))
    raw = journal.path.read_bytes()
    at = raw.index(was, raw.index(b"\n", LINES_AT))
    journal.path.write_bytes(raw[:at] + becomes + raw[at + len(was) :])
    for _ in range(2):
        again = Outbox(trouble, Journal(journal.path), HandClock(), None, (name, "other"))
        again.open()
        assert again.drain()
    assert [shot.shot for shot in trouble.logged(name)] == [1, 3]
    assert set(trouble.presses()) <= {name, "other"}
    assert [one.kind for one in faults(trouble, name) if one.kind != "log"] == ["journal"]


def test_what_the_log_refuses_for_its_content_is_set_aside_and_the_rest_of_it_goes_in(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock, caplog: pytest.LogCaptureFixture
) -> None:
    """It ended the run, and with the batch in the journal every later start as well."""
    outbox.deliver([Shot("P25", 1, 1, NOW, {})])
    trouble.refused = 3
    place, taken = outbox.deliver([Shot("P25", 2, 2, NOW, {}), Shot("P25", 3, 3, NOW, {}), Shot("P25", 4, 4, NOW, {})])
    assert (place, [one.shot for one in taken if isinstance(one, Shot)]) == ("log", [2, 4])
    assert caplog.text.count("the log refuses what came from a press (text: given what no log takes)") == 1
    assert b'"shot": 3' in journal.damaged.read_bytes()
    trouble.mood = "out of reach"
    outbox.deliver([Shot("P25", 3, 3, NOW, {}), Shot("P25", 5, 5, NOW, {})])
    trouble.mood = ""
    for _ in range(2):
        again = Outbox(trouble, Journal(journal.path), HandClock())
        again.open()
        assert again.drain()
    assert [shot.shot for shot in trouble.logged("P25")] == [1, 2, 4, 5]
    assert {(one.kind, one.detail) for one in faults(trouble, "P25") if one.kind != "log"} == {
        (
            "journal",
            "the log refused what came (text: given what no log takes); it was set aside in trial.db.p.journal.damaged",
        )
    }


def test_a_set_point_that_the_log_refuses_costs_no_shot(outbox: Outbox, journal: Journal, trouble: Trouble) -> None:
    outbox.deliver([Shot("P25", 1, 1, NOW, {}, set_points={"refused": SetPoint(1.0)})])
    assert [shot.shot for shot in trouble.logged("P25")] == [1]
    assert b'"refused": [1.0, ""]' in journal.damaged.read_bytes()


def test_set_points_that_waited_in_the_journal_are_entered_as_if_they_had_not(
    outbox: Outbox, trouble: Trouble, clock: HandClock
) -> None:
    def read(n: int, bar: float) -> Shot:
        return Shot("P25", n, n, NOW, {}, set_points={"hold_pressure": SetPoint(bar, "bar")})

    _, taken = outbox.deliver([read(1, 350.0), read(2, 360.0)])
    assert [one.text for one in taken if isinstance(one, Event)] == ["hold pressure 350 -> 360 bar"]
    trouble.mood = "out of reach"
    outbox.deliver([read(3, 360.0), read(7, 370.0)])
    outbox.deliver([SetPointChange("P25", 8, NOW, "hold_pressure", 370.0, 380.0, "bar", "K"), read(8, 380.0)])
    trouble.mood = ""
    clock.advance(60.0)
    assert outbox.drain()
    assert [(one.at_shot, one.text) for one in trouble.timeline("P25").events] == [
        (2, "hold pressure 350 -> 360 bar"),
        (7, "hold pressure 360 -> 370 bar (between shots 3 and 7)"),
        (8, "hold pressure 370 -> 380 bar (by K at the press)"),
    ]


def test_what_the_log_refuses_and_cannot_be_set_aside_waits(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock
) -> None:
    trouble.refused = 3
    journal.damaged.mkdir()
    assert outbox.deliver([Shot("P25", 3, 3, NOW, {})])[0] == "journal"
    journal.damaged.rmdir()
    clock.advance(5.0)
    assert outbox.drain()
    assert b'"shot": 3' in journal.damaged.read_bytes()


def told(log: Log, press: str = "P25") -> list[str]:
    return [one.detail for one in faults(log, press) if one.kind == "log"]


def test_that_the_log_was_out_of_reach_is_on_record_once_with_the_shots_that_waited(
    outbox: Outbox, trouble: Trouble, clock: HandClock
) -> None:
    """Who read the record later saw nothing of a log that was locked while 59 shots came."""
    outbox.deliver(batch(1))
    outbox.start("P25")
    outbox.start("P50")
    trouble.mood = "out of reach"
    outbox.deliver(batch(2))
    outbox.deliver(batch(3))
    clock.advance(38.0)
    trouble.mood = ""
    outbox.deliver(batch(4))
    assert told(trouble) == [
        "the log could not be written for 38 s, since 2026-01-05 06:00:00 UTC (log: database is locked); "
        "2 shots of this press waited and are in it now: 5 to 7"
    ]
    assert told(trouble, "P50") == []
    outbox.deliver(batch(5))
    assert len(told(trouble)) == 1
    trouble.verify()


def test_what_was_done_to_the_log_is_on_record_for_every_press(
    outbox: Outbox, trouble: Trouble, clock: HandClock
) -> None:
    outbox.start("P50")
    trouble.mood = "damaged"
    outbox.deliver(batch(1))
    trouble.mood, trouble.done = "", PutRight("put back", Path("trial.db"), "trial.db.aside-1", whole=True)
    clock.advance(5.0)
    outbox.drain()
    outbox.putting_right.join()
    assert outbox.drain()
    was = (
        "the log could not be written for 5 s, since 2026-01-05 06:00:00 UTC (log: database disk image is malformed); "
        "another file was put in its place, and all of it was put back; what lay there is kept as trial.db.aside-1; "
    )
    assert told(trouble) == [f"{was}1 shot of this press waited and is in it now: 3"]
    assert told(trouble, "P50") == [f"{was}no shot of this press had to wait"]


def test_of_shots_that_waited_for_the_next_start_it_is_on_record_since_when(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock
) -> None:
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    Noting(journal, outbox, clock, "trial.db").turn()
    trouble.mood = ""
    clock.advance(7200.0)
    restarted = Outbox(trouble, Journal(journal.path, 50_000), clock)
    restarted.open()
    assert restarted.drain()
    assert told(trouble) == [
        "the log could not be written for 2 h, since 2026-01-05 06:00:00 UTC (log: database is locked); "
        "1 shot of this press waited and is in it now: 3"
    ]
