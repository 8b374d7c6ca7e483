"""Where parts were put, in one word: a bag, a box, a shelf; and when something is due with them.

A part is where the newest entry says, of place and bath alike. The two are rows of different tables, so a place keeps
the newest numbers the baths had when it was entered: what came before it is told by them, and by no clock.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Connection, Table, func, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.parts.part import Part, spans_of
from shotlog.parts.where import Whereabouts
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log
from shotlog.store.parts.baths import not_later, shown
from shotlog.store.parts.parts import check_made
from shotlog.store.parts.soaks import Soak, soaks

__all__ = ["Place", "WhereIs", "due_from", "places", "put_at", "where_is", "where_mark"]

_LONGEST = 60
"""Characters a place may have: more is a remark, and no place that can be scanned (own)."""

_AFTER = re.compile(r"\+?(\d{1,4}(?:[.,]\d+)?) ?(h|d)")
_CLOCK = re.compile(r"(\d{1,2})[:.](\d{2})")


@dataclass(frozen=True, slots=True)
class Place:
    """Parts of shots `first` to `last`, of one cavity or of all (None), and where they were put.

    `newest_soak` and `newest_soak_end`: numbers of the newest entries about baths when it was entered.
    """

    entry_id: int
    press: str
    first: int
    last: int
    cavity: int | None
    place: str
    put: datetime
    due: datetime | None
    initials: str
    entered: datetime
    newest_soak: int
    newest_soak_end: int

    def is_about(self, part: Part) -> bool:
        """Say whether this was said of a part."""
        return (self.press, self.cavity in (None, part.cavity)) == (
            part.press,
            True,
        ) and self.first <= part.shot <= self.last

    def replaces(self, soak: Soak) -> bool:
        """Say whether it is newer than what is known of a part's stay in a bath."""
        return soak.entry_id <= self.newest_soak and (soak.end_id is None or soak.end_id <= self.newest_soak_end)


def put_at(
    log: Log,
    parts: Iterable[Part],
    place: str,
    time: datetime,
    *,
    put: datetime | None = None,
    due: datetime | None = None,
    initials: str = "",
) -> list[Place]:
    """Enter where parts were put; one row for each unbroken span of shots of one cavity.

    Raises
    ------
    UsageError
        A part was never moulded, the place is not one line of a few words or is the name of a bath, or the times cannot
        be.
    """
    word, start = " ".join(place.split()), put or time
    if not word or len(word) > _LONGEST or not word.isprintable():
        raise UsageError(
            f"place: given {place!r}, allowed: a word or two for a bag, box or shelf, {_LONGEST} characters"
        )
    if due is not None and due <= start:
        raise UsageError(f"due: given {shown(due)}, allowed: later than they were put there, {shown(start)}")
    chosen, placed = list(parts), []
    with log.transaction() as work:
        check_made(work.connection, chosen)
        if _is_bath(work.connection, word):
            raise UsageError(f"place: given {word!r}, which is a bath, allowed: shotlog bath in {word} PRESS PARTS")
        newest = {
            "newest_soak": _newest(work.connection, schema.soaks),
            "newest_soak_end": _newest(work.connection, schema.soak_ends),
        }
        row: dict[str, Any] = {
            "place": word,
            "put": not_later(start, time, "put there"),
            "initials": initials,
            **newest,
        }
        row |= {"due": None if due is None else iso_utc(due), "time": iso_utc(time)}
        for first, last in spans_of(chosen):
            span = {"first": first.shot, "last": last.shot, "cavity": first.cavity}
            entry_id = work.add(schema.places, press_id=work.press_id(first.press, iso_utc(time)), **span, **row)
            placed.append(_place(first.press, {"id": entry_id, **span, **row}))
    return placed


def places(log: Log, press: str | None = None) -> list[Place]:
    """Return what was said of where parts are, as far as it is in force, in the order it was entered."""
    table = schema.places
    query = select(table, schema.presses.c.name.label("press")).join(schema.presses).where(standing(table))
    with log.reading() as connection:
        rows = connection.execute(query.order_by(table.c.id)).mappings().all()
    return [_place(row["press"], row) for row in rows if press in (None, row["press"])]


