"""Judgements in the log: what charts and verdicts said of each shot, under which judging.

A judging covers the shots from `from_shot` on; a later one that starts earlier puts what it covers out of force,
without touching it. An entry in the past (a mounting, a lot change) opens one, so the shots it concerns wait to be
judged again.
"""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields
from datetime import datetime
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    LargeBinary,
    Select,
    Table,
    and_,
    cast,
    delete,
    exists,
    insert,
    select,
)

from shotlog.clock import iso_utc
from shotlog.facts import (
    Ageing,
    ChannelChange,
    Facts,
    Found,
    FrozenChannel,
    Noted,
    PassedLimit,
    Rhythm,
    Seated,
    SwapAsked,
    SwapFinding,
    VisibleStep,
)
from shotlog.records import Baseline, Judged, OtherChange, Signal, Verdict
from shotlog.store.log import schema
from shotlog.store.log.kept_state import opened_state, sealed_state
from shotlog.store.log.prepared import Prepared, of_press
from shotlog.store.log.transaction import Transaction

__all__ = [
    "STATE_STAYS",
    "in_force",
    "judge_again",
    "judged_through",
    "latest_judging",
    "open_judging",
    "record",
    "restore_point",
    "save_point",
]

_CHECKPOINT_WINDOW = 2000
STATE_STAYS = 1000
"""A state after a shot of such a number stays; others are thinned out."""


def in_force(table: Table, shot: ColumnElement[int]) -> ColumnElement[bool]:
    """Return the condition that no later judging covers a row of `table` that belongs to `shot`."""
    later = schema.judgings.alias("later")
    return ~exists().where(
        and_(later.c.press_id == table.c.press_id, later.c.id > table.c.judging_id, later.c.from_shot <= shot)
    )


_THROUGH = Prepared(
    select(schema.verdicts.c.shot)
    .where(of_press(schema.verdicts), in_force(schema.verdicts, schema.verdicts.c.shot))
    .order_by(schema.verdicts.c.shot.desc())
    .limit(1)
)
_LATEST = Prepared(
    select(schema.judgings.c.id, schema.judgings.c.basis)
    .where(of_press(schema.judgings))
    .order_by(schema.judgings.c.id.desc())
    .limit(1)
)


def judged_through(connection: Connection, press: str) -> int | None:
    """Return the last shot of a press with a verdict in force, or None."""
    found: int | None = _THROUGH.scalar(connection, press=press)
    return found


def latest_judging(connection: Connection, press: str) -> tuple[int, str] | None:
    """Return the id and basis of the press's newest judging, or None."""
    found = _LATEST.first(connection, press=press)
    return None if found is None else (found[0], found[1])


def open_judging(work: Transaction, press_id: int, from_shot: int, basis: str, reason: str, time: str) -> int:
    """Start a judging of the shots from `from_shot` on; `basis` names the settings and release that judge."""
    return work.add(schema.judgings, press_id=press_id, from_shot=from_shot, basis=basis, reason=reason, time=time)


def judge_again(work: Transaction, press: str, from_shot: int, reason: str, time: datetime) -> None:
    """Open a new judging from `from_shot` on, where shots from there on were judged already."""
    press_id = work.press_id(press, iso_utc(time))
    through = judged_through(work.connection, press)
    latest = latest_judging(work.connection, press)
    if through is not None and latest is not None and from_shot <= through:
        reason = f"{reason}, entered after shot {through}"
        open_judging(work, press_id, from_shot, latest[1], reason, iso_utc(time))


def record(work: Transaction, press_id: int, judging_id: int, judged: Iterable[Judged]) -> None:
    """Add what the evaluator said of a shot."""
    for item in judged:
        common: dict[str, Any] = {"judging_id": judging_id, "press_id": press_id}
        match item:
            case Verdict():
                fields = {name: getattr(item, name) for name in _VERDICT_FIELDS}
                work.add(schema.verdicts, **common, **fields, **_told_of(item))
            case Signal():
                work.add(schema.signals, **common, **{name: getattr(item, name) for name in _SIGNAL_FIELDS})
            case Baseline():
                work.add(schema.baselines, **common, **{name: getattr(item, name) for name in _BASELINE_FIELDS})


def _fields(table: Table, *without: str) -> tuple[str, ...]:
    return tuple(c.name for c in table.columns if c.name not in ("id", "judging_id", "press_id", *without))


_VERDICT_FIELDS = _fields(schema.verdicts, "signals", "facts", "others", "limits")
_SIGNAL_FIELDS = _fields(schema.signals)
_BASELINE_FIELDS = _fields(schema.baselines)


