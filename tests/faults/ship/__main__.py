"""``python -m tests.faults.ship``: two edges log while the server of their centre is killed and stays away.

Prints what was done, and what of each edge's log the centre holds at the end, counted with no code of ours.
"""

import argparse
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from contextlib import ExitStack, closing, suppress
from pathlib import Path

import psycopg

from tests.faults.ship.referee import compare
from tests.faults.ship.shipped import DEADLINE_S, Ship, write_configuration
from tests.postgres import Cluster, start_server

EDGES = ("hall-1", "hall-2")
PYTHON = (sys.executable, "-m", "tests.faults.ship.edge")


class Played:
    """The edges, their shippers and the server, and what was done to them."""

    def __init__(self, folder: Path, server: Cluster, given: argparse.Namespace, stack: ExitStack) -> None:
        self.folder, self.server = folder, server
        self.dsn = f"host=127.0.0.1 port={server.port} user=shotlog dbname=postgres"
        self.chance, self.stack = random.Random(given.seed), stack
        self.configs = {name: write_configuration(folder, name) for name in EDGES}
        self.ships: dict[str, Ship] = {}
        self.killed = self.in_copy = self.ships_killed = 0
        self.away_s = 0.0
        self.loggers = {
            name: subprocess.Popen(
                [*PYTHON, str(self.log(name)), f"{name}-P1", str(given.shots // len(EDGES)), str(n), str(given.at_once)]
            )
            for n, name in enumerate(EDGES)
        }
        for one in self.loggers.values():
            stack.callback(lambda one=one: (one.kill(), one.wait()))

    def log(self, name: str) -> Path:
        return self.folder / f"{name}.db"

    def ship(self, name: str) -> None:
        """Start the shipper of an edge, anew where one is there."""
        self.ships[name] = self.stack.enter_context(Ship(self.configs[name], str(self.server.url())))

    @property
    def logging(self) -> bool:
        return any(one.poll() is None for one in self.loggers.values())

    def kill_server(self) -> None:
        """Kill the server, every other time in the middle of a copy, and start it some time later."""
        if self.killed % 2:
            self.server.kill()
        else:
            with closing(psycopg.connect(self.dsn)) as holds:
                holds.execute(
                    "LOCK TABLE centre.verdicts IN SHARE MODE"
                )  # what was copied before it stands uncommitted
                self.in_copy += self._copy_waits()
                self.server.kill()
        self.killed += 1
        away = self.chance.uniform(0.5, 8)
        time.sleep(away)
        self.away_s += away
        self.server.start()

    def _copy_waits(self) -> bool:
        """Wait some seconds until a copy waits for a lock; say whether one does."""
        query = "SELECT 1 FROM pg_locks WHERE NOT granted AND relation = 'centre.verdicts'::regclass"
        until = time.monotonic() + 8
        with psycopg.connect(self.dsn, autocommit=True) as asked:
            while asked.execute(query).fetchone() is None:
                if time.monotonic() > until:
                    return False
                time.sleep(0.02)
        return True

    def kill_ship(self) -> None:
        """Kill one of the shippers, and start it again."""
        name = self.chance.choice(EDGES)
        self.ships[name].process.kill()
        self.ships_killed += 1
        self.ship(name)

    def begun(self) -> bool:
        """Say whether something of each edge is at the centre."""
        with suppress(psycopg.Error), psycopg.connect(self.dsn) as asked:
            row = asked.execute("SELECT count(*) FROM centre.edges WHERE links > 0").fetchone()
            return row == (len(EDGES),)
        return False

    def drained(self, name: str) -> bool:
        """Say whether the centre has the last digest of an edge."""
        with suppress(psycopg.Error, AssertionError), psycopg.connect(self.dsn) as asked:
            with sqlite3.connect(f"{self.log(name).as_uri()}?mode=ro", uri=True) as here:
                last = here.execute("SELECT digest FROM ledger ORDER BY id DESC LIMIT 1").fetchone()
            return asked.execute("SELECT 1 FROM centre.edges WHERE digest = %s", last).fetchone() is not None
        return False


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.faults.ship", description=__doc__)
    parser.add_argument("--shots", type=int, default=100_000, help="of both edges together")
    parser.add_argument("--kills", type=int, default=16, help="of the server; as many of shippers")
    parser.add_argument("--at-once", type=int, default=20, help="shots that are stored, and judged, in a transaction")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # what was started ends with this
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="shipped-")))
        server = stack.enter_context(start_server({"fsync": "off"}))
        return _play(folder, server, given, stack)


def _play(folder: Path, server: Cluster, given: argparse.Namespace, stack: ExitStack) -> int:
    began = time.monotonic()
    played = Played(folder, server, given, stack)
    until = time.monotonic() + DEADLINE_S
    while not all(played.log(name).exists() for name in EDGES):
        assert time.monotonic() < until
        time.sleep(0.05)
    for name in EDGES:
        played.ship(name)
    while not played.begun():
        assert time.monotonic() < until, [one.lines for one in played.ships.values()]
        time.sleep(0.1)
    for _ in range(given.kills):
        time.sleep(played.chance.uniform(1, 6))
        played.kill_server()
        time.sleep(played.chance.uniform(0.2, 3))
        played.kill_ship()
    logged_meanwhile = played.logging
    for one in played.loggers.values():
        one.wait()
    logged = time.monotonic()
    while not all(map(played.drained, EDGES)):
        assert time.monotonic() < logged + DEADLINE_S, [one.lines[-3:] for one in played.ships.values()]
        time.sleep(0.2)
    drained_s = time.monotonic() - logged
    ended = {name: played.ships[name].end() for name in EDGES}
    print(
        f"seed {given.seed}: {given.shots} shots of {len(EDGES)} edges in {time.monotonic() - began:.0f} s; the server "
        f"killed {played.killed} times, {played.in_copy} of them with a copy under way, away {played.away_s:.0f} s in "
        f"all; shippers killed {played.ships_killed} times; "
        f"{'still logging at the last kill' if logged_meanwhile else 'logged before the last kill'}; the rest drained "
        f"in {drained_s:.1f} s; shippers ended with {sorted(ended.values())}"
    )
    print("| edge | rows at the edge | at the centre | missing | doubled | otherwise | digests |")
    print("|---|---|---|---|---|---|---|")
    good = True
    for name in EDGES:
        count = compare(played.log(name), played.dsn, name)
        good &= count.is_same
        digests = "equal, recomputed" if count.is_same else f"{count.digest} {count.digest_there} {count.recomputed}"
        print(
            f"| {name} | {count.rows} | {count.there} | {count.missing} | {count.doubled} | {count.other} | {digests} |"
        )
    return int(not good)


if __name__ == "__main__":
    sys.exit(main())
