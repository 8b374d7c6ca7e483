"""Opening a log: made, brought up to date, or refused with a line that says why."""

import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine

from shotlog.channels import CHANNELS
from shotlog.errors import StoreDamaged, StoreMissing, StoreUnreachable, UsageError
from shotlog.records import Shot, Verdict
from shotlog.store.asked import state
from shotlog.store.log import engine, judgements, schema
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.transaction import Transaction

pytestmark = pytest.mark.usefixtures("by_migrations")

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
LAST = list(CHANNELS)[-1]
SHOT = Shot("P25", 1, 1, NOW, {"cushion": 4.97})


def change(path: Path, *statements: str) -> None:
    """Run SQL on the file behind the log's back."""
    with closing(sqlite3.connect(path)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "trial.db"


def differences_from_this_release(path: Path) -> list[object]:
    database = create_engine(f"sqlite:///{path}")
    with database.connect() as connection:
        differences = compare_metadata(MigrationContext.configure(connection), schema.METADATA)
    database.dispose()
    return list(differences)


def test_a_fresh_log_has_the_tables_of_this_release(log: Log, path: Path) -> None:
    assert differences_from_this_release(path) == []


def test_the_newest_migration_is_the_schema_this_release_writes() -> None:
    folder = Path(engine.__file__).parent / "migrations"
    assert ScriptDirectory(str(folder)).get_current_head() == engine.SCHEMA


SAID = Verdict("P25", 1, "M-1", 1, False, "watch", "cushion down", cause="flash", group="press", weight=0.8, onset=1)


def judged_by_an_earlier_release(url: str, path: Path) -> None:
    """Write a log of the first schema: a shot and its verdict."""
    with open_log(url, read_only=False) as log, pytest.MonkeyPatch.context() as patch:
        patch.setattr(Transaction, "name", lambda *_: None)  # no log had a name yet
        log.append([SHOT])
        with log.transaction() as work:
            time = "2026-01-05T06:00:00.000000Z"
            press_id = work.press_id("P25", time)
            judgements.record(
                work, press_id, judgements.open_judging(work, press_id, 1, "by hand", "a test", time), [SAID]
            )
    later = ("shots_by_trial", "verdicts_called", "verdicts_odd", "ledger_of_entries")
    change(path, *(f"DROP INDEX {name}" for name in later), "ALTER TABLE matches DROP COLUMN others")
    change(path, *(f"ALTER TABLE verdicts DROP COLUMN {name}" for name in ("facts", "others", "limits")))
    change(path, "ALTER TABLE baselines DROP COLUMN per_100", "ALTER TABLE events DROP COLUMN half")
    told = ("events", "mountings", "removals", "corrections")
    change(path, *(f"ALTER TABLE {name} DROP COLUMN initials" for name in told))
    change(path, "DROP TABLE places", "DROP TABLE pictures")
    change(path, "ALTER TABLE faults DROP COLUMN more", "ALTER TABLE removals DROP COLUMN newest_mounting")
    change(path, *(f"ALTER TABLE gaps DROP COLUMN {name}" for name in ("least", "most")))
    since = ("logs", "starts", "clock_steps", "anchors", "archives", "signed", "account_changes")
    since += ("set_points", "told", "acknowledgements", "cursors")
    change(path, *(f"DROP TABLE {name}" for name in since))
    change(path, "UPDATE alembic_version SET version_num = '0001'")
    change(path, "PRAGMA wal_checkpoint(TRUNCATE)")


def says_the_same(url: str, read_only: bool) -> tuple[int, str]:
    """Open a log of the first schema and return how it verifies."""
    with open_log(url, read_only=read_only) as log:
        assert [shot.values for shot in log.logged("P25")] == [{"cushion": 4.97}]
        assert state.verdicts(log, "P25") == [SAID]
        assert list(log.verdicts()["others"]) == [""]
        return log.verify()


def test_a_log_of_an_earlier_schema_says_the_same_only_read_or_brought_up_to_date(url: str, path: Path) -> None:
    judged_by_an_earlier_release(url, path)
    before = path.read_bytes()
    digest = says_the_same(url, read_only=True)
    assert path.read_bytes() == before
    assert says_the_same(url, read_only=False) == digest
    assert says_the_same(url, read_only=True) == digest
    assert differences_from_this_release(path) == []


def test_a_log_opens_again_and_keeps_what_it_holds(url: str) -> None:
    with open_log(url, read_only=False) as log:
        log.append([SHOT])
    for read_only in (False, True, False):
        with open_log(url, read_only=read_only) as log:
            assert [shot.values for shot in log.logged("P25")] == [{"cushion": 4.97}]


@pytest.mark.parametrize("name", ["trial 7.db", "100% #1 ü.db", "a&b=c+d;e'f.db"])
def test_odd_names_of_file_and_folder(tmp_path: Path, name: str) -> None:
    folder = tmp_path / f"in {name}"
    folder.mkdir()
    url = f"sqlite:///{(folder / name).as_posix()}"
    with open_log(url, read_only=False) as log:
        log.append([SHOT])
    with open_log(url) as log:
        assert log.last_shot("P25") == (1, 1)
    assert (folder / name).exists()


@pytest.mark.file
@pytest.mark.usefixtures("disk_waited_for")
def test_every_commit_is_synchronised_in_write_ahead_mode(log: Log) -> None:
    with log.transaction() as work:
        asked = {
            name: work.connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys")
        }
    assert asked == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1}


def newer(path: Path) -> None:
    change(path, "UPDATE alembic_version SET version_num = '9999'")