def save_point(work: Transaction, press_id: int, judging_id: int, shot: int, basis: str, state: object) -> None:
    """Keep the evaluator's state after `shot`; old ones are thinned out. Not part of the record.

    Of the shots whose states stay for good, one state stays: not one more with each change of settings.
    """
    table = schema.checkpoints
    old = and_(table.c.press_id == press_id, table.c.shot < shot - _CHECKPOINT_WINDOW)
    work.connection.execute(delete(table).where(old, table.c.shot % STATE_STAYS != 0))
    if shot % STATE_STAYS == 0:
        work.connection.execute(delete(table).where(table.c.press_id == press_id, table.c.shot == shot))
    kept = sealed_state(state)
    work.connection.execute(
        insert(table).values(press_id=press_id, judging_id=judging_id, shot=shot, basis=basis, state=kept)
    )


def restore_point(connection: Connection, press: str, before: int, basis: str) -> tuple[int, Any] | None:
    """Return (shot, state) of the last kept state at or before shot `before` that is still in force, or None.

    One that is not as it was kept is passed over.
    """
    table = schema.checkpoints
    # as bytes: a text that a damaged disk made none of would not be read at all
    state_kept = cast(table.c.state, LargeBinary) if connection.dialect.name == "sqlite" else table.c.state
    query: Select[Any] = (
        select(table.c.shot, state_kept.label("state"))
        .join(schema.presses)
        .where(
            schema.presses.c.name == press,
            table.c.shot <= before,
            table.c.basis == basis,
            in_force(table, table.c.shot),
        )
        .order_by(table.c.shot.desc())
        .execution_options(yield_per=1)
    )
    with connection.execute(query) as rows:
        for found in rows:
            state = opened_state(found.state)
            if state is not None:
                return found.shot, state
    return None


def verdict_rows(rows: Iterable[Any], press: str) -> Iterator[Verdict]:
    """Turn rows of the verdicts table into records."""
    for row in rows:
        fields = {name: row[name] for name in _VERDICT_FIELDS}
        facts = _facts_of(row["facts"]) if row["facts"] else None
        others = tuple(_other(name) for name in _names(row["others"]))
        yield Verdict(
            press=press,
            **fields,
            signals=_names(row["signals"]),
            facts=facts,
            others=others,
            limits=_names(row["limits"]),
        )


def _told_of(verdict: Verdict) -> dict[str, str | None]:
    """Return the columns of a verdict that hold more than one thing, as the verdict CSV has them."""
    return {
        "signals": ";".join(verdict.signals),
        "facts": None if verdict.facts is None else _facts_text(verdict.facts),
        "others": ";".join(other.name for other in verdict.others) or None,
        "limits": ";".join(verdict.limits) or None,
    }


def _names(cell: str | None) -> tuple[str, ...]:
    """Return the names in a cell; none in one of before it was kept."""
    return tuple(cell.split(";")) if cell else ()


def _other(name: str) -> OtherChange:
    group, cause, onset = name.split(":")
    return OtherChange(group, cause, int(onset))


_LISTED: Mapping[str, Callable[..., Any]] = {
    "changes": ChannelChange, "elsewhere": ChannelChange, "limits": PassedLimit, "ageing": Ageing,
    "visible": VisibleStep, "frozen": FrozenChannel, "mould": Seated, "noted": Noted,
}  # fmt: skip
_SINGLE: Mapping[str, Callable[..., Any]] = {
    "passed": PassedLimit,
    "rhythm": Rhythm,
    "swap": SwapFinding,
    "found": Found,
    "asked": SwapAsked,
}


def _facts_text(facts: Facts) -> str:
    """Return facts as JSON, without those that are not known: a fact added later needs no change of the tables."""
    return _JSON.encode({name: value for name, value in _told(facts).items() if value is not None and value != ()})


def _told(record: Any) -> dict[str, Any]:
    """Return the fields of a record as they are: `asdict` copies each value, and takes as long as judging the shot."""
    return {name: getattr(record, name) for name in _NAMES[type(record)]}


_KINDS: set[Any] = {Facts, *_LISTED.values(), *_SINGLE.values()}
_NAMES = {kind: tuple(field.name for field in fields(kind)) for kind in _KINDS}
_JSON = json.JSONEncoder(separators=(",", ":"), default=_told)


def _facts_of(text: str) -> Facts:
    known = json.loads(text)
    for name, kind in _LISTED.items():
        known[name] = tuple(kind(**one) for one in known.get(name, ()))
    for name, kind in _SINGLE.items():
        if name in known:
            known[name] = kind(**known[name])
    return Facts(**known)
