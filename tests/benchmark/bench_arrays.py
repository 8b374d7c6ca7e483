"""What it costs to get a long log's values into arrays and frames, against the same read through the bare driver.

Of processor time, by turns within one run; nothing is asserted. Run by `make bench`.
"""

import sqlite3
import time
from collections.abc import Callable, Iterator
from itertools import chain
from typing import Any

import numpy as np
import pandas as pd

from shotlog import open_log
from shotlog.channels import ALWAYS_CHARTED
from shotlog.settings import load
from shotlog.store.log.log import Log
from shotlog.store.log.log import open_log as open_stored
from shotlog.store.log.shots import columns
from tests.benchmark.bench import END, Bench
from tests.benchmark.log_of_years import write
from tests.benchmark.row import Row, by_turns

_ROUNDS = 5
_FRAMED, _ON_SERVER = 40_000, 100_000
_VALUES = ", ".join(ALWAYS_CHARTED)


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what arrays and frames of a log cost a shot."""
    settings = load(bench.years())
    bare = sqlite3.connect(settings.store.removeprefix("sqlite:///"))
    with open_log(settings.store) as log:
        works: dict[str, Callable[[], object]] = {
            "ours": lambda: arrays(log),
            "same": lambda: same_rows(bare),
            "least": lambda: values_alone(bare),
        }
        took = by_turns(works, _ROUNDS, time.process_time, bench.shots)
    bare.close()
    what, than = f"{bench.shots} shots into arrays", "sqlite3: the same rows, numbers and times too, fetchall"
    yield Row(what, "s a shot", took["ours"], took["same"], than, "", goal=2.0)
    than, why = "sqlite3: three channels alone, in any order", "which shot a value is of, when it was, and the order"
    yield Row(what, "s a shot", took["ours"], took["least"], than, why)
    yield framed(bench)
    what = f"{_ON_SERVER} shots from PostgreSQL into arrays"
    yield on_server(bench, what) if bench.postgres else Row.without(what, bench.no_postgres)


def on_server(bench: Bench, what: str) -> Row:
    """Return the row of the same arrays from a server."""
    import psycopg

    with open_stored(bench.postgres, read_only=False) as log:
        write(log, _ON_SERVER, END)
    bare = psycopg.connect(bench.postgres.replace("+psycopg", ""))
    with open_log(bench.postgres) as log:
        works: dict[str, Callable[[], object]] = {"ours": lambda: arrays(log), "same": lambda: same_rows(bare, "%s")}
        took = by_turns(works, _ROUNDS, time.process_time, _ON_SERVER)
    bare.close()
    return Row(what, "s a shot", took["ours"], took["same"], "psycopg: the same rows, fetchall", "", goal=2.0)


def framed(bench: Bench) -> Row:
    """Return the row of a notebook's frame of shots."""
    store = load(bench.years(_FRAMED)).store
    bare = sqlite3.connect(store.removeprefix("sqlite:///"))
    asked = f"SELECT name, shot, shots.time, counter, {_VALUES} FROM shots JOIN presses ON presses.id = press_id"
    with open_log(store) as log:
        works: dict[str, Callable[[], object]] = {
            "ours": lambda: log.shots(),
            "pandas": lambda: pd.read_sql(asked, bare, parse_dates=["time"]),
        }
        took = by_turns(works, 3, time.process_time, _FRAMED)
    bare.close()
    why = "who was mounted and how often it had shot, what was noted, which shots were dry, weights of a balance"
    return Row(
        f"{_FRAMED} shots as a frame", "s a shot", took["ours"], took["pandas"], "pandas.read_sql", why, goal=3.0
    )


def arrays(log: Log) -> None:
    """Read all presses as *After the shift* does."""
    with log.reading() as connection:
        for press in log.presses():
            columns(connection, press, ALWAYS_CHARTED)


def same_rows(bare: Any, place: str = "?") -> None:
    """Read number, time and values of all shots, a press at a time and in order; `place`: how a driver marks one."""
    for (press,) in bare.execute("SELECT id FROM presses").fetchall():
        asked = f"SELECT shot, time, {_VALUES} FROM shots WHERE press_id = {place} ORDER BY shot"
        rows = bare.execute(asked, (press,)).fetchall()
        np.array([row[0] for row in rows])
        np.array([row[2:] for row in rows])


def values_alone(bare: sqlite3.Connection) -> None:
    """Read the values of all shots in the order in which they lie."""
    np.fromiter(chain.from_iterable(bare.execute(f"SELECT {_VALUES} FROM shots")), float)
