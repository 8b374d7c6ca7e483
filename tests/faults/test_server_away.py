"""A PostgreSQL server is killed, stopped and started again under a logger: nothing is lost or doubled, all is said."""

import signal
from contextlib import closing
from pathlib import Path

from sqlalchemy import Connection, create_engine, text

from dashboard import Source
from dashboard.press.page import look
from dashboard.press.standing import PressStanding
from dashboard.shared.held import HeldReader
from dashboard.shared.page import Context
from dashboard.shared.press_reader import PressReader
from shotlog.clock import SystemClock
from shotlog.settings import load
from tests.end_to_end.running import Run, ServedPress, shotlog, write_config
from tests.postgres import Cluster, start_server

WAITS = "P25: waits in the journal, not in the log yet: shot {} "


def make(run: Run, press: ServedPress, shots: range, said: str = "P25: shot {} ") -> None:
    for n in shots:
        press.offer(n)
        run.wait_for(said.format(n))


def end_all(connection: Connection) -> None:
    """End every connection of the logger, as whoever runs the server may."""
    connection.execute(
        text(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND datname = 'shots'"
        )
    )


def in_the_log(cluster: Cluster) -> list[int]:
    """Return the shots in the order in which they were stored, read past this program."""
    engine = create_engine(cluster.url("shots"))
    with engine.connect() as connection:
        found = list(connection.execute(text("SELECT shot FROM shots ORDER BY id")).scalars())
    engine.dispose()
    return found


def test_a_server_that_is_killed_and_stopped_costs_no_shot(tmp_path: Path) -> None:
    with start_server() as cluster, ServedPress() as press:
        admin = create_engine(cluster.url(), isolation_level="AUTOCOMMIT")
        with admin.connect() as connection:
            connection.execute(text("CREATE DATABASE shots"))
        admin.dispose()
        config = write_config(tmp_path, press.config("P25"))
        address = cluster.url("shots").render_as_string(hide_password=False)
        config.write_text(config.read_text("utf-8").replace("sqlite:///trial.db", address), "utf-8")
        with Run(config) as run:
            run.wait_for("P25: connected")
            make(run, press, range(1, 4))
            with closing(Source(load(config))) as source:
                pages = Context(source, PressReader(source), HeldReader(source), [])

                def at_press() -> PressStanding:
                    return look(pages, SystemClock().now())["P25"][1]

                assert at_press().current
                cluster.kill()
                make(run, press, range(4, 7), WAITS)
                away = at_press()
                assert (away.headline, away.current) == ("The log cannot be read", False)
                assert "of P25 wait on disk and go into the log" in away.safe
                cluster.start()
                run.wait_for(r"the log can be written again; 3 shots that waited are in it now \(P25 4 to 6\)")
                make(run, press, range(7, 9))
                assert at_press().current
            cluster.stop("immediate")
            make(run, press, range(9, 10), WAITS)
            cluster.start()
            run.wait_for(r"the log can be written again; 1 shot that waited is in it now \(P25 9\)")
            again = create_engine(cluster.url("shots"), isolation_level="AUTOCOMMIT")
            with again.connect() as connection:
                end_all(connection)
            again.dispose()
            make(run, press, range(10, 13), "shot {} ")
            assert run.stop(signal.SIGTERM) == 0
        assert in_the_log(cluster) == list(range(1, 13))
        verified = shotlog("verify", config)
        assert verified.returncode == 0, verified.stderr
