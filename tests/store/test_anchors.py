"""The head of a log written down outside: a log that was cut off, emptied, or written anew with a chain that fits."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import select

from shotlog.errors import StoreDamaged, StoreUnreachable, UsageError
from shotlog.store.keeping import anchors
from shotlog.store.keeping.head import contained, head_of, uid_of
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, digest
from shotlog.store.log.log import Log, open_log
from tests.made_shots import START, shots

Forge = Callable[[sqlite3.Connection], None]


def cut_off(connection: sqlite3.Connection, n: int = 60) -> None:
    """Delete the last transactions with all that they wrote: a chain that fits is left."""
    for number, rows in connection.execute("SELECT id, rows FROM ledger ORDER BY id DESC LIMIT ?", (n,)).fetchall():
        for table, _, row in (word.partition(":") for word in rows.split()):
            connection.execute(f"DELETE FROM {table} WHERE id = ?", (row,))
        connection.execute("DELETE FROM ledger WHERE id = ?", (number,))


def emptied(connection: sqlite3.Connection) -> None:
    """Empty every table but the one that says which log this is, and begin the chain with that alone."""
    for name in {*schema.RECORD_TABLES, "ledger", "checkpoints", "presence"} - {"logs"}:
        connection.execute(f"DELETE FROM {name}")
    chain_anew(connection, [[("logs", row) for (row,) in connection.execute("SELECT id FROM logs")]])


def one_shot_changed(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE shots SET cushion = 4.2 WHERE shot = 7")
    links = connection.execute("SELECT rows FROM ledger ORDER BY id").fetchall()
    chain_anew(
        connection, [[(word.split(":")[0], int(word.split(":")[1])) for word in one.split()] for (one,) in links]
    )


def chain_anew(connection: sqlite3.Connection, links: list[list[tuple[str, int]]]) -> None:
    """Work out the chain again over what stands there now, as somebody would who knows how it is made."""
    connection.row_factory = sqlite3.Row
    connection.execute("DELETE FROM ledger")
    before = GENESIS
    for number, names in enumerate(links, 1):
        rows = [
            (table, dict(connection.execute(f"SELECT * FROM {table} WHERE id = ?", (row,)).fetchone()))
            for table, row in names
        ]
        before = digest(before, rows)
        told = " ".join(f"{table}:{row}" for table, row in names)
        connection.execute("INSERT INTO ledger (id, rows, digest) VALUES (?, ?, ?)", (number, told, before))


@pytest.fixture
def kept(log: Log, tmp_path: Path) -> tuple[Log, Path]:
    """A log of 100 shots, a transaction each, with its head written down at 40 and at the end."""
    folder = tmp_path / "outside"
    for number, shot in enumerate(shots(1, 100), 1):
        log.append([shot])
        if number in (40, 100):
            assert anchors.write_anchor(log, folder, "run", START + timedelta(minutes=number)) is not None
    return log, folder


def forged(tmp_path: Path, forge: Forge) -> str:
    """Return the URL of a copy of the log that was forged, put where the log stood."""
    path = tmp_path / "trial.db"
    with closing(sqlite3.connect(path)) as connection:
        forge(connection)
        connection.commit()
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return f"sqlite:///{path.as_posix()}"


@pytest.mark.either
def test_a_log_is_confirmed_up_to_where_its_head_was_last_written_down(kept: tuple[Log, Path]) -> None:
    log, folder = kept
    log.append(shots(101, 101))
    log.verify()
    found = anchors.compare(log, folder)
    assert found.newest is not None
    assert (found.newest.head.links, found.n, found.beyond, found.unread) == (head_of(log).links - 1, 2, None, 0)
    assert found.newest.time == START + timedelta(minutes=100)


@pytest.mark.parametrize(
    ("forge", "said"),
    [
        (cut_off, "its end is missing: 10. transactions were written down .* and it has"),
        (emptied, "its end is missing|written anew since"),
        (one_shot_changed, "transaction 4. is not the one that was written down .* written anew since"),
    ],
)
def test_a_log_forged_with_a_chain_that_fits_is_found(
    kept: tuple[Log, Path], tmp_path: Path, forge: Forge, said: str
) -> None:
    """The chain alone verified each of them."""
    log, folder = kept
    before = head_of(log).digest
    log.close()
    with open_log(forged(tmp_path, forge)) as log:
        log.verify()
        with pytest.raises(StoreDamaged, match=said):
            anchors.compare(log, folder)
        with pytest.raises(StoreDamaged, match="its end is missing, or it is another log"):
            contained(log, before)
        with pytest.raises(StoreDamaged, match=r"its end is missing|written anew since"):
            anchors.write_anchor(log, folder, "run", START)
    (path,) = folder.glob("*")
    assert len(path.read_text().splitlines()) == 3


def test_a_log_with_every_table_emptied_is_found(kept: tuple[Log, Path], tmp_path: Path) -> None:
    """Nothing is left in it, not even which log it was."""
    log, folder = kept
    log.close()

    def all_emptied(connection: sqlite3.Connection) -> None:
        for name in {*schema.METADATA.tables}:
            connection.execute(f"DELETE FROM {name}")

    with open_log(forged(tmp_path, all_emptied)) as log:
        assert log.verify() == (0, GENESIS)
        with pytest.raises(StoreDamaged, match=r"this is another log: the one that stood here had 10\d transactions"):
            anchors.compare(log, folder)


def test_another_log_put_in_the_place_of_one_is_found(kept: tuple[Log, Path], tmp_path: Path) -> None:
    log, folder = kept
    log.close()
    for path in tmp_path.glob("trial.db*"):
        path.rename(tmp_path / f"put-aside-{path.name}")
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as other:
        other.append(shots(1, 3))
        with pytest.raises(StoreDamaged, match=r"this is another log: the one that stood here had 10\d transactions"):
            anchors.compare(other, folder)


def test_a_log_that_goes_on_from_a_backup_says_so_and_is_confirmed_up_to_it(kept: tuple[Log, Path]) -> None:
    """It was restored at transaction 40: what was written down of the old one afterwards is not in it."""
    log, folder = kept
    uid = uid_of(log)
    with log.reading() as connection:
        at = connection.execute(select(schema.ledger.c.digest).where(schema.ledger.c.rows == "shots:40")).scalar_one()
    log.close()
    with open_log(
        forged(Path(log.url.removeprefix("sqlite:///")).parent, lambda c: cut_off(c, 60)), read_only=False
    ) as log:
        with log.transaction() as work:
            work.name("restored from a backup", follows=uid, digest=at)
        log.verify()
        told = anchors.compare(log, folder)
        assert told.newest is not None
        assert told.beyond is not None
        assert told.newest.head.digest == at
        assert told.beyond.head.links == told.newest.head.links + 60
        assert anchors.write_anchor(log, folder, "run", START) is not None
        assert anchors.compare(log, folder).n == 2


def test_the_digest_of_a_report_is_found_where_it_stands(kept: tuple[Log, Path]) -> None:
    log, _ = kept
    head = head_of(log)
    log.append(shots(101, 103))
    log.append(shots(104, 104))
    assert contained(log, head.digest) == (head.links, 2)
    assert contained(log, f" {head.digest[:16].upper()} ") == (head.links, 2)
    assert contained(log, GENESIS) == (0, head.links + 2)
    for wrong in ("", head.digest[:15], "z" * 64, head.digest + "0", "%" * 16):
        with pytest.raises(UsageError, match="allowed: a digest"):
            contained(log, wrong)


def test_only_a_head_that_moved_on_is_written_down_and_a_cut_line_harms_nothing(kept: tuple[Log, Path]) -> None:
    log, folder = kept
    (path,) = folder.glob("*.anchors")
    assert anchors.write_anchor(log, folder, "run", START) is None
    with path.open("ab") as file:
        file.write(b"2026-01-05T06:0")
    log.append(shots(101, 101))
    assert anchors.write_anchor(log, folder, "report day.html", START) is not None
    assert path.read_text().splitlines()[-1].endswith(" report day.html")
    found = anchors.compare(log, folder)
    assert (found.n, found.unread) == (3, 1)


def test_a_log_without_a_name_and_a_folder_that_is_not_there(log: Log, tmp_path: Path) -> None:
    with pytest.raises(StoreUnreachable, match="has no name yet"):
        anchors.write_anchor(log, tmp_path / "outside", "run", START)
    log.append(shots(1, 1))
    with pytest.raises(StoreUnreachable, match=r"anchor .*[nN]o such"):
        anchors.write_anchor(log, tmp_path / "away" / "outside", "run", START)
    assert anchors.compare(log, tmp_path / "outside").newest is None