def strange_version(path: Path) -> None:
    change(path, "UPDATE alembic_version SET version_num = 'a1b2c3d4'")


def without_version(path: Path) -> None:
    change(path, "DELETE FROM alembic_version")


def other_tables(path: Path) -> None:
    path.unlink()
    change(path, "CREATE TABLE songs (name TEXT)")


def other_tables_with_versions(path: Path) -> None:
    other_tables(path)
    change(path, "CREATE TABLE alembic_version (version_num TEXT)", "INSERT INTO alembic_version VALUES ('0001')")


def no_database(path: Path) -> None:
    path.write_bytes(b"no database, but long enough to look like one: " * 100)


@pytest.mark.parametrize("read_only", [True, False])
@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (newer, f"written by a newer release \\(schema 9999\\), this one knows up to {engine.SCHEMA}"),
        (strange_version, "given schema 'a1b2c3d4'"),
        (without_version, "given schema None"),
        (other_tables, "holds other tables and no shots"),
        (other_tables_with_versions, "holds other tables and no shots"),
        (no_database, "file is not a database \\(this is some other kind of file\\)"),
    ],
)
def test_what_is_no_log_of_this_release_is_refused_untouched(
    url: str, path: Path, spoil: Callable[[Path], None], said: str, read_only: bool
) -> None:
    open_log(url, read_only=False).close()
    for beside in path.parent.glob("trial.db-*"):
        beside.unlink()
    spoil(path)
    before = path.read_bytes()
    with pytest.raises(StoreDamaged, match=said) as caught:
        open_log(url, read_only=read_only)
    assert "\n" not in str(caught.value)
    assert path.read_bytes() == before


def test_an_empty_file_becomes_a_log_when_written(url: str, path: Path) -> None:
    path.touch()
    with pytest.raises(StoreDamaged, match=f"schema none, allowed here: {engine.SCHEMA}"):
        open_log(url)
    with open_log(url, read_only=False) as log:
        log.append([SHOT])


@pytest.mark.file
def test_a_log_that_is_not_there(url: str, tmp_path: Path) -> None:
    with pytest.raises(StoreMissing, match="there is no such file yet"):
        open_log(url)
    with pytest.raises(StoreUnreachable, match=r"its folder is not there; is its disk or share connected\?") as away:
        open_log(f"sqlite:///{tmp_path.as_posix()}/none/trial.db")
    assert not isinstance(away.value, StoreMissing)
    with pytest.raises(StoreUnreachable, match="the folder does not exist or may not be written"):
        open_log(f"sqlite:///{tmp_path.as_posix()}/none/trial.db", read_only=False)
    with pytest.raises(StoreUnreachable, match="unable to open database file"):
        open_log(f"sqlite:///{tmp_path.as_posix()}", read_only=False)


@pytest.mark.parametrize("url", ["nonsense", "oracle://host/db", "postgresql+nodriver://host/db"])
def test_a_store_of_another_kind(url: str) -> None:
    with pytest.raises(UsageError, match="allowed: sqlite:///FILE or postgresql"):
        open_log(url)


@pytest.fixture
def without_a_channel(url: str, path: Path) -> str:
    """A log written before the last channel was known."""
    with open_log(url, read_only=False) as log:
        log.append([SHOT])
    change(path, f"ALTER TABLE shots DROP COLUMN {LAST}")
    return url


def test_a_new_channel_gets_its_column_when_the_log_is_opened_for_writing(without_a_channel: str, path: Path) -> None:
    with open_log(without_a_channel) as log:
        assert [shot.values for shot in log.logged("P25")] == [{"cushion": 4.97}]
        log.verify()
    with open_log(without_a_channel, read_only=False) as log:
        log.append([Shot("P25", 2, 2, NOW, {LAST: 3.512})])
        assert [shot.values for shot in log.logged("P25")] == [{"cushion": 4.97}, {LAST: 3.512}]
        log.verify()
    assert differences_from_this_release(path) == []


OPEN_AND_APPEND = """
import sys
from datetime import UTC, datetime
from shotlog.records import Shot
from shotlog.store.log.log import open_log
print("ready", flush=True)
sys.stdin.readline()
with open_log(sys.argv[1], read_only=False) as log:
    log.append([Shot(sys.argv[2], 1, 1, datetime(2026, 1, 5, tzinfo=UTC), {"cushion": 4.97})])
"""


def open_at_once(url: str, n: int) -> None:
    """Let `n` processes open a log for writing at the same moment and add a shot each."""
    processes = [
        subprocess.Popen(
            [sys.executable, "-c", OPEN_AND_APPEND, url, f"P{number}"],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )
        for number in range(n)
    ]  # fmt: skip
    for process in processes:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
    for process in processes:
        assert process.stdin is not None
        process.stdin.write("\n")
        process.stdin.flush()
    for process in processes:
        _, errors = process.communicate(timeout=60)
        assert (process.returncode, errors) == (0, "")


def test_processes_that_open_a_new_log_at_once_make_one_log(url: str) -> None:
    open_at_once(url, 3)
    with open_log(url) as log:
        assert sorted(log.presses()) == ["P0", "P1", "P2"]
        assert log.verify()[0] == 3


def test_processes_that_meet_an_older_log_at_once_add_the_column_once(without_a_channel: str) -> None:
    """The second one found the column there already and gave up."""
    open_at_once(without_a_channel, 3)
    with open_log(without_a_channel) as log:
        assert sorted(log.presses()) == ["P0", "P1", "P2", "P25"]
