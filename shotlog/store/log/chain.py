"""The hash chain over the log: every transaction's digest covers its rows and the digest before it.

Changing, adding or taking out a row later breaks the chain from there on. It shows edits; it cannot prevent them, and
somebody who rewrites every later digest as well is found only against a digest written down elsewhere (the review
report prints the last one).
"""

import hashlib
import json
from collections.abc import Iterable, Mapping

__all__ = ["GENESIS", "digest", "linked", "row_text"]

GENESIS = "0" * 64
"""What stands before the first transaction."""

_JSON = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False)


_AS_IT_IS = frozenset((str, int, bool))
"""Types whose values are taken as they are: nearly all."""


def digest(before: str, rows: Iterable[tuple[str, Mapping[str, object]]]) -> str:
    """Return the SHA-256 (hex) of the previous digest and of each row's table and non-empty columns.

    Empty columns are left out so that a column added by a later release changes no digest. A number is taken as the
    database gives it back: NaN comes back empty, minus zero as zero, and 5 from a column of fractions as 5.0.

    Examples
    --------
    >>> digest(GENESIS, [("presses", {"id": 1, "name": "P25"})])[:16]
    'd2aaddf803dd4d8b'
    >>> digest(GENESIS, [("presses", {"id": 1, "name": "P25", "later": None})])[:16]
    'd2aaddf803dd4d8b'
    """
    return linked(before, (row_text(table, row.items()) for table, row in rows))


def linked(before: str, texts: Iterable[str]) -> str:
    """Return the SHA-256 (hex) of the previous digest and of rows as texts, each by `row_text`."""
    return hashlib.sha256("".join((before, *texts)).encode()).hexdigest()


def row_text(table: str, row: Iterable[tuple[str, object]]) -> str:
    """Return a row, given as names and values of its columns in any order, as the text that a digest covers."""
    # a NaN is no equal of itself
    filled = {
        name: value if type(value) in _AS_IT_IS else _plain(value)
        for name, value in row
        if value is not None and value == value
    }
    return f"{table}{_JSON.encode(filled)}"


def _plain(value: object) -> object:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value.hex() if isinstance(value, bytes) else value
