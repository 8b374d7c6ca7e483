"""How many bytes a shot takes in a log, against the bare row alone; nothing is asserted. Run by `make bench`."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from sqlalchemy import create_engine, text

from tests.benchmark.bench import Bench
from tests.benchmark.made_log import made
from tests.benchmark.row import Row

_SHOTS = 2_000
_MB_A_YEAR = 365 * 24 * 3600 / 75 / 1e6
_BARE = "CREATE TABLE bare (press_id INTEGER, shot INTEGER, counter INTEGER, time TEXT, a REAL, b REAL, c REAL, "
_BARE += "UNIQUE (press_id, shot))"


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what a shot takes on either database: row, verdict, links of the chain, and indexes."""
    yield sqlite(bench.folder / "size.db")
    yield postgres(bench) if bench.postgres else Row.without("a shot in PostgreSQL", bench.no_postgres)


def sqlite(file: Path) -> Row:
    """Return the row of a log in a file."""
    made(f"sqlite:///{file}", _SHOTS)
    with closing(sqlite3.connect(file)) as log, closing(sqlite3.connect(file.with_suffix(".bare"))) as bare:
        log.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        rows = log.execute("SELECT press_id, shot, counter, time, cushion, peak_pressure, fill_time FROM shots")
        bare.execute(_BARE)
        bare.executemany("INSERT INTO bare VALUES (?, ?, ?, ?, ?, ?, ?)", rows)
        bare.commit()
        ours, alone = size(log), size(bare)
    return row("SQLite", ours, alone)


def size(database: sqlite3.Connection) -> dict[str, float]:
    """Return the bytes that the rows of each table take, its indexes included."""
    pages = "SELECT tbl_name, SUM(pgsize) FROM dbstat JOIN sqlite_master USING (name) GROUP BY tbl_name"
    return dict(database.execute(pages).fetchall())


def postgres(bench: Bench) -> Row:
    """Return the row of a log on a server."""
    made(bench.postgres, _SHOTS)
    engine = create_engine(bench.postgres)
    with engine.begin() as connection:
        connection.execute(text(_BARE.replace("REAL", "DOUBLE PRECISION")))
        values = "SELECT press_id, shot, counter, time, cushion, peak_pressure, fill_time FROM shots"
        connection.execute(text(f"INSERT INTO bare {values}"))
        asked = "SELECT relname, pg_total_relation_size(oid) FROM pg_class WHERE relkind = 'r' AND relnamespace = "
        sizes = {name: float(n) for name, n in connection.execute(text(asked + "'public'::regnamespace"))}
    engine.dispose()
    return row("PostgreSQL", {name: n for name, n in sizes.items() if name != "bare"}, {"bare": sizes["bare"]})


def row(where: str, ours: dict[str, float], alone: dict[str, float]) -> Row:
    """Return the row of a database, with the tables that take most of it.

    States of the call are no part of it: the newest are kept, and one in a thousand shots.
    """
    states = ours.pop("checkpoints", 0.0)
    most = sorted(ours.items(), key=lambda one: -one[1])[:3]
    parts = ", ".join(f"{name} {n / _SHOTS:.0f}" for name, n in most)
    total, beside = sum(ours.values()) / _SHOTS, sum(alone.values()) / _SHOTS
    why = (
        f"{parts}; {total * _MB_A_YEAR:.0f} MB a year at 75 s a shot; and {states / 1e6:.1f} MB of states to go on from"
    )
    return Row(f"a shot in {where}", "B", [total], [beside], "its row alone, with an index", why)
