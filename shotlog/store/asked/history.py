"""Every verdict ever given, judging by judging: what was said at the time, also where it is out of force now."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from sqlalchemy import select

from shotlog.clock import parse_utc
from shotlog.records import Verdict
from shotlog.store.log import schema
from shotlog.store.log.judgements import verdict_rows
from shotlog.store.log.log import Log

__all__ = ["Judging", "judgings"]

_CHUNK = 2000


@dataclass(frozen=True, slots=True)
class Judging:
    """A judging of the shots from `from_shot` on: when it was opened, why, and what it said, in order of shot."""

    from_shot: int
    time: datetime
    reason: str
    verdicts: tuple[Verdict, ...]


def judgings(log: Log, press: str) -> Iterator[Judging]:
    """Yield the judgings of a press in the order they were opened, one at a time: a long log has many verdicts."""
    table, verdicts, presses = schema.judgings, schema.verdicts, schema.presses
    opened = select(table).join(presses).where(presses.c.name == press).order_by(table.c.id)
    told = (
        select(verdicts)
        .join(presses)
        .where(presses.c.name == press)
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
