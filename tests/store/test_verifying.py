"""The hash chain: a row changed, added or taken out after it was written is found, in every table of the record."""

import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Boolean, Connection, Double, LargeBinary, Table, Text, create_engine, func, insert, select

from shotlog.clock import HandClock
from shotlog.errors import StoreDamaged
from shotlog.recorder import Judge
from shotlog.records import Fault, Gap, Link, Shot
from shotlog.store.inserts import entries
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, digest
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.verifying import verify_since
from shotlog.store.undo import take_back
from tests.logs_on_server import LogsOnServer

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
TABLES = sorted(schema.RECORD_TABLES)
NOTHING_LEFT = dict.fromkeys(("first_link", "last_link", "links", "rows"), 0)
"""Of an archive that no row went into: this log has all of its rows."""


def address(path: Path) -> str:
    return f"sqlite:///{path.as_posix()}"


def any_row(table: Table, mark: int) -> dict[str, Any]:
    """Return a row for any table, by the types of its columns; `mark` keeps what must be unique apart."""
    row: dict[str, Any] = {}
    for column in table.columns:
        if column.name == "id":
            continue
        if column.foreign_keys:
            row[column.name] = 1
        elif isinstance(column.type, Text):
            row[column.name] = f"text {mark}"
        elif isinstance(column.type, LargeBinary):
            row[column.name] = bytes([mark % 256])
        elif isinstance(column.type, Boolean):
            row[column.name] = False
        elif isinstance(column.type, Double):
            row[column.name] = mark + 0.5
        else:
            row[column.name] = mark
    return row


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with a row in every table, most of them made in the way they are made at work; verified."""
    path = tmp_path_factory.mktemp("full") / "log"
    with open_log(address(path), read_only=False) as log:
        log.use_trial("trial 7", "cap", "PA66", "2026-01-05T06:00:00Z")
        entries.mount(log, "P25", "M-1", NOW, design="cap-r2")
        ripple = [5.0 + (17 * n) % 11 / 100 - (2.0 if n > 50 else 0.0) for n in range(60)]
        log.append(
            [Shot("P25", n + 1, n + 1, NOW + timedelta(seconds=30 * n), {"cushion": ripple[n]}) for n in range(60)]
        )
        log.append([Gap("P25", 61, 62, NOW, "x"), Fault("P25", NOW, "torn", "x", b"\0"), Link("P25", NOW, "lost", "x")])
        entries.note(log, "P25", "lot", "L2", NOW)
        take_back(log, "events", 1, NOW, "mistyped")
        entries.remove(log, "P25", "M-1", NOW, reason="flash")
        Judge(log, "P25", {}, HandClock()).catch_up()
        with log.transaction() as work:
            for table in schema.METADATA.sorted_tables:
                empty = work.connection.execute(select(func.count()).select_from(table)).scalar() == 0
                if table.name in schema.RECORD_TABLES and empty:
                    work.add(table, **any_row(table, 1) | (NOTHING_LEFT if table is schema.archives else {}))
        judge = Judge(log, "P25", {}, HandClock())
        for shot in range(63, 67):
            log.append([Shot("P25", shot, shot, NOW + timedelta(seconds=30 * shot), {"cushion": 5.0})])
            judge.catch_up()
        log.verify()
    return path


Tamper = Callable[[Connection, Table], object]


def changed(connection: Connection, table: Table) -> None:
    name = [column.name for column in table.columns if isinstance(column.type, Text)][-1]
    more = f"coalesce(\"{name}\", '') || 'x'"  # a column that held nothing as well
    connection.exec_driver_sql(f'UPDATE {table} SET "{name}" = {more} WHERE id = (SELECT max(id) FROM {table})')


def taken_out(connection: Connection, table: Table) -> None:
    connection.exec_driver_sql(f"DELETE FROM {table} WHERE id = (SELECT max(id) FROM {table})")


def added(connection: Connection, table: Table) -> None:
    connection.execute(insert(table).values(any_row(table, 77_000)))


Spoil = Callable[..., str]


@pytest.fixture
def spoiled(full: Path, tmp_path: Path, logs_on_server: LogsOnServer | None) -> Spoil:
    """Copies the log, changes the copy behind its back, and returns its address."""

    def spoil(*changes: str | Callable[[Connection], object]) -> str:
        path = tmp_path / "copy"
        shutil.copyfile(full, path)
        url = address(path)
        if logs_on_server is not None:
            url = logs_on_server.at(url)
        engine = create_engine(url)
        with engine.begin() as connection:
            if logs_on_server is not None:  # else rows that others refer to stay
                connection.exec_driver_sql("SET session_replication_role = replica")
            for change in changes:
                change(connection) if callable(change) else connection.exec_driver_sql(change)
        engine.dispose()
        return url

    return spoil


def refuse(url: str, said: str) -> None:
    with open_log(url) as log, pytest.raises(StoreDamaged, match=said) as caught:
        log.verify()
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("tamper", "table"),
    [*((changed, table) for table in TABLES), *((way, table) for way in (taken_out, added) for table in TABLES[::4])],
)
def test_a_row_tampered_with_is_found(spoiled: Spoil, tamper: Tamper, table: str) -> None:
    url = spoiled(lambda connection: tamper(connection, schema.RECORD_TABLES[table]))
    refuse(url, "was changed later|was taken out|rows where the chain covers")


@pytest.mark.parametrize("column", ["counter", "cushion"])
def test_one_number_of_one_shot_is_enough(spoiled: Spoil, column: str) -> None:
    url = spoiled(f"UPDATE shots SET {column} = {column} + 1 WHERE shot = 7")
    refuse(url, r"transaction \d+ \(.*shots:7.*\) was changed later")


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("DELETE FROM ledger WHERE id = 1", "was changed later"),
        ("DELETE FROM ledger WHERE id = (SELECT max(id) FROM ledger)", "rows where the chain covers"),
        ("UPDATE ledger SET digest = upper(digest) WHERE id = 2", "transaction 2 .* was changed later"),
        ("UPDATE ledger SET rows = 'songs:1' WHERE id = 2", "names 'songs:1', which is no row of the record"),
        ("UPDATE ledger SET rows = 'shots' WHERE id = 2", "names 'shots', which is no row of the record"),
        ("UPDATE ledger SET rows = rows || ' shots:99' WHERE id = 3", "row 99 of shots was taken out"),
    ],
)
def test_the_chain_itself_tampered_with_is_found(spoiled: Spoil, statement: str, said: str) -> None:
    """A name of no table in the chain came out as KeyError."""
    refuse(spoiled(statement), said)


@pytest.mark.parametrize(
    ("change", "seen"),
    [
        ("UPDATE verdicts SET sentence = 'x' WHERE shot = 63", False),
        ("UPDATE verdicts SET sentence = 'x' WHERE shot = 65", True),
        ("UPDATE shots SET cushion = 4 WHERE shot = 65", True),
        ("UPDATE events SET text = 'x' WHERE at_shot < 63", True),
        ("UPDATE removals SET reason = 'x'", True),
        ("DELETE FROM verdicts WHERE shot = 63", True),
        (lambda connection: added(connection, schema.verdicts), True),
        ("UPDATE ledger SET digest = upper(digest) WHERE id = (SELECT max(id) FROM ledger) - 1", True),
    ],
)
def test_of_a_day_its_rows_and_all_entries_are_recomputed(
    spoiled: Spoil, full: Path, change: str | Callable[[Connection], object], seen: bool
) -> None:
    """A report of one day on a log of years read every row back: that took longer than all else in it."""
    with open_log(address(full)) as log:
        whole = log.verify()
    with open_log(spoiled(change)) as log:
        with pytest.raises(StoreDamaged):
            log.verify_since({"P25": 65})
        with log.reading() as connection:
            if seen:
                with pytest.raises(StoreDamaged):
                    verify_since(connection, "x", {"P25": 65}, soon=5)
                return
            *found, first = verify_since(connection, "x", {"P25": 65}, soon=5)
            shots = connection.execute(select(schema.ledger.c.rows).where(schema.ledger.c.id == first)).scalar_one()
    assert tuple(found) == whole
    assert shots == "shots:63"


def test_caches_may_be_thrown_away(spoiled: Spoil) -> None:
    url = spoiled(*(f"DELETE FROM {table.name}" for table in schema.CACHES))
    with open_log(url) as log:
        log.verify()


def test_every_table_is_covered_or_is_a_cache() -> None:
    others = {table.name for table in schema.CACHES} | {"ledger"}
    assert set(schema.METADATA.tables) == others | set(TABLES)


def test_numbers_are_hashed_as_the_database_gives_them_back() -> None:
    def of(value: object) -> str:
        return digest(GENESIS, [("signals", {"id": 1, "value": value})])

    assert of(5) == of(5.0)
    assert of(-0.0) == of(0.0)
    assert of(float("nan")) == of(None)
    assert of(float("inf")) != of(float("-inf"))
    assert of(5.0) != of(5.000000000000001)


def test_a_nan_a_chart_might_give_does_not_break_the_chain(log: Log) -> None:
    with log.transaction() as work:
        press_id = work.press_id("P25", "2026-01-05T06:00:00Z")
        judging_id = work.add(schema.judgings, press_id=press_id, from_shot=0, basis="b", reason="r", time="t")
        fields = {"chart": "c", "channel": "cushion", "rule": "r", "value": -0.0, "centre": float("nan")}
        work.add(
            schema.signals, judging_id=judging_id, press_id=press_id, shot=1, lower=float("-inf"), upper=5, **fields
        )
    log.verify()


def test_the_last_digest_names_the_whole_history(full: Path, spoiled: Spoil) -> None:
    with open_log(address(full)) as log:
        n, last = log.verify()
    with open_log(spoiled("UPDATE presence SET detail = 'x'", "DELETE FROM checkpoints"), read_only=False) as log:
        assert log.verify() == (n, last)
        log.append([Shot("P25", 99, 99, NOW, {})])
        assert log.verify()[0] == n + 1
        assert log.verify()[1] != last
