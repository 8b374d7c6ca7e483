"""Which shots belong to which trial."""

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import func, select

from shotlog.store import schema
from shotlog.store.log import Log

__all__ = ["TrialShots", "trials"]


@dataclass(frozen=True, slots=True)
class TrialShots:
    """A trial and its first and last shot by press; the name is empty for shots logged under none."""

    name: str
    part: str
    resin: str
    shots: Mapping[str, tuple[int, int]]


def trials(log: Log) -> list[TrialShots]:
    """Return the trials that have shots, in the order they were entered; a trial described anew is another one."""
    shots, table, presses = schema.shots, schema.trials, schema.presses
    query = (
        select(
            table.c.name, table.c.part, table.c.resin, presses.c.name, func.min(shots.c.shot), func.max(shots.c.shot)
        )
        .select_from(shots.join(presses).outerjoin(table))
        .group_by(table.c.id, table.c.name, table.c.part, table.c.resin, presses.c.id, presses.c.name)
        .order_by(table.c.id, presses.c.id)
    )
    found: dict[tuple[str, str, str], dict[str, tuple[int, int]]] = {}
    with log.reading() as connection:
        for name, part, resin, press, first, last in connection.execute(query):
            found.setdefault((name or "", part or "", resin or ""), {})[press] = (first, last)
    return [TrialShots(*about, spans) for about, spans in found.items()]
