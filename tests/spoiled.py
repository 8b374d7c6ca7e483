"""A page of a log's file overwritten with noise, as a disk does it: an older one of those with the rows of a table."""

import sqlite3
from contextlib import closing
from pathlib import Path

import numpy as np

_INTERIOR, _SECOND_CELL = 5, 14


def spoil_older(path: Path, table: str) -> int:
    """Overwrite the second of the pages with rows of `table`, which must have several; return its number."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").close()
        (size,) = connection.execute("PRAGMA page_size").fetchone()
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    content = path.read_bytes()
    root = page
    while content[start := (page - 1) * size] == _INTERIOR:
        cell = start + int.from_bytes(content[start + _SECOND_CELL :][:2], "big")
        page = int.from_bytes(content[cell:][:4], "big")
    assert page != root
    with path.open("r+b") as file:  # in place: who has it open has this very file open
        file.seek(start)
        file.write(np.random.default_rng(15).bytes(3000))
    return page
