"""What a shot costs to store and judge, against the same rows through the bare database driver, in one run.

All write to the same disk with a write-ahead log and full synchronisation, one transaction a shot; nothing is
asserted. Run by `make bench`; run by itself it tells what it costs to look whose log it is.
"""

import argparse
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path
from random import Random
from typing import Any

from sqlalchemy import Connection

from shotlog.channels import CHANNELS
from shotlog.clock import HandClock, iso_utc
from shotlog.recorder.judge import Judge
from shotlog.store.log.chain import GENESIS, digest
from shotlog.store.log.identity import Head, Identity
from shotlog.store.log.log import Log, open_log
from tests.benchmark.bench import Bench
from tests.benchmark.made_log import shot
from tests.benchmark.row import Row

HISTORY = 20_000


def bare(path: Path) -> sqlite3.Connection:
    """Return a database as ours is kept, with the barest table of shots and one as ours, and a chain of links."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    for table in TABLES:
        connection.execute(
            table.format(id="INTEGER PRIMARY KEY", real="REAL", channels=CHANNEL_COLUMNS.format(real="REAL"))
        )
    return connection


BAREST = "INSERT INTO barest VALUES ({0}, {0}, {0}, {0}, {0})"
SAME = "INSERT INTO shots (press_id, shot, counter, time, cushion, peak_pressure, fill_time) VALUES (1, {})"
LINK = "INSERT INTO ledger (rows, digest, origin) VALUES ({0}, {0}, {0})"
CHANNEL_COLUMNS = ", ".join(f"{name} {{real}}" for name in CHANNELS)
TABLES = (
    "CREATE TABLE barest (shot {id}, time TEXT, a {real}, b {real}, c {real})",
    "CREATE TABLE shots (id {id}, press_id BIGINT, shot BIGINT, counter BIGINT, time TEXT, trial_id BIGINT, "
    "{channels}, UNIQUE (press_id, shot))",
    "CREATE INDEX by_trial ON shots (trial_id, press_id, shot)",
    "CREATE TABLE ledger (id {id}, rows TEXT, digest TEXT, origin TEXT UNIQUE)",
)


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what a shot costs to store and to judge, in a new log and in one with a history; and on a server."""
    folder = bench.folder / "store"
    folder.mkdir()
    connection = bare(folder / "bare.db")
    buys = "looked at before and after whose log it is, once by its origin, press and trial by name"
    with open_log(f"sqlite:///{folder}/log.db", read_only=False) as log:
        for first in (1, HISTORY + 1):
            costs = measure(log, connection, first, 200)
            after = f"after {first - 1}"
            same = "the same rows through sqlite3: shot, and link with its digest; synchronised as ours"
            barest = "the barest row of five columns through sqlite3, and no link"
            yield Row(f"a shot stored, {after}", "s", costs["store"], costs["same"], same, buys, goal=1.5)
            yield Row(f"a shot stored, {after}", "s", costs["store"], costs["barest"], barest, "the chain", goal=1.5)
            yield Row(f"a shot judged, {after}", "s", costs["judge"], costs["same"], same, "a transaction of its own")
            if first == 1:
                fill(log, 201, HISTORY - 200)
    connection.close()
    if not bench.postgres:
        yield Row.without("a shot stored on PostgreSQL", bench.no_postgres)
        return
    yield from _on_server(bench.postgres)


def _on_server(url: str) -> Iterator[Row]:
    import psycopg

    with psycopg.connect(url.replace("+psycopg", ""), autocommit=True) as peer:
        peer.execute("CREATE SCHEMA bare")
        peer.execute("SET search_path TO bare")
        for table in TABLES:
            channels = CHANNEL_COLUMNS.format(real="DOUBLE PRECISION")
            peer.execute(table.format(id="SERIAL PRIMARY KEY", real="DOUBLE PRECISION", channels=channels))
        with open_log(url, read_only=False) as log:
            costs = measure(log, peer, 1, 200, mark="%s")
    than = "the same rows through psycopg, which is libpq: shot, and link with its digest"
    why = "locked against others, and asked whose log it is and whether it has the shot; two ways there, not four"
    yield Row("a shot stored on PostgreSQL", "s", costs["store"], costs["same"], than, why, goal=1.5)


def measure(log: Log, peer: Any, first: int, n: int, mark: str = "?") -> dict[str, list[float]]:
    """Store each of `n` shots here and by the peer, and judge it; return what each took in seconds.

    Which goes first is drawn for each shot: who comes after the judge finds the caches of the processor full of other
    things, and who comes after a row of its own kind does not.
    """
    clock, random, order = HandClock(), Random(1), Random(2)
    barest, same, link = BAREST.format(mark), SAME.format(", ".join([mark] * 6)), LINK.format(mark)
    begin = "BEGIN IMMEDIATE" if mark == "?" else "BEGIN"
    judge = Judge(log, "P25", {}, clock)
    judge.catch_up()
    head = GENESIS

    def store_barest() -> None:
        peer.execute(begin)
        peer.execute(barest, (number, record.time.isoformat(), *record.values.values()))
        peer.execute("COMMIT")

    def store_same() -> None:
        nonlocal head
        peer.execute(begin)
        moment = iso_utc(record.time)
        peer.execute(same, (number, number, moment, *record.values.values()))
        row = {"id": number, "press_id": 1, "shot": number, "counter": number, "time": moment, **record.values}
        head = digest(head, [("shots", row)])
        peer.execute(link, (f"shots:{number}", head, f"bench:{number}"))
        peer.execute("COMMIT")

    def store() -> None:
        log.append([record], f"bench:{number}")

    works: list[tuple[tuple[str, Callable[[], object]], ...]] = [
        (("barest", store_barest),),
        (("same", store_same),),
        (("store", store), ("judge", judge.catch_up)),
    ]
    costs: dict[str, list[float]] = {"barest": [], "same": [], "store": [], "judge": []}
    for number in range(first, first + n):
        record = shot(number, clock, random)
        for name, work in chain.from_iterable(order.sample(works, len(works))):
            began = time.perf_counter()
            work()
            costs[name].append(time.perf_counter() - began)
    return costs


class Unlooked(Identity):
    """An identity that looks at nothing."""

    def check_file(self) -> None: ...

    def check_commit(self) -> None: ...

    def check_chain(self, connection: Connection, newest: Head | None) -> None: ...


def identity(log: Log, first: int, n: int) -> None:
    """What it costs to look at every transaction whether it is still the log: every other one without."""
    clock, random, looking = HandClock(), Random(3), log._identity
    costs: dict[bool, list[float]] = {True: [], False: []}
    for number in range(first, first + n):
        looks = number % 2 == 0
        log._identity = looking if looks else Unlooked(log.url, None)
        record = shot(number, clock, random)
        began = time.perf_counter()
        log.append([record])
        costs[looks].append(time.perf_counter() - began)
    log._identity = looking
    with_it, without = (statistics.median(costs[looks]) * 1e3 for looks in (True, False))
    print(f"stored {with_it:.3f} ms, without looking whose log it is {without:.3f} ms ({with_it / without - 1:+.1%})")


def fill(log: Log, first: int, n: int) -> None:
    clock, random = HandClock(), Random(2)
    for start in range(first, first + n, 1000):
        log.append([shot(number, clock, random) for number in range(start, min(start + 1000, first + n))])
    Judge(log, "P25", {}, clock).catch_up()


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description="what it costs to look whose log it is")
    parser.add_argument("--history", type=int, default=HISTORY)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, open_log(f"sqlite:///{folder}/log.db", read_only=False) as log:
        fill(log, 1, options.history)
        identity(log, options.history + 1, 600)
