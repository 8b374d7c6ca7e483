"""Who made each entry, by the table and the number it stands under, and how that is known."""

from collections.abc import Collection, Mapping

from sqlalchemy import literal, select

from shotlog.records import Who
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.signed import signature_of, signed_columns, signed_on

__all__ = ["Makers", "makers"]

Makers = Mapping[tuple[str, int], Who]
"""Who made the entry of a table (``dispositions``) and number."""


def makers(log: Log, wanted: Collection[tuple[str, int]] | None = None) -> Makers:
    """Return who made every entry of a log, or those `wanted`; people make some thousands in a year."""
    found: dict[tuple[str, int], Who] = {}
    with log.reading() as connection:
        for table in schema.ENTRIES:
            numbers = None if wanted is None else [number for name, number in wanted if name == table.name]
            if numbers == []:
                continue
            initials = table.c.initials if "initials" in table.c else literal("").label("initials")
            query = select(table.c.id, initials, *signed_columns())
            query = query.select_from(table.outerjoin(schema.signed, signed_on(table)))
            if numbers is not None:
                query = query.where(table.c.id.in_(numbers))
            for row in connection.execute(query).mappings():
                found[table.name, row["id"]] = Who(row["initials"] or "", signature_of(row))
    return found
