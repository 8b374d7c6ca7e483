"""A thousand presses at a centre: 20 edges of 50 presses ship at the same time, in three months, while it is read.

The edges' logs are written by our own code, a transaction a shot and one a verdict, as a logger does. Beside it the
same rows go by COPY into tables of the same form without any log, batch by batch, from as many processes. Run by itself
it prints what the tables take on the server's disk, and how long reading takes meanwhile:

    python -m tests.benchmark.bench_centre URL [--edges 20 --presses 50 --shots 100]
"""

import argparse
import multiprocessing
import platform
import statistics
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from multiprocessing.pool import AsyncResult
from pathlib import Path
from random import Random

import psycopg
from sqlalchemy import Connection, select, text

from shotlog import __version__
from shotlog.clock import iso_utc
from shotlog.records import Shot, Verdict
from shotlog.store.asked.state import press_state
from shotlog.store.asked.tally import Tally
from shotlog.store.centre.centre import Centre, open_centre
from shotlog.store.centre.shipping import Shipping
from shotlog.store.centre.tables import BY_MONTH
from shotlog.store.log import schema
from shotlog.store.log.judgements import open_judging, record
from shotlog.store.log.log import Log, open_log
from tests.benchmark.bench import Bench
from tests.benchmark.row import Row

EDGES, PRESSES, SHOTS = 20, 50, 36
ROUNDS = 3
"""Months: what an edge has is shipped in as many parts, and put into the month that it would have arrived in."""
SHIPPERS = 4
CYCLE_S = 30.0
PARTED = ("shots", "verdicts", "ledger")
START = datetime(2026, 9, 1, tzinfo=UTC)
_AT_ONCE = 5000


