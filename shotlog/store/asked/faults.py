"""What could not be taken from a press, as the log holds it. No more of a row is read than a page shows.

An earlier release kept whatever came: a log may hold faults of many megabytes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, LargeBinary, RowMapping, Select, Text, func, literal, select

from shotlog.channels import CHANNELS
from shotlog.clock import iso_utc, parse_utc
from shotlog.cut_short import RAW_MOST, TEXT_MOST, said_cut
from shotlog.records import Fault
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["FaultKind", "fault_kinds", "faults", "faults_since"]

_TABLE = schema.faults
_N = func.coalesce(_TABLE.c.more, 0) + 1
"""How many faults a row stands for."""


@dataclass(frozen=True, slots=True)
class FaultKind:
    """How often something of one kind came that could not be taken; the first and the newest in words.

    `first_shot`: the shot of the first one, None where it belonged to none that is stored.
    """

    kind: str
    n: int
    first: datetime
    last: datetime
    first_shot: int | None
    told: str
    example: str

    @property
    def channel(self) -> str:
        """The channel or set-point it is about, of shots that are stored without it; empty where it is about none."""
        if self.kind.startswith("set-point ") and self.kind.endswith(" not taken"):
            return self.kind.removesuffix(" not taken")
        first = self.kind.partition(" ")[0]
        return first if first in CHANNELS else ""


def faults(log: Log, press: str, limit: int = 100) -> list[Fault]:
    """Return the newest faults of a press, newest first."""
    raw = func.substr(_TABLE.c.raw, 1, RAW_MOST, type_=LargeBinary)
    return _read(log, press, _of(press, raw).order_by(_TABLE.c.id.desc()).limit(limit))


def faults_since(log: Log, press: str, since: datetime | None = None) -> list[Fault]:
    """Return the faults of a press since a time, or all, in the order they came, without their bytes."""
    query = _of(press, literal(b"", LargeBinary)).order_by(_TABLE.c.id)
    return _read(log, press, query if since is None else query.where(_TABLE.c.time >= iso_utc(since)))


def fault_kinds(log: Log, press: str) -> list[FaultKind]:
    """Return the kinds of faults of a press, the most frequent first."""
    ends = (func.min(_TABLE.c.id), func.max(_TABLE.c.id))
    query = select(_TABLE.c.kind, func.sum(_N), *ends).join(schema.presses).where(schema.presses.c.name == press)
    with log.reading() as connection:
        counted = connection.execute(query.group_by(_TABLE.c.kind)).all()
        ids = {row_id for _, _, first, last in counted for row_id in (first, last)}
        rows = connection.execute(_of(press, literal(b"", LargeBinary)).where(_TABLE.c.id.in_(ids))).mappings().all()
    by_id = {row["id"]: _fault(press, row) for row in rows}
    found = [_kind(kind, int(n), by_id[first], by_id[last]) for kind, n, first, last in counted]
    return sorted(found, key=lambda one: -one.n)


def _kind(kind: str, n: int, first: Fault, last: Fault) -> FaultKind:
    return FaultKind(kind, n, first.time, last.time, first.shot, first.detail, last.detail)


def _of(press: str, raw: ColumnElement[Any]) -> Select[Any]:
    detail = func.substr(_TABLE.c.detail, 1, TEXT_MOST + 1, type_=Text).label("detail")
    columns = (_TABLE.c.id, _TABLE.c.time, _TABLE.c.kind, _TABLE.c.shot, _TABLE.c.more, detail)
    query = select(*columns, raw.label("raw"), func.length(_TABLE.c.raw).label("n_bytes"))
    return query.select_from(_TABLE.join(schema.presses)).where(schema.presses.c.name == press)


def _read(log: Log, press: str, query: Select[Any]) -> list[Fault]:
    with log.reading() as connection:
        rows: Sequence[RowMapping] = connection.execute(query).mappings().all()
    return [_fault(press, row) for row in rows]


def _fault(press: str, row: RowMapping) -> Fault:
    detail = said_cut(row["detail"], row["n_bytes"])
    return Fault(press, parse_utc(row["time"]), row["kind"], detail, row["raw"] or b"", row["shot"], row["more"] or 0)
