"""The hash chain over the log: every transaction's digest covers its rows and the digest before it.

Changing, adding or taking out a row later breaks the chain from there on. It shows edits; it cannot prevent them, and
somebody who rewrites every later digest as well is found only against a digest written down elsewhere (the review
report prints the last one).
"""

import hashlib
import json
from collections.abc import Iterable, Mapping

__all__ = ["GENESIS", "digest"]

GENESIS = "0" * 64
"""What stands before the first transaction."""

_JSON = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False)


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
    state = hashlib.sha256(before.encode())
    for table, row in rows:
        filled = {name: _plain(value) for name, value in row.items() if value is not None and value == value}
        state.update(table.encode())
        state.update(_JSON.encode(filled).encode())
    return state.hexdigest()


def _plain(value: object) -> object:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value.hex() if isinstance(value, bytes) else value
