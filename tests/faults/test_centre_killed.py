"""The server of the centre is killed in the middle of a copy, and is away while the edge logs on: nothing is lost."""

import time
from contextlib import closing
from pathlib import Path

import psycopg

from shotlog.store.log.log import open_log
from tests.faults.ship.edge import log_shots
from tests.faults.ship.referee import compare
from tests.faults.ship.shipped import Ship, write_configuration
from tests.postgres import start_server

DEADLINE_S = 120.0


def test_a_centre_that_is_killed_has_it_all_once_it_is_back(tmp_path: Path) -> None:
    """Shots are logged while it is there, while it is away and while it is killed with a copy under way."""
    config = write_configuration(tmp_path, "hall-1")
    with (
        start_server({"fsync": "off"}) as server,
        open_log(f"sqlite:///{tmp_path / 'hall-1.db'}", read_only=False) as log,
    ):
        dsn = f"host=127.0.0.1 port={server.port} user=shotlog dbname=postgres"
        log_shots(log, "hall-1-P1", 1, 100, 1)
        with Ship(config, str(server.url())) as ship:
            arrived(dsn, log)
            with closing(psycopg.connect(dsn)) as holds:
                holds.execute("LOCK TABLE centre.verdicts IN SHARE MODE")  # shots are copied, verdicts wait
                log_shots(log, "hall-1-P1", 101, 200, 2)
                waiting(dsn)
                server.kill()
            ship.wait_for("it is tried again until it is there")
            log_shots(log, "hall-1-P1", 201, 300, 3)
            server.start()
            ship.wait_for("it is there again after")
            arrived(dsn, log)
            log_shots(log, "hall-1-P1", 301, 310, 4)
            arrived(dsn, log)
            assert ship.end() == 0
        assert sum("it is tried again" in line for line in ship.lines) == 1, ship.lines
        assert sum("it is there again" in line for line in ship.lines) == 1, ship.lines
        found = compare(tmp_path / "hall-1.db", dsn, "hall-1")
    assert found.is_same, found
    assert found.rows > 600


def arrived(dsn: str, log: object) -> None:
    """Wait until the centre has all that the log has."""
    from shotlog.store.keeping.head import head_of
    from shotlog.store.log.log import Log

    assert isinstance(log, Log)
    until, wanted = time.monotonic() + DEADLINE_S, head_of(log).digest
    while time.monotonic() < until:
        try:
            with psycopg.connect(dsn) as asked:
                if asked.execute("SELECT 1 FROM centre.edges WHERE digest = %s", [wanted]).fetchone():
                    return
        except psycopg.Error:  # not made yet, or not back yet
            pass
        time.sleep(0.05)
    raise AssertionError("the centre has not got it")


def waiting(dsn: str) -> None:
    """Wait until a copy waits for the lock."""
    until = time.monotonic() + DEADLINE_S
    with psycopg.connect(dsn, autocommit=True) as asked:
        query = "SELECT 1 FROM pg_locks WHERE NOT granted AND relation = 'centre.verdicts'::regclass"
        while asked.execute(query).fetchone() is None:
            assert time.monotonic() < until, "no copy is under way"
            time.sleep(0.02)
