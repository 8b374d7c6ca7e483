"""The verdicts in force and the connections of a press from some point on, short: what states are worked out from."""

import json
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select

from shotlog.clock import parse_utc
from shotlog.facts import NOT_JUDGED
from shotlog.records import Link
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.store.log.log import Log

__all__ = ["Judgement", "is_judged_again", "judged_from", "links_from", "press_mark"]

_NEWEST_LINKS = 200


@dataclass(frozen=True, slots=True)
class Judgement:
    """A shot with its verdict in force and the channels beyond a limit; `settling`: no change is called of it."""

    shot: int
    time: datetime
    verdict: str
    limits: tuple[str, ...]
    settling: bool


def judged_from(log: Log, press: str, first: int) -> list[Judgement]:
    """Return what is said of the shots from `first` on, in order."""
    table, shots = schema.verdicts, schema.shots
    query = (
        select(table.c.shot, shots.c.time, table.c.verdict, table.c.limits, table.c.settling, table.c.facts)
        .select_from(
            table.join(schema.presses).join(
                shots, (shots.c.press_id == table.c.press_id) & (shots.c.shot == table.c.shot)
            )
        )
        .where(schema.presses.c.name == press, table.c.shot >= first, in_force(table, table.c.shot))
        .order_by(table.c.shot)
    )
    with log.reading() as connection:
        return [
            Judgement(
                row.shot,
                parse_utc(row.time),
                row.verdict,
                tuple(row.limits.split(";")) if row.limits else (),
                row.settling or (bool(row.facts) and json.loads(row.facts)["stage"] in NOT_JUDGED),
            )
            for row in connection.execute(query)
        ]


def is_judged_again(log: Log, press: str) -> bool:
    """Say whether shots that had a verdict wait for another one, after an entry in the past."""
    table = schema.verdicts
    query = select(func.max(table.c.shot)).join(schema.presses).where(schema.presses.c.name == press)
    with log.reading() as connection:
        ever = connection.execute(query).scalar()
        return ever != connection.execute(query.where(in_force(table, table.c.shot))).scalar()


def links_from(log: Log, press: str, first: int | None) -> list[tuple[int, Link]]:
    """Return the changes of the connection to a press from row `first` on, None for the newest, each with its row."""
    table = schema.links
    query = (
        select(table.c.id, table.c.time, table.c.state, table.c.detail)
        .select_from(table.join(schema.presses))
        .where(schema.presses.c.name == press, table.c.id >= (first or 0))
        .order_by(table.c.id.desc())
    )
    with log.reading() as connection:
        rows = connection.execute(query.limit(_NEWEST_LINKS) if first is None else query).all()
    return [(row.id, Link(press, parse_utc(row.time), row.state, row.detail)) for row in reversed(rows)]


_ENTERED = select(*(select(func.max(table.c.id)).scalar_subquery() for table in (*schema.ENTRIES, schema.judgings)))


def press_mark(log: Log, press: str) -> tuple[object, ...]:
    """Return what differs once something was judged of a press, its connection changed, or anybody entered something.

    Cheap, for asking every second, in a log with many presses.
    """
    verdicts, links = schema.verdicts, schema.links
    with log.reading() as connection:
        press_id = connection.execute(select(schema.presses.c.id).where(schema.presses.c.name == press)).scalar()
        judged = select(func.max(verdicts.c.shot)).where(verdicts.c.press_id == press_id)
        link = select(func.max(links.c.id)).where(links.c.press_id == press_id)
        newest = (connection.execute(query).scalar() for query in (judged, link))
        return (*newest, *connection.execute(_ENTERED).one())
