"""What people are told: changes of state as they were noted, who took which message, who has seen it at the press.

A change of state stands in the log once, without a receiver (`NOTED`), whoever is told of it; a row with the name of a
receiver says that it took the message. So nothing is told twice after a restart, and nothing is forgotten while a
receiver is away. What a receiver was told of a spell, which is one state for as long as it lasts, goes by its name.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, func, insert, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.records import Who
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log
from shotlog.store.log.signed import signature_of, signed_columns, signed_on

__all__ = [
    "NOTED",
    "OVER",
    "Seen",
    "SpellNow",
    "ToldOnce",
    "ToldRow",
    "acknowledge",
    "is_of_site",
    "newest_told",
    "position_of",
    "seen_spells",
    "spells_now",
    "told_once",
    "told_rows",
    "write_told",
]

NOTED = ""
"""The receiver of a change of state as such, before anybody was told of it."""

OVER = ("ends", "becomes")
"""Phases by which a spell is over; it `becomes` another one where it has got worse."""


@dataclass(frozen=True, slots=True)
class ToldRow:
    """One row: a change of state where `receiver` is `NOTED`, else that a receiver took a message.

    `phase`: ``begins``, ``ends``, ``becomes`` (a worse state follows it), ``again``; where a receiver was told at once
    that a state began and is over, ``ends`` alone. `press`: None where it is of the logger or the shop. `number` is
    that of the row, 0 where it is not in the log yet.
    """

    press: str | None
    about: str
    spell: str
    phase: str
    receiver: str
    said: str
    time: datetime
    number: int = 0


@dataclass(frozen=True, slots=True)
class Seen:
    """Somebody at the press has taken note of a spell, which stops the messages about it."""

    number: int
    press: str | None
    about: str
    spell: str
    time: datetime
    who: Who


@dataclass(frozen=True, slots=True)
class ToldOnce:
    """A message that a receiver took, or, with `receiver` empty, a change of state as it was noted.

    `seen`: who has taken note at the press of the state that it is about, None where nobody has.
    """

    press: str | None
    about: str
    spell: str
    phase: str
    receiver: str
    said: str
    time: datetime
    seen: Seen | None


@dataclass(frozen=True, slots=True)
class SpellNow:
    """A state that lasts, as it was noted when it began; `seen`: who has taken note of it, None where nobody has.

    `number`: of the row that noted it; a later state has a higher one.
    """

    press: str | None
    about: str
    spell: str
    said: str
    since: datetime
    seen: Seen | None
    number: int = 0


def told_rows(log: Log, after: int = 0) -> list[ToldRow]:
    """Return the rows with numbers after `after`, in their order."""
    table = schema.told
    query = (
        select(table, schema.presses.c.name.label("press"))
        .select_from(table.outerjoin(schema.presses))
        .where(table.c.id > after)
        .order_by(table.c.id)
    )
    names = ("press", "about", "spell", "phase", "receiver", "said")
    with log.reading() as connection:
        return [
            ToldRow(time=parse_utc(row["time"]), number=row["id"], **{name: row[name] for name in names})
            for row in connection.execute(query).mappings()
        ]


def told_once(log: Log, press: str | None = None) -> list[ToldOnce]:
    """Return what people were told in the order in which it was written down, of one press or of all and the logger."""
    rows, seen = told_rows(log), seen_spells(log)
    names = ("press", "about", "spell", "phase", "receiver", "said", "time")
    return [
        ToldOnce(**{name: getattr(row, name) for name in names}, seen=seen.get(row.spell))
        for row in rows
        if press is None or row.press == press
    ]


def newest_told(log: Log) -> int:
    """Return the number of the newest row, 0 for none."""
    with log.reading() as connection:
        return int(connection.execute(select(func.max(schema.told.c.id))).scalar() or 0)


def write_told(log: Log, rows: Sequence[ToldRow], positions: Mapping[str, str], time: datetime) -> None:
    """Write rows, and how far was looked, in one transaction.

    Raises
    ------
    StoreError
        The log cannot be written now.
    """
    with log.transaction() as work:
        for row in rows:
            when = iso_utc(row.time)
            press_id = None if row.press is None else work.press_id(row.press, when)
            said = {name: getattr(row, name) for name in ("about", "spell", "phase", "receiver", "said")}
            work.add(schema.told, press_id=press_id, time=when, **said)
        table = schema.cursors
        for receiver, position in positions.items():
            work.connection.execute(delete(table).where(table.c.receiver == receiver))
            work.connection.execute(insert(table).values(receiver=receiver, position=position, time=iso_utc(time)))


def position_of(log: Log, receiver: str) -> str | None:
    """Return how far was looked, as `write_told` kept it; None where nothing is kept."""
    table = schema.cursors
    with log.reading() as connection:
        return connection.execute(select(table.c.position).where(table.c.receiver == receiver)).scalar()


def acknowledge(log: Log, spells: Iterable[SpellNow], time: datetime, initials: str = "") -> list[int]:
    """Enter that somebody has taken note of these spells, and return the numbers of the entries.

    A spell that somebody has taken note of before is passed over.

    Raises
    ------
    UsageError
        There is nothing to take note of.
    """
    chosen = list(spells)
    if not chosen:
        raise UsageError("there is nothing that people are told of now")
    numbers = []
    with log.transaction() as work:
        seen = set(work.connection.execute(select(schema.acknowledgements.c.spell).where(_STANDS)).scalars())
        for one in chosen:
            if one.spell in seen:
                continue
            press_id = None if one.press is None else work.press_id(one.press, iso_utc(time))
            row = {"press_id": press_id, "about": one.about, "spell": one.spell, "initials": initials or None}
            numbers.append(work.add(schema.acknowledgements, time=iso_utc(time), **row))
    return numbers


_STANDS = standing(schema.acknowledgements)


def seen_spells(log: Log) -> dict[str, Seen]:
    """Return by spell who has taken note of it, as far as nobody took that back."""
    table = schema.acknowledgements
    query = (
        select(table, schema.presses.c.name.label("press"), *signed_columns())
        .select_from(table.outerjoin(schema.presses).outerjoin(schema.signed, signed_on(table)))
        .where(_STANDS)
        .order_by(table.c.id)
    )
    with log.reading() as connection:
        rows = connection.execute(query).mappings().all()
    return {
        row["spell"]: Seen(
            row["id"],
            row["press"],
            row["about"],
            row["spell"],
            parse_utc(row["time"]),
            Who(row["initials"] or "", signature_of(row)),
        )
        for row in rows
    }


def spells_now(log: Log, presses: Iterable[str], site: str) -> list[SpellNow]:
    """Return the states that last, of these presses, and of the logger and the shop at a site, the oldest first."""
    table, of_press = schema.told, set(presses)
    over = select(table.c.spell).where(table.c.receiver == NOTED, table.c.phase.in_(OVER))
    query = (
        select(table, schema.presses.c.name.label("press"))
        .select_from(table.outerjoin(schema.presses))
        .where(table.c.receiver == NOTED, table.c.phase == "begins", table.c.spell.not_in(over))
        .order_by(table.c.id)
    )
    with log.reading() as connection:
        rows = connection.execute(query).mappings().all()
    seen = seen_spells(log) if rows else {}
    return [
        SpellNow(
            row["press"],
            row["about"],
            row["spell"],
            row["said"],
            parse_utc(row["time"]),
            seen.get(row["spell"]),
            row["id"],
        )
        for row in rows
        if row["press"] in of_press or (row["press"] is None and is_of_site(row["spell"], site))
    ]


def is_of_site(spell: str, site: str) -> bool:
    """Whether a spell of no press is of this site: two loggers with a log in common tell of their own alone."""
    return spell.partition(" at ")[2].startswith(f"{site}/")
