"""What it costs to verify a log, against hashing the same bytes; nothing is asserted. Run by `make bench`."""

import hashlib
import time
from collections.abc import Callable, Iterator

from sqlalchemy import select

from shotlog.store.log import schema
from shotlog.store.log.log import Log, open_log
from tests.benchmark.bench import Bench
from tests.benchmark.made_log import made
from tests.benchmark.row import Row, by_turns

_SHOTS = 2_000


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what verifying costs a shot: its row, its verdict, and a link of the chain for each."""
    url = f"sqlite:///{bench.folder}/verified.db"
    made(url, _SHOTS)
    with open_log(url) as log:
        n_links, _ = log.verify()
        data = record(log)
        works: dict[str, Callable[[], object]] = {"ours": log.verify, "hash": lambda: hashlib.sha256(data).digest()}
        took = by_turns(works, 5, time.process_time, _SHOTS)
    why = f"{n_links} links, whose rows are found, written as JSON and hashed one link after the other, in Python"
    yield Row("a shot verified", "s", took["ours"], took["hash"], "SHA-256 of these rows as text, at once", why)


def record(log: Log) -> bytes:
    """Return the rows that the chain covers, as text."""
    with log.reading() as connection:
        tables = schema.RECORD_TABLES.values()
        return "".join(str(tuple(row)) for table in tables for row in connection.execute(select(table))).encode()
