"""What a shot costs to store and judge, against the same row through the bare database driver, in one run.

Both write to the same disk with a write-ahead log and full synchronisation, one transaction a shot; nothing is
asserted. Run by `make bench`; run by itself it tells what it costs to look whose log it is.
"""

import argparse
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

from sqlalchemy import Connection

from shotlog.clock import HandClock
from shotlog.recorder.judge import Judge
from shotlog.store.log.identity import Head, Identity
from shotlog.store.log.log import Log, open_log
from tests.benchmark.bench import Bench
from tests.benchmark.made_log import shot
from tests.benchmark.row import Row

HISTORY = 20_000


def bare(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE shots (shot INTEGER PRIMARY KEY, time TEXT, a REAL, b REAL, c REAL)")
    return connection


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what a shot costs to store and to judge, in a new log and in one with a history."""
    than, folder = "the bare row through sqlite3, synchronised as ours is", bench.folder / "store"
    folder.mkdir()
    connection = bare(folder / "bare.db")
    with open_log(f"sqlite:///{folder}/log.db", read_only=False) as log:
        for first in (1, HISTORY + 1):
            costs = measure(log, connection, first, 200)
            after = f"after {first - 1}"
            yield Row(f"a shot stored, {after}", "s", costs["store"], costs["bare"], than, "", goal=1.5)
            yield Row(f"a shot judged, {after}", "s", costs["judge"], costs["bare"], than, "a transaction of its own")
            if first == 1:
                fill(log, 201, HISTORY - 200)
    connection.close()


def measure(log: Log, connection: sqlite3.Connection, first: int, n: int) -> dict[str, list[float]]:
    clock, random = HandClock(), Random(1)
    judge = Judge(log, "P25", {}, clock)
    judge.catch_up()
    costs: dict[str, list[float]] = {"bare": [], "store": [], "judge": []}
    for number in range(first, first + n):
        record = shot(number, clock, random)
        marks = [time.perf_counter()]
        connection.execute("BEGIN IMMEDIATE")
        row = (number, record.time.isoformat(), *record.values.values())
        connection.execute("INSERT INTO shots VALUES (?, ?, ?, ?, ?)", row)
        connection.execute("COMMIT")
        marks.append(time.perf_counter())
        log.append([record])
        marks.append(time.perf_counter())
        judge.catch_up()
        marks.append(time.perf_counter())
        for name, began, ended in zip(costs, marks, marks[1:], strict=False):
            costs[name].append(ended - began)
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
