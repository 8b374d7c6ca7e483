"""What waits at a centre, as text and back: JSON, a list of rows of the log with values as their columns take them.

Whoever may write at a centre may write anything there. What is none of this is refused for itself, before the log of
the edge is asked: there it would look like damage.
"""

import json
from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Any

from sqlalchemy import Column, Double, Integer, Table

from shotlog.errors import UsageError
from shotlog.store.log import schema

__all__ = ["TABLES", "Said", "rows_in", "text_of"]

Said = Mapping[str, Any]
"""One row as it waits: its `table`, its columns, and `press` by its name."""

TABLES: Mapping[str, Table] = {
    table.name: table for table in (schema.dispositions, schema.inspections, schema.events, schema.corrections)
}
"""What may be entered at a centre, by name."""

_MOST = 2**63
_SHOWN = 40


def text_of(rows: Sequence[Said]) -> str:
    """Return rows as the text that waits."""
    return json.dumps(rows, ensure_ascii=False, allow_nan=False)


def rows_in(text: str) -> tuple[Said, ...]:
    """Return the rows in a text that waits.

    Raises
    ------
    UsageError
        It holds none, or a value that its column does not take.

    Examples
    --------
    >>> rows_in('[{"table": "places"}]')  # which is refused by its name
    ({'table': 'places'},)
    """
    try:
        rows = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise UsageError(f"content: given no JSON ({error}), allowed: a list of rows") from error
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        raise UsageError("content: given other JSON, allowed: a list of rows")
    for row in rows:
        _check(row)
    return tuple(rows)


def _check(row: Said) -> None:
    """Refuse a row of a table that may be entered whose values are not what its columns take."""
    name = row.get("table")
    table = TABLES.get(name) if isinstance(name, str) else None
    if table is None:
        return  # which is refused by its name
    for column in table.columns:
        if column.name == "press_id":
            _check_value("press", row.get("press"), schema.presses.c.name)
        elif not column.primary_key:
            _check_value(column.name, row.get(column.name), column)


def _check_value(name: str, value: object, column: Column[Any]) -> None:
    if value is None:
        fits = bool(column.nullable)
    elif isinstance(column.type, Integer):
        fits = type(value) is int and abs(value) < _MOST
    elif isinstance(column.type, Double):
        fits = type(value) in (int, float) and isfinite(value)  # type: ignore[arg-type]
    else:
        fits = isinstance(value, str)
    if not fits:
        raise UsageError(f"{name}: given {str(value)[:_SHOWN]!r}, allowed: what the log holds there")