class WhereIs:
    """Where each part of a log is, from its places and baths."""

    def __init__(self, said: Iterable[Place], soaked: Iterable[Soak]) -> None:
        self.places = tuple(said)
        self._soaks = {soak.part: soak for soak in soaked}
        self._placed: dict[tuple[str, int, int | None], Place] = {}
        for place in self.places:
            for shot in range(place.first, place.last + 1):
                self._placed[place.press, shot, place.cavity] = place

    def of(self, part: Part) -> Whereabouts | None:
        """Return where a part is, None where nobody has said."""
        place, soak = self._place_of(part), self._soaks.get(part)
        if place is not None:
            return Whereabouts("placed", place.place, place.put, place.due)
        if soak is None:
            return None
        if soak.came_out is None:
            return Whereabouts("in bath", soak.bath, soak.went_in, soak.due)
        return Whereabouts("out of bath", soak.bath, soak.came_out, None, soak.cleared)

    @property
    def soaking(self) -> tuple[Soak, ...]:
        """The stays of parts that are in a bath now: they went in last, and nobody has put them elsewhere since."""
        return tuple(one for one in self._soaks.values() if one.came_out is None and self._place_of(one.part) is None)

    def known(self, press: str, first: int, last: int) -> list[Whereabouts]:
        """Return where the parts of shots `first` to `last` are, in their order, those left out of whom nobody said."""
        placed = {Part(where, shot, cavity or 1) for where, shot, cavity in self._placed}
        parts = sorted(part for part in placed | set(self._soaks) if part.press == press and first <= part.shot <= last)
        return [where for part in parts if (where := self.of(part)) is not None]

    def still_at(self, place: Place) -> list[Part]:
        """Return the parts that are still where they were put by an entry."""
        shots = range(place.first, place.last + 1)
        parts = (Part(place.press, shot, place.cavity or 1) for shot in shots)
        return [part for part in parts if self._place_of(part) == place]

    def _place_of(self, part: Part) -> Place | None:
        """Return the newest place of a part, None where it has been in a bath since."""
        said = (self._placed.get((part.press, part.shot, cavity)) for cavity in (None, part.cavity))
        place = max((one for one in said if one is not None), key=lambda one: one.entry_id, default=None)
        soak = self._soaks.get(part)
        return place if place is not None and (soak is None or place.replaces(soak)) else None


def where_is(log: Log, press: str | None = None) -> WhereIs:
    """Return where the parts of a press are, or those of all."""
    return WhereIs(places(log, press), soaks(log, press))


# Made once, as it is asked again and again: making it costs more than its answer.
_NEWEST_SAID = select(
    *(
        select(func.max(table.c.id)).scalar_subquery()
        for table in (schema.places, schema.soaks, schema.soak_ends, schema.corrections)
    )
)


def where_mark(log: Log) -> tuple[int, ...]:
    """Return numbers that differ once anything was entered that `where_is` rests on; cheap, for asking every second."""
    with log.reading() as connection:
        return tuple(value or 0 for value in connection.execute(_NEWEST_SAID).one())


def due_from(text: str, now: datetime) -> datetime | None:
    """Return when something is due: ``24h``, ``2d``, ``14:30`` (the next one), or an ISO 8601 time; None for nothing.

    A time without an offset is this computer's local time.

    Raises
    ------
    UsageError
        It is none of these.

    Examples
    --------
    >>> from datetime import UTC
    >>> due_from("26h", datetime(2026, 3, 2, 12, tzinfo=UTC))
    datetime.datetime(2026, 3, 3, 14, 0, tzinfo=datetime.timezone.utc)
    """
    words = text.strip()
    if not words:
        return None
    if (after := _AFTER.fullmatch(words)) is not None:
        return now + timedelta(hours=float(after[1].replace(",", ".")) * (24.0 if after[2] == "d" else 1.0))
    try:
        if (clock := _CLOCK.fullmatch(words)) is not None:
            today = now.astimezone().replace(hour=int(clock[1]), minute=int(clock[2]), second=0, microsecond=0)
            return today if today > now else today + timedelta(days=1)
        return datetime.fromisoformat(words).astimezone()
    except (ValueError, OverflowError) as error:
        raise UsageError(f"due: given {text!r}, allowed: 24h, 2d, 14:30, or a time such as 2026-01-05T14:30") from error


def _place(press: str, row: Any) -> Place:
    due = None if row["due"] is None else parse_utc(row["due"])
    plain = {name: row[name] for name in _PLAIN}
    return Place(row["id"], press, put=parse_utc(row["put"]), due=due, entered=parse_utc(row["time"]), **plain)


_PLAIN = ("first", "last", "cavity", "place", "initials", "newest_soak", "newest_soak_end")


def _newest(connection: Connection, table: Table) -> int:
    return int(connection.execute(select(func.max(table.c.id))).scalar() or 0)


def _is_bath(connection: Connection, word: str) -> bool:
    return connection.execute(select(schema.baths.c.id).where(schema.baths.c.name == word)).first() is not None
