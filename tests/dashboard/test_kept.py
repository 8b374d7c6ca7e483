"""What waits, and which disk is low, on the screens: from the note of the logger, read only when it changed."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from dashboard.press.page import look
from dashboard.presses.page import _room
from dashboard.shared.held import HeldReader
from dashboard.shared.kept import KeptReader, low_disks
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from shotlog.clock import HandClock
from shotlog.settings import load
from shotlog.store.asked.backed_up import note_backup, note_failure
from shotlog.store.log.journal import Journal
from shotlog.store.log.journal_note import Disk, Note
from shotlog.store.log.journal_place import journal_place
from shotlog.store.log.log import Log

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
LOW = Disk("the log", "/data", 80_000_000, 22_000, None, 2)
ROOM = Disk("the journal", "/spare", 80_000_000_000, 22_000_000, 900.0)
CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'


@pytest.fixture
def source(log: Log, tmp_path: Path) -> Source:
    (tmp_path / "c.toml").write_text(CONFIG)
    return Source(load(tmp_path / "c.toml"), HandClock(NOW))


def test_a_low_disk_and_shots_that_wait_are_told_at_the_press_and_among_the_presses(source: Source) -> None:
    context = Context(source, PressReader(source), HeldReader(source))
    assert look(context, NOW)["P25"][1].notices == ()
    journal = Journal(journal_place(source.settings))
    journal.open()
    journal.note(Note(NOW, "a log", {}, 3, 0, NOW, "database is locked", (LOW, ROOM)))
    words = look(context, NOW)["P25"][1]
    assert words.headline.startswith("Log not written since ")
    assert words.sentence == "No shot in the log yet. Database is locked."
    assert (
        words.safe == f"Safe: 3 shots of all presses wait on disk and go into the log, in the journal {journal.path}."
    )
    assert words.notices == (
        "NEARLY FULL: disk of the log (/data): 80 MB free, enough for about 22,000 shots; make room there",
    )
    assert _room(source.kept.now()) == [
        "Disk of the log (/data): 80 MB free, enough for about 22,000 shots",
        "Disk of the journal (/spare): 80 GB free, enough for about 22,000,000 shots, or 900 h as it grows now",
    ]
    journal.note(Note(NOW, "a log", {}, 0, 0, None, "", (ROOM,)))
    assert look(context, NOW)["P25"][1].notices == ()
    journal.damaged.write_bytes(b"x\n")
    journal.note(Note(NOW, "a log", {}, 0, 0, None, "", (ROOM,)))
    (said,) = low_disks(source.kept.now())
    assert said.startswith(f"a line of the journal did not read and lies in {journal.damaged}")
    source.close()


def test_backups_that_fail_are_told_at_the_press_in_a_line(log: Log, tmp_path: Path) -> None:
    (tmp_path / "c.toml").write_text(CONFIG.replace("[[press]]", 'backup = "share"\n[[press]]'))
    source = Source(load(tmp_path / "c.toml"), HandClock(NOW))
    context = Context(source, PressReader(source), HeldReader(source))
    assert look(context, NOW)["P25"][1].notices == ("No backup is made any more; more on Presses",)
    note_backup(log, "trial-20260105T060000Z.zip", NOW)
    assert look(context, NOW)["P25"][1].notices == ()
    note_failure(log, "there is no folder share", NOW)
    (said,) = look(context, NOW)["P25"][1].notices
    assert said.startswith("Backups fail since ")
    source.close()


def test_what_has_not_changed_is_not_read_again(source: Source, monkeypatch: pytest.MonkeyPatch) -> None:
    """A journal of a hundred thousand shots takes seconds to read, and a page asks every second."""
    journal = Journal(journal_place(source.settings))
    journal.open()
    first = source.kept.now()
    monkeypatch.setattr("dashboard.shared.kept.kept_now", lambda *_: pytest.fail("read again"))
    assert source.kept.now() is first
    source.close()


def test_a_logger_that_is_killed_while_shots_wait_is_at_work_for_some_seconds_only(source: Source) -> None:
    """Its note was read once, and said for ever that it was at work."""
    journal = Journal(journal_place(source.settings))
    journal.open()
    journal.note(Note(NOW, "a log", {}, 3, 0, NOW, "database is locked"))
    clock = HandClock(NOW)
    reader = KeptReader(source.settings, clock)
    assert reader.now().alive
    clock.advance(20.0)
    assert not reader.now().alive
    source.close()
