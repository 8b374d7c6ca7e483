"""Whether the centre holds an edge's log: asked of both by their own drivers, with no code of ours."""

import hashlib
import json
import math
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import psycopg

__all__ = ["Count", "compare"]

CACHES = ("checkpoints", "cursors", "presence", "alembic_version", "sqlite_sequence")


@dataclass(frozen=True)
class Count:
    """Rows of the edge, rows of it at the centre, those that are missing there, too many or otherwise; digests."""

    rows: int
    there: int
    missing: int
    doubled: int
    other: int
    digest: str
    digest_there: str
    recomputed: str

    @property
    def is_same(self) -> bool:
        """Whether the centre holds the log of the edge, whole and once."""
        wrong = self.missing or self.doubled or self.other or self.rows != self.there
        return not wrong and self.digest == self.digest_there == self.recomputed


def compare(log: Path, dsn: str, edge: str) -> Count:
    """Compare every row of an edge's log with what the centre has under its name."""
    with closing(sqlite3.connect(f"{log.as_uri()}?mode=ro", uri=True)) as here, psycopg.connect(dsn) as there:
        number = there.execute("SELECT number FROM centre.edges WHERE name = %s", [edge]).fetchone()
        assert number is not None, f"no edge {edge}"
        names = [row[0] for row in here.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        rows = at_centre = missing = doubled = other = 0
        held: dict[str, dict[int, dict[str, object]]] = {}
        for table in sorted(set(names) - set(CACHES)):
            cursor = here.execute(f'SELECT * FROM "{table}" ORDER BY id')
            columns = [one[0] for one in cursor.description]
            mine = {row[0]: dict(zip(columns, row, strict=True)) for row in cursor}
            query = ", ".join(f'"{column}"' for column in columns)
            found = there.execute(f'SELECT {query} FROM centre."{table}" WHERE edge = %s', number).fetchall()
            theirs = {row[0]: dict(zip(columns, row, strict=True)) for row in found}
            rows, at_centre = rows + len(mine), at_centre + len(found)
            missing += len(set(mine) - set(theirs))
            doubled += len(found) - len(theirs)
            other += sum(theirs[key] != mine[key] for key in set(mine) & set(theirs)) + len(set(theirs) - set(mine))
            held[table] = theirs
        last = here.execute("SELECT digest FROM ledger ORDER BY id DESC LIMIT 1").fetchone()[0]
        said = there.execute("SELECT digest FROM centre.edges WHERE name = %s", [edge]).fetchone()
        assert said is not None
    return Count(rows, at_centre, missing, doubled, other, last, said[0], _chain(held))


def _chain(rows: dict[str, dict[int, dict[str, object]]]) -> str:
    """Return the last digest of the chain over what the centre holds, by the rule that is documented for it."""
    before = "0" * 64
    for link in sorted(rows["ledger"]):
        state = hashlib.sha256(before.encode())
        for word in str(rows["ledger"][link]["rows"]).split():
            table, _, row_id = word.partition(":")
            filled = {key: _plain(value) for key, value in rows[table][int(row_id)].items() if not _is_empty(value)}
            state.update(table.encode())
            state.update(json.dumps(filled, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode())
        before = state.hexdigest()
    return before


def _plain(value: object) -> object:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return bytes(value).hex() if isinstance(value, bytes | memoryview) else value


def _is_empty(value: object) -> bool:
    return value is None or (isinstance(value, float) and math.isnan(value))
