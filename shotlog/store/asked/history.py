"""Every verdict ever given, judging by judging: what was said at the time, also where it is out of force now."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from sqlalchemy import exists, func, select

from shotlog.clock import parse_utc
from shotlog.records import Verdict
from shotlog.store.log import schema
from shotlog.store.log.judgements import verdict_rows
from shotlog.store.log.log import Log

__all__ = ["Judging", "first_said", "judged_again_from", "judgings"]

_CHUNK = 2000


@dataclass(frozen=True, slots=True)
class Judging:
    """A judging of the shots from `from_shot` on: when it was opened, why, and what it said, in order of shot."""

    from_shot: int
    time: datetime
    reason: str
    verdicts: tuple[Verdict, ...]


def first_said(log: Log, press: str, shot: int) -> Verdict | None:
    """Return the verdict that was given on a shot first, in force or not; None where it was never judged."""
    table = schema.verdicts
    query = (
        select(table)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot == shot)
        .order_by(table.c.judging_id)
        .limit(1)
    )
    with log.reading() as connection:
        return next(iter(verdict_rows(connection.execute(query).mappings(), press)), None)


def judged_again_from(log: Log, press: str, first: int = 0) -> int | None:
    """Return the shot from which verdicts must be read to tell what judging again changed of shots from `first` on.

    That is the last one before the shots judged again of which nothing but keep was ever said: a call may reach over
    it. None where no shot from `first` on was judged again.
    """
    table, judgings, presses = schema.verdicts, schema.judgings, schema.presses
    earlier, other = table.alias("earlier"), table.alias("other")
    covers = exists().where(
        earlier.c.press_id == judgings.c.press_id,
        earlier.c.shot >= judgings.c.from_shot,
        earlier.c.shot >= first,
        earlier.c.judging_id < judgings.c.id,
    )
    again = select(func.min(judgings.c.from_shot)).join(presses).where(presses.c.name == press, covers)
    called = exists().where(
        other.c.press_id == table.c.press_id, other.c.shot == table.c.shot, other.c.verdict != "keep"
    )
    with log.reading() as connection:
        found = connection.execute(again).scalar()
        if found is None:
            return None
        quiet = select(table.c.shot).join(presses).where(presses.c.name == press, table.c.shot < max(found, first))
        quiet = quiet.where(~called).order_by(table.c.shot.desc()).limit(1)
        return int(connection.execute(quiet).scalar() or 0)


def judgings(log: Log, press: str, first: int = 0) -> Iterator[Judging]:
    """Yield the judgings of a press in the order they were opened, with what they said of shots from `first` on.

    One at a time: a long log has many verdicts.
    """
    table, verdicts, presses = schema.judgings, schema.verdicts, schema.presses
    opened = select(table).join(presses).where(presses.c.name == press).order_by(table.c.id)
    told = (
        select(verdicts)
        .join(presses)
        .where(presses.c.name == press, verdicts.c.shot >= first)
        .order_by(verdicts.c.judging_id, verdicts.c.shot)
        .execution_options(yield_per=_CHUNK)
    )
    with log.reading() as connection:
        rows = connection.execute(opened).all()
        by_judging = groupby(connection.execute(told).mappings(), key=lambda row: row["judging_id"])
        number, said = next(by_judging, (None, ()))
        for row in rows:
            mine: tuple[Verdict, ...] = ()
            if number == row.id:
                mine = tuple(verdict_rows(said, press))
                number, said = next(by_judging, (None, ()))
            yield Judging(row.from_shot, parse_utc(row.time), row.reason, mine)
