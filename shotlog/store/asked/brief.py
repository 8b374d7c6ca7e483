"""What verdicts said, in brief: of every shot, without what only words are made of; quick over years."""

import json
from collections.abc import Iterator
from typing import Any, NamedTuple

from sqlalchemy import case, select

from shotlog.facts import SwapFinding
from shotlog.records import EVER
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import of_press

__all__ = ["Brief", "each_brief", "swap_found"]

_CHUNK = 2000


class Brief(NamedTuple):
    """A verdict in brief, as the log keeps it; `swap`: its facts where they may tell of a swap, see `swap_found`."""

    shot: int
    insert: str
    settling: bool
    verdict: str
    cause: str
    group: str
    onset: int | None
    onset_low: int | None
    onset_high: int | None
    swap: str | None


def each_brief(log: Log, press: str, first: int = 0, last: int = EVER) -> Iterator[tuple[Any, ...]]:
    """Yield the verdicts in force on shots `first` to `last`, in order, as rows with what a `Brief` has.

    Reads on the driver's own cursor, as `shots.columns` does: the library's rows would cost several times as much, and
    to make each of them a `Brief`, of which few are looked at, as much again.
    """
    table = schema.verdicts
    named = [table.c[name] for name in Brief._fields[:-1]]
    tells = case((table.c.facts.like('%"at_shot"%'), table.c.facts))
    query = (
        select(*named, tells)
        .where(of_press(table, press), table.c.shot >= first, table.c.shot <= last, in_force(table, table.c.shot))
        .order_by(table.c.shot, table.c.id)
    )
    with log.reading() as connection:
        cursor = connection.execute(query).cursor
        while rows := cursor.fetchmany(_CHUNK) if cursor is not None else []:
            yield from rows


def swap_found(facts: str) -> SwapFinding | None:
    """Return what a verdict's facts say that was found at a swap, None where they say nothing of it."""
    told = json.loads(facts).get("swap")
    return None if told is None else SwapFinding(**told)