@dataclass
class Found:
    """What came out: seconds of each round, ours and beside, and of each reading; rows, shots and bytes in all."""

    shots: int = 0
    rows: int = 0
    shipped_s: list[float] = field(default_factory=list)
    copied_s: list[float] = field(default_factory=list)
    press_s: list[float] = field(default_factory=list)
    plant_s: list[float] = field(default_factory=list)
    quiet_s: list[float] = field(default_factory=list)
    sizes: dict[str, tuple[int, int]] = field(default_factory=dict)
    parts: int = 0

    @property
    def shots_s(self) -> float:
        """Shots a second into the centre, of all processes together."""
        return self.shots / sum(self.shipped_s)

    @property
    def bytes_a_shot(self) -> float:
        """Bytes on the server's disk for each shot, with its verdict, its links and every index."""
        return sum(map(sum, self.sizes.values())) / self.shots

    def said(self) -> Iterator[str]:
        """Yield it as lines."""
        day = 1000 * 86_400 / CYCLE_S
        yield f"{self.shots} shots, {self.rows} rows, in {self.parts} parts of tables"
        yield f"shipped {self.rows / sum(self.shipped_s):.0f} rows/s ({self.shots_s:.0f} shots/s) by {SHIPPERS} at once"
        yield f"bare COPY of the same rows {self.rows / sum(self.copied_s):.0f} rows/s"
        for name, (table, index) in self.sizes.items():
            yield f"{name}: {table / self.shots:.0f} bytes a shot, its indexes {index / self.shots:.0f}"
        for what, took in (("one press", self.press_s), ("1,000 presses", self.plant_s), ("then", self.quiet_s)):
            yield f"reading {what}: median {statistics.median(took):.3f} s, worst {max(took):.3f} s"
        yield f"1,000 presses at {CYCLE_S:.0f} s make {day:,.0f} shots a day: {day / 86_400 / self.shots_s:.1%} of it"


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what a shot costs at a centre in time and bytes, and what it costs to look at a press meanwhile."""
    if not bench.postgres:
        yield Row.without("1,000 presses at a centre", bench.no_postgres)
        return
    folder = bench.folder / "centre"
    folder.mkdir()
    found = measure(bench.postgres, folder, EDGES, PRESSES, SHOTS)
    n = found.shots / ROUNDS
    shipped, copied = ([one / n for one in each] for each in (found.shipped_s, found.copied_s))
    used = 1000 / CYCLE_S / found.shots_s
    why = f"read, its chain verified, agreed on; 1,000 presses at {CYCLE_S:.0f} s need {used:.1%} of that"
    yield Row("1,000 presses: a shot to the centre", "s a shot", shipped, copied, "bare COPY of its rows", why)
    read = "one in a turn of 0.2 s of a page"
    yield Row("1,000 presses: one press read meanwhile", "s", found.press_s, [0.2], read, "", goal=1.0)
    yield Row("1,000 presses: all of them read", "s", found.quiet_s, [1.0], "a second", "", goal=10.0)
    table, index = (sum(one[n] for one in found.sizes.values()) / found.shots for n in (0, 1))
    yield Row("1,000 presses: a shot at the centre", "B a shot", [table + index], [table], "without indexes", "")


def measure(url: str, folder: Path, n_edges: int, n_presses: int, n_shots: int) -> Found:
    """Fill a centre by as many edges, each shot of a press with its verdict, and read it meanwhile."""
    edges = {f"hall-{n + 1}": f"sqlite:///{folder}/hall-{n + 1}.db" for n in range(n_edges)}
    each, found = n_shots // ROUNDS, Found(shots=n_edges * n_presses * (n_shots // ROUNDS) * ROUNDS)
    with open_centre(url, __version__) as centre, multiprocessing.get_context("spawn").Pool(SHIPPERS) as pool:
        pool.map(abs, range(SHIPPERS))  # started
        _make_bare(url)
        for nth in range(ROUNDS):
            pool.starmap(write, [(at, nth * each + 1, each, n_presses, n) for n, at in enumerate(edges.values())])
            copying = [(url, at, nth) for at in edges.values()]
            began = time.perf_counter()
            pool.starmap(copy, copying, chunksize=1)
            found.copied_s.append(time.perf_counter() - began)
            began = time.perf_counter()
            shipping = pool.starmap_async(ship, [(url, name, at) for name, at in edges.items()], chunksize=1)
            watching = threading.Thread(target=_read, args=(centre, shipping, found, n_edges))
            watching.start()
            shipping.get()
            found.shipped_s.append(time.perf_counter() - began)
            watching.join()
            _came_before(centre, ROUNDS - 1 - nth)
        found.plant_s = found.plant_s or [0.0]
        found.press_s = found.press_s or [0.0]
        for _ in range(3):
            found.quiet_s.append(_plant(centre))
        with centre.transaction() as connection:
            _weigh(connection, found)
    return found


def write(url: str, first: int, n: int, presses: int, seed: int) -> None:
    """Let a log of an edge grow by `n` shots of each press from shot `first` on, with their verdicts."""
    random = Random(seed)
    with open_log(url, read_only=False) as log:
        for shot in range(first, first + n):
            when = START + timedelta(seconds=CYCLE_S * shot)
            for press in (f"P{number:02}" for number in range(1, presses + 1)):
                values = {"cushion": round(random.gauss(4.9, 0.03), 2), "fill_time": round(random.gauss(0.7, 0.01), 3)}
                values["peak_pressure"] = round(random.gauss(540, 3), 1)
                log.append([Shot(press, shot, shot % 65536, when, values)], f"{press}:{shot}")
                _judge(log, press, shot, when)


def _judge(log: Log, press: str, shot: int, when: datetime) -> None:
    with log.transaction() as work:
        press_id, moment = work.press_id(press, iso_utc(when)), iso_utc(when)
        judging = press_id if shot > 1 else open_judging(work, press_id, 0, "bench", "first judging", moment)
        said = f"no change seen in these values since shot 11; shot {shot}"
        verdict = Verdict(press, shot, "B-001", shot, False, "keep", said, ("individuals:cushion:outside",) * 0)
        record(work, press_id, judging, [verdict])


def ship(url: str, name: str, log_url: str) -> None:
    """Bring all that a log has to the centre."""
    with open_log(log_url) as log, open_centre(url, __version__) as centre:
        shipping = Shipping(log, centre, name, platform.node(), __version__)
        shipping.agree()
        for _ in shipping.ship():
            pass


def _make_bare(url: str) -> None:
    with psycopg.connect(url.replace("+psycopg", ""), autocommit=True) as bare:
        bare.execute("CREATE SCHEMA bare")
        for name in PARTED:
            bare.execute(f"CREATE TABLE bare.{name} (LIKE centre.{name} INCLUDING ALL)")


def copy(url: str, log_url: str, nth: int) -> None:
    """Bring what a log gained in a round into the bare tables, read and copied by the drivers alone."""
    number = int(log_url.rpartition("-")[2].partition(".")[0])
    with open_log(log_url) as log, log.reading() as here, psycopg.connect(url.replace("+psycopg", "")) as bare:
        for name in PARTED:
            table = schema.METADATA.tables[name]
            last = bare.execute(f"SELECT coalesce(max(id), 0) FROM bare.{name} WHERE edge = {number}").fetchone()
            cursor = here.execute(select(table).where(table.c.id > (last or (0,))[0]).order_by(table.c.id)).cursor
            columns = ", ".join(f'"{one}"' for one in ("edge", *table.c.keys()))
            while came := cursor.fetchmany(_AT_ONCE):
                with bare.cursor() as to, to.copy(f"COPY bare.{name} ({columns}) FROM STDIN") as copied:
                    for row in came:
                        copied.write_row((number, *_plain(table.c.keys(), row)))
                bare.commit()


def _plain(names: list[str], row: tuple[object, ...]) -> list[object]:
    return [bool(value) if name == "settling" else value for name, value in zip(names, row, strict=True)]


def _read(centre: Centre, shipping: "AsyncResult[list[None]]", found: Found, n_edges: int) -> None:
    """Look at one press, and now and then at all of them, until all has been shipped."""
    while not shipping.ready():
        known = [edge.name for edge in centre.edges() if edge.links]
        for name in known[:1]:
            with centre.log(name) as log:
                press, tally = log.presses()[-1], Tally()
                tally.counts(log, press)  # kept by who asks again and again, as the pages do
                for _ in range(5):
                    began = time.perf_counter()
                    press_state(log, press, tally.counts(log, press))
                    found.press_s.append(time.perf_counter() - began)
        if len(known) == n_edges:
            found.plant_s.append(_plant(centre))
        shipping.wait(0.2)


def _plant(centre: Centre) -> float:
    """Read how each press of each edge stands; return how long that took, in seconds."""
    began = time.perf_counter()
    for edge in centre.edges():
        with centre.log(edge.name) as log, log.one_moment():
            tally = Tally()
            for press in log.presses():
                press_state(log, press, tally.counts(log, press))
    return time.perf_counter() - began


def _came_before(centre: Centre, months: int) -> None:
    """Put what arrived this month into the one that lies some months before it."""
    if not months:
        return
    with centre.transaction() as connection:
        this = "date_trunc('month', now() AT TIME ZONE 'UTC')::date"
        query = f"SELECT ({this} - interval '{months} months')::date, ({this} - interval '{months - 1} months')::date"
        first, end = connection.execute(text(query)).one()
        for name in BY_MONTH:
            part = f"centre.{name}_{first:%Y_%m}"
            connection.execute(
                text(f"CREATE TABLE {part} PARTITION OF centre.{name} FOR VALUES FROM ('{first}') TO ('{end}')")
            )
            connection.execute(text(f"UPDATE centre.{name} SET month = '{first}' WHERE month = {this}"))


def _weigh(connection: Connection, found: Found) -> None:
    for name in PARTED:
        part = f"FROM pg_partition_tree('centre.{name}') AS part WHERE isleaf"
        table, index, n = connection.execute(
            text(f"SELECT sum(pg_table_size(relid)), sum(pg_indexes_size(relid)), count(*) {part}")
        ).one()
        found.sizes[name] = int(table), int(index)
        found.parts += n
        found.rows += connection.execute(text(f"SELECT count(*) FROM centre.{name}")).scalar_one()


def main() -> None:
    parser = argparse.ArgumentParser(description="a thousand presses at a centre")
    parser.add_argument("url", help="an empty database, which is filled")
    parser.add_argument("--edges", type=int, default=EDGES)
    parser.add_argument("--presses", type=int, default=PRESSES)
    parser.add_argument("--shots", type=int, default=SHOTS, help="of each press")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        found = measure(options.url, Path(folder), options.edges, options.presses, options.shots)
    print("\n".join(found.said()))


if __name__ == "__main__":
    main()
