"""What a person may enter at all, by whatever way: texts of a length, and for presses that are known."""

from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import Connection, Table, select

from shotlog.errors import UsageError
from shotlog.store.log import schema

__all__ = ["MOST_NAME", "MOST_TEXT", "refuse_foreign", "refuse_long"]

MOST_TEXT = 4000
"""Characters of a note, reason, remark or finding: a page and a half of print, and a screen that still shows it. A text
is judged by nobody but read by many, on every page that lists entries; somebody who pastes whole reports would choose
more, and keeps them better in a file that the note names."""
MOST_NAME = 200
"""Characters of what is a name: a serial, a batch, initials, a place."""

_TEXTS = frozenset({"text", "reason", "remark", "finding", "wash", "post_cure", "storage", "others"})
_OF = {"soak_ends": (schema.soaks, "soak_id"), "matches": (schema.weighings, "weighing_id")}
"""Entries about another row, which names the press."""


def refuse_long(table: Table, row: Mapping[str, Any]) -> None:
    """Refuse a row of an entry, or of what it names, that holds a longer text than anybody reads.

    Raises
    ------
    UsageError
        It does.
    """
    if table not in (*schema.ENTRIES, schema.inserts, schema.designs):
        return
    for name, value in row.items():
        most = MOST_TEXT if name in _TEXTS else MOST_NAME
        if isinstance(value, str) and len(value) > most:
            raise UsageError(f"{name.replace('_', ' ')}: given {len(value)} characters, allowed: {most} at most")


def refuse_foreign(connection: Connection, table: Table, row: Mapping[str, Any], presses: Collection[str]) -> None:
    """Refuse an entry about a press that is none of `presses`; what is about no press, as a bath, is taken.

    Raises
    ------
    UsageError
        It is about another one.
    """
    while table is schema.corrections:
        table = schema.METADATA.tables[row["entry"]]
        row = _row(connection, table, row["entry_id"])
    if table.name in _OF:
        of, by = _OF[table.name]
        row = _row(connection, of, row[by])
    if (number := row.get("press_id")) is None:
        return
    name = _row(connection, schema.presses, number)["name"]
    if name not in presses:
        raise UsageError(
            f"press {name}: it is not in this configuration, and nothing is entered for it; allowed: "
            f"{', '.join(presses) or 'none is there'}"
        )


def _row(connection: Connection, table: Table, number: int) -> Mapping[str, Any]:
    found = connection.execute(select(table).where(table.c.id == number)).mappings().one()
    return {str(name): value for name, value in found.items()}
