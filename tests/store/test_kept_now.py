"""What those who only read say of shots that wait: exact, and cheap while the logger is at work."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.records import Shot
from shotlog.settings import Settings, load
from shotlog.store.asked.kept import KeptNow, kept_now
from shotlog.store.log.journal import Batch, Journal
from shotlog.store.log.journal_note import Disk, Note
from shotlog.store.log.journal_place import journal_place

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P"\n[press.collector]\nkind = "recording"\n'
DISK = Disk("the log", "/data", 80_000_000, 22_000, None, 2)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    (tmp_path / "c.toml").write_text(CONFIG)
    return load(tmp_path / "c.toml")


def test_while_the_logger_is_at_work_its_note_tells_and_afterwards_the_journal(settings: Settings) -> None:
    place = journal_place(settings)
    assert kept_now(settings, NOW) == KeptNow(place)
    journal = Journal(place, 10_000)
    journal.reserve()
    for n in (1, 2):
        journal.append(Batch(f"a:{n}", (Shot("P25", n, n, NOW + timedelta(seconds=n)),)))
    journal.note(Note(NOW, "a log", {}, 1, 3, NOW, "database is locked", (DISK,)))
    found = kept_now(settings, NOW + timedelta(seconds=10))
    assert found == KeptNow(place, 1, 3, NOW, "database is locked", (DISK,), None, True)
    found = kept_now(settings, NOW + timedelta(minutes=1))
    assert found == KeptNow(place, 2, 0, NOW, "database is locked", (DISK,), by_press={"P25": 2})
    journal.note(Note(NOW, "a log"))
    assert kept_now(settings, NOW + timedelta(minutes=1)) == KeptNow(
        place, 2, since=NOW + timedelta(seconds=1), by_press={"P25": 2}
    )
    journal.damaged.write_bytes(b"x\n")
    assert kept_now(settings, NOW).set_aside == journal.damaged


def test_a_journal_that_cannot_be_read_is_not_known(settings: Settings) -> None:
    journal_place(settings).mkdir()
    assert kept_now(settings, NOW).shots is None
