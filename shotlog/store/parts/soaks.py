"""Parts in the caustic bath: which went in where, when each is due, what came out.

A part leaves the press inside its single-use half and is judged only after a day in the bath. A part whose half was not
all gone may go in again. What happens now comes after all that is in the log; a time is held against others only where
somebody gave it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from sqlalchemy import Connection, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.records import EVER, InForce
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import of_press
from shotlog.store.parts.baths import filling, not_later, shown
from shotlog.store.parts.parts import check_made

__all__ = ["Soak", "put_in", "soaks", "take_out"]


@dataclass(frozen=True, slots=True)
class Soak:
    """A part's stay in a bath; `came_out` is None while it is in. `cleared`: nothing of the half was left on it.

    `entry_id` and `end_id` are the numbers of going in and coming out in the log; `end_id` is None while it is in.
    """

    entry_id: int
    end_id: int | None
    part: Part
    bath: str
    bath_id: int
    went_in: datetime
    due: datetime
    came_out: datetime | None
    cleared: bool
    remark: str

    def overdue_h(self, now: datetime) -> float:
        """Return by how many hours the part is overdue at `now`; 0 where it is not, or is out."""
        late = (now - self.due).total_seconds() / 3600.0
        return max(0.0, late) if self.came_out is None else 0.0


def put_in(
    log: Log,
    name: str,
    parts: Iterable[Part],
    time: datetime,
    designs: Mapping[str, DesignSettings],
    *,
    went_in: datetime | None = None,
    initials: str = "",
) -> list[Soak]:
    """Enter that parts went into a bath; each is due after the longest `dissolve_h` of the designs that made it.

    Raises
    ------
    UsageError
        A part was never moulded or is in a bath already, its design must not be dissolved, it went in before it was
        moulded, or there is no such bath.
    """
    chosen = sorted(set(parts))
    start = went_in or time
    with log.transaction() as work:
        bath_id = filling(work, name, went_in)
        check_made(work.connection, chosen)
        before = {soak.part: soak for soak in _read_soaks(work.connection)}
        put = []
        for part in chosen:
            soak = before.get(part)
            if soak is not None and soak.came_out is None:
                raise UsageError(f"part {part}: it is in bath {soak.bath} since {shown(soak.went_in)}")
            if went_in is not None and soak is not None and soak.came_out is not None and went_in < soak.came_out:
                out = shown(soak.came_out)
                raise UsageError(f"part {part}: given in at {shown(start)}, allowed: not before it came out, {out}")
            if went_in is not None:
                _refuse_before_moulded(work.connection, part, went_in)
            hours = _hours(part, read_timeline(work.connection, part.press).halves(part.shot), designs)
            due = start + timedelta(hours=hours)
            times = {"went_in": not_later(start, time, "went in"), "due": iso_utc(due)}
            press_id = work.press_id(part.press, iso_utc(time))
            row = {"press_id": press_id, "shot": part.shot, "cavity": part.cavity, "initials": initials, **times}
            entry_id = work.add(schema.soaks, bath_id=bath_id, time=iso_utc(time), **row)
            put.append(Soak(entry_id, None, part, name, bath_id, start, due, None, False, ""))
    return put


def take_out(
    log: Log,
    parts: Iterable[Part],
    time: datetime,
    *,
    came_out: datetime | None = None,
    cleared: bool = True,
    remark: str = "",
    initials: str = "",
) -> list[Soak]:
    """Enter that parts came out of whichever bath they were in.

    Raises
    ------
    UsageError
        A part is in no bath, or would be out before it went in.
    """
    end = came_out or time
    with log.transaction() as work:
        inside = {soak.part: soak for soak in _read_soaks(work.connection) if soak.came_out is None}
        out = []
        for part in sorted(set(parts)):
            if part not in inside:
                raise UsageError(f"part {part}: it is in no bath, allowed: a part that went in")
            if came_out is not None and end < inside[part].went_in:
                went_in = shown(inside[part].went_in)
                raise UsageError(f"part {part}: given out at {shown(end)}, allowed: not before it went in, {went_in}")
            soak, said = inside[part], " ".join(remark.split())
            when = not_later(end, time, "came out")
            row = {"came_out": when, "cleared": cleared, "remark": said, "initials": initials}
            end_id = work.add(schema.soak_ends, soak_id=soak.entry_id, time=iso_utc(time), **row)
            out.append(replace(soak, end_id=end_id, came_out=end, cleared=cleared, remark=said))
    return out


def soaks(log: Log, press: str | None = None, first: int = 0, last: int = EVER) -> list[Soak]:
    """Return every stay of a part in a bath that is in force, in the order they were entered.

    Of a press, those of parts of shots `first` to `last`.
    """
    with log.reading() as connection:
        return _read_soaks(connection, press, first, last)


def _hours(part: Part, halves: Mapping[str, InForce], designs: Mapping[str, DesignSettings]) -> float:
    """Return how long a part stays in, in hours: the longest of the single-use designs, else of all."""
    single = [held for held in halves.values() if held.single_use]
    for held in halves.values():
        if held.design in designs and designs[held.design].dissolve_h is None:
            raise UsageError(
                f'part {part}: design {held.design} is set to dissolve = "not allowed", caustic would attack the part '
                "or the half"
            )
    hours = [designs[held.design].dissolve_h for held in single or halves.values() if held.design in designs]
    return max((value for value in hours if value is not None), default=DesignSettings().dissolve_h or 0.0)


def _refuse_before_moulded(connection: Connection, part: Part, start: datetime) -> None:
    shots = schema.shots
    query = select(shots.c.time).join(schema.presses).where(schema.presses.c.name == part.press)
    moulded = connection.execute(query.where(shots.c.shot == part.shot)).scalar()
    if moulded is not None and start < parse_utc(moulded):
        when = shown(parse_utc(moulded))
        raise UsageError(f"part {part}: given in at {shown(start)}, allowed: not before it was moulded, {when}")


def _read_soaks(connection: Connection, press: str | None = None, first: int = 0, last: int = EVER) -> list[Soak]:
    table, ends, presses, baths = schema.soaks, schema.soak_ends, schema.presses, schema.baths
    asked = (ends.c.soak_id, ends.c.id, ends.c.came_out, ends.c.cleared, ends.c.remark)
    ended = select(*asked).where(standing(ends)).order_by(ends.c.id)
    about = (table.c.id, presses.c.name, table.c.shot, table.c.cavity, baths.c.name, table.c.bath_id)
    query = (
        select(*about, table.c.went_in, table.c.due)
        .select_from(table.join(presses).join(baths))
        .where(standing(table))
        .order_by(table.c.id)
    )
    if press is not None:
        of = of_press(table, press) & table.c.shot.between(first, last)
        ended, query = ended.join(table, table.c.id == ends.c.soak_id).where(of), query.where(of)
    outs = {soak_id: out for soak_id, *out in connection.execute(ended)}
    found = []
    for number, name, shot, cavity, bath, bath_id, went_in, due in connection.execute(query):
        end_id, came_out, cleared, remark = outs.get(number, (None, None, False, ""))
        out = None if came_out is None else parse_utc(came_out)
        part = Part(name, shot, cavity)
        found.append(
            Soak(number, end_id, part, bath, bath_id, parse_utc(went_in), parse_utc(due), out, cleared, remark)
        )
    return found
