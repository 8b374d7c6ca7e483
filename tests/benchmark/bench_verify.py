"""What it costs to verify a log, against hashing the same rows; nothing is asserted. Run by `make bench`."""

import hashlib
import json
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing

from shotlog.store.log import schema
from shotlog.store.log.log import open_log
from tests.benchmark.bench import Bench
from tests.benchmark.made_log import made
from tests.benchmark.row import Row, by_turns

_SHOTS = 2_000


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what verifying costs a shot: its row, its verdict, and a link of the chain for each."""
    url = f"sqlite:///{bench.folder}/verified.db"
    made(url, _SHOTS)
    with open_log(url) as log, closing(sqlite3.connect(url.removeprefix("sqlite:///"))) as bare:
        n_links, _ = log.verify()
        data = b"".join(record(bare))
        works: dict[str, Callable[[], object]] = {
            "ours": log.verify,
            "rows": lambda: [hashlib.sha256(row).hexdigest() for row in record(bare)],
            "bytes": lambda: hashlib.sha256(data).hexdigest(),
        }
        took = by_turns(works, 5, time.process_time, _SHOTS)
    what, than = "a shot verified", "sqlite3: each of these rows as JSON, and its SHA-256"
    why = f"{n_links} links, each with the one before: what was changed, added or taken out shows, and where"
    yield Row(what, "s", took["ours"], took["rows"], than, why, goal=2.0)
    yield Row(what, "s", took["ours"], took["bytes"], "SHA-256 of these bytes at once", "")


def record(bare: sqlite3.Connection) -> Iterator[bytes]:
    """Yield the rows that the chain covers, as text."""
    for table in schema.RECORD_TABLES:
        for row in bare.execute(f'SELECT * FROM "{table}"'):
            yield json.dumps(row, default=bytes.hex).encode()
