"""What a press is set to, kept as it comes: a row where something is not as before, and a set-up entry by itself.

A shot says what was read with it, and a press may tell by itself that something was changed (`SetPointChange`); both
are held against what is in force, so that the same change is made one entry, whichever comes first:

* The first reading of a name is a row and no entry; nor is one that is not compared with what was before, because its
  unit is another or the configuration reads it otherwise.
* A change found with a shot is an entry at that shot, all that changed in one. Where shots lie between it and the last
  one that was read, or the press was out of reach between them, its text says between which.
* A change that a press tells of ahead of a shot is entered with that shot. One that it tells of afterwards is known
  already where shots are read; else it is entered late, at the shot that the press names.
* What the press counts as the shot of a change, and we as the first one that was made with it, may be one apart.
* A name that is to be read with the shots and was not leaves a row without a value: nothing is said of such shots.
* What changes again and again is an actual value (see `restless`): said once, and no entry until it stands still.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import pairwise
from typing import Any

from sqlalchemy import func, select

from shotlog.clock import iso_utc
from shotlog.entries import SETUP
from shotlog.records import Event, Fault, SetPoint, SetPointChange, Shot
from shotlog.setup_text import SetUpChange, setup_text
from shotlog.store.log import schema
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.restless import STILL, Changed, is_restless, restless_from, restless_said
from shotlog.store.log.set_point_rows import HeldSetPoints, SetPointRow, key_of, names_of
from shotlog.store.log.transaction import Transaction

__all__ = ["KeepingSetPoints"]


@dataclass(frozen=True, slots=True)
class _Shot:
    """A shot at which set-points are looked at: `before` is the last one stored before it, None for none."""

    press: str
    press_id: int
    shot: int
    time: datetime
    before: int | None


class KeepingSetPoints:
    """Keeps set-points within one transaction; `held` is what the log has of them.

    `made`: what was put into the log besides, to be shown. Late entries are made by `finish`.
    """

    def __init__(self, work: Transaction, held: HeldSetPoints) -> None:
        self._work, self._held = work, held
        self._newest_start: int | None = None
        self._late: dict[tuple[str, int], tuple[datetime, list[SetUpChange]]] = {}
        self.made: list[Event | Fault] = []

    def read(self, shot: Shot) -> None:
        """Take what was read with a shot that is new in the log."""
        self._newest_start = None
        self._held.look(self._work.newest_set_point)
        if not shot.set_points and not self._work.newest_set_point:
            return
        press_id = self._work.press_id(shot.press, iso_utc(shot.time))
        at = _Shot(shot.press, press_id, shot.shot, shot.time, self._stored_before(press_id, shot.shot))
        configured = self._configured(shot.press)
        told = self._held.told_since(self._work.connection, press_id, -1 if at.before is None else at.before, at.shot)
        by_shot: dict[int, list[SetUpChange]] = {}
        for name in dict.fromkeys((*shot.set_points, *configured, *told)):
            found = self._changed(at, name, shot.set_points.get(name), name in configured)
            if found is not None:
                by_shot.setdefault(found[0], []).append(found[1])
        for at_shot, changes in sorted(by_shot.items()):
            self._enter(at, at_shot, changes)

    def told(self, change: SetPointChange) -> None:
        """Take what a press told by itself."""
        connection = self._work.connection
        self._newest_start = None
        self._held.look(self._work.newest_set_point)
        press_id = self._work.press_id(change.press, iso_utc(change.time))
        new = SetPoint(change.new).text
        last = self._stored_before(press_id, None)
        at = _Shot(change.press, press_id, change.shot, change.time, last)
        known = self._known(at, change.name, new) or self._held.told_before(
            connection, press_id, change.name, iso_utc(change.time), new, _text_of(change.old)
        )
        if known is not None:
            if change.by and not known.by:
                self._add(at, known.shot, change.name, known.value, known.unit, known.old, change.by)
            return
        shot = change.shot
        if change.name in self._configured(change.press) and last is not None:
            shot = max(shot, last + 1)  # up to there it was read, and was not so
        held = self._held.newest(connection, press_id, change.name, shot)
        if held is not None and held.value == new:
            return
        old = held.value if held is not None and held.value else None
        told = _text_of(change.old)
        if told is not None:
            if shot != change.shot and old not in (None, told):
                return  # what is read with the next shot tells
            old = told
        unit = change.unit or ("" if held is None else held.unit)
        self._add(at, shot, change.name, new, unit, old, change.by)
        if old is not None and last is not None and shot <= last:
            said = SetUpChange(change.name, old, new, unit, by=change.by)
            self._late.setdefault((change.press, shot), (change.time, []))[1].append(said)

    def finish(self) -> None:
        """Make the entries of what a press told late, all of a shot in one."""
        for (press, shot), (time, changes) in self._late.items():
            self._make(press, shot, time, changes)
        self._late = {}

    def _changed(
        self, at: _Shot, name: str, said: SetPoint | None, is_configured: bool
    ) -> tuple[int, SetUpChange] | None:
        """Take a reading, None where there is none; return from which shot it changed, and to what."""
        connection, press_id = self._work.connection, at.press_id
        before = self._held.newest(connection, press_id, name, at.shot)
        held = self._taken(at, name, said, before, is_configured)
        if held is None:
            return None
        if held is before and not self._is_new(at, held):
            return self._stands_still(at, held)
        base = None if at.before is None else self._held.last_value(connection, press_id, name, at.before)
        if base is None and at.before is not None and held.old is not None and said is None:
            base = replace(held, value=held.old)  # never read; the press told what it was before
        if base is None or base.value == held.value or not self._compares(at.press, base, held):
            return None
        change = SetUpChange(name, base.value, held.value, held.unit, self._after(at, name, held), held.by)
        return None if self._is_restless(at, name, held.shot) else (held.shot, change)

    def _taken(
        self, at: _Shot, name: str, said: SetPoint | None, held: SetPointRow | None, is_configured: bool
    ) -> SetPointRow | None:
        """Put a reading into the log where it is not as before; return what is in force, None where nobody knows."""
        if said is not None:
            is_same = held is not None and self._same(at.press, held, said)
            return held if is_same else self._row(at, name, said, held)
        if held is None or not held.value:
            return None
        if is_configured and not self._is_new(at, held):
            self._add(at, at.shot, name, "", held.unit, None, "")
            return None
        return held

    @staticmethod
    def _is_new(at: _Shot, held: SetPointRow) -> bool:
        """Say whether it was told since the shot before."""
        return at.before is None or held.shot > at.before

    def _row(self, at: _Shot, name: str, said: SetPoint, held: SetPointRow | None) -> SetPointRow:
        base = held
        if held is not None and not held.value:
            base = self._held.last_value(self._work.connection, at.press_id, name, at.shot)
        row = SetPointRow(0, at.shot, name, said.text, said.unit, None, "", self._start())
        compares = base is not None and base.value != row.value and self._compares(at.press, base, row)
        old = base.value if base is not None and compares else None
        self._add(at, at.shot, name, row.value, row.unit, old, "")
        return row

    def _same(self, press: str, held: SetPointRow, said: SetPoint) -> bool:
        return (
            held.value == said.text
            and held.unit == said.unit
            and self._read_as(press, held.name, held.newest_start) == self._read_as(press, held.name, self._start())
        )

    def _compares(self, press: str, one: SetPointRow, other: SetPointRow) -> bool:
        read = (self._read_as(press, row.name, row.newest_start) for row in (one, other))
        return one.unit == other.unit and next(read) == next(read)

    def _stands_still(self, at: _Shot, held: SetPointRow) -> tuple[int, SetUpChange] | None:
        """Return a change that no entry was made of, at the shot by which it has stood still for long enough."""
        connection, press_id = self._work.connection, at.press_id
        if held.old is None or at.before is None or not at.before < held.shot + STILL <= at.shot:
            return None
        changes = self._held.changes(connection, press_id, held.name, held.shot)
        if not is_restless(changes):
            return None
        first = changes[restless_from(changes)]
        if first.old == held.value:
            return None
        change = SetUpChange(held.name, first.old, held.value, held.unit, restless_since=first.shot)
        return held.shot, change

    def _is_restless(self, at: _Shot, name: str, shot: int) -> bool:
        changes = self._held.changes(self._work.connection, at.press_id, name, shot)
        why = restless_said(changes)
        if not why:
            return False
        kind = f"set-point {name} keeps changing"
        if not self._said_since(at, kind, changes):
            detail = (
                f"set-point {name} {why}: it is taken for a measured value, and no set-up entry is made of it until "
                f"it has stood still for {STILL} shots; see what stands where it is read"
            )
            fault = Fault(at.press, at.time, kind, detail, shot=shot)
            self._work.append(fault)
            self.made.append(fault)
        return True

    def _said_since(self, at: _Shot, kind: str, changes: list[Changed]) -> bool:
        """Say whether it was said of these changes already, of which none stood still since."""
        table = schema.faults
        query = select(func.max(table.c.shot)).where(table.c.press_id == at.press_id, table.c.kind == kind)
        said = self._work.connection.execute(query).scalar()
        if said is None:
            return False
        since = [one.shot for one in changes if one.shot >= said]
        return all(b - a < STILL for a, b in pairwise(since))

    def _after(self, at: _Shot, name: str, held: SetPointRow) -> int | None:
        """Return the last shot that was read as before, where that is not simply the shot before."""
        if held.shot != at.shot:
            return None  # the press named the shot
        before = self._held.newest(self._work.connection, at.press_id, name, at.shot - 1)
        last = at.before if before is None or before.value else self._stored_before(at.press_id, before.shot)
        if last is None or (last == at.shot - 1 and not self._was_away(at.press_id, last)):
            return None
        return last

    def _was_away(self, press_id: int, since_shot: int) -> bool:
        """Say whether the press was out of reach, or nobody at work, after a shot."""
        shots, links = schema.shots, schema.links
        time = select(shots.c.time).where(shots.c.press_id == press_id, shots.c.shot == since_shot).scalar_subquery()
        query = select(links.c.id).where(links.c.press_id == press_id, links.c.state != "connected")
        return self._work.connection.execute(query.where(links.c.time >= time).limit(1)).first() is not None

    def _known(self, at: _Shot, name: str, new: str) -> SetPointRow | None:
        """Return the row of the very change that a press tells of, None where it is not known yet."""
        held = self._held.newest(self._work.connection, at.press_id, name, self._stored_after(at.press_id, at.shot))
        while held is not None and held.shot >= at.shot - 1:
            before = self._stored_before(at.press_id, held.shot)
            if held.value == new and (before is None or before <= at.shot):
                return held
            held = self._held.newest(self._work.connection, at.press_id, name, held.shot - 1)
        return None

    def _enter(self, at: _Shot, at_shot: int, changes: list[SetUpChange]) -> None:
        self._make(at.press, at_shot, at.time, changes)

    def _make(self, press: str, at_shot: int, time: datetime, changes: list[SetUpChange]) -> None:
        """Make an entry, once: what is brought in again after damage is in the log already, in force or taken back."""
        event = Event(press, at_shot, SETUP, setup_text(changes, at_shot), time)
        table = schema.events
        same = (table.c.at_shot == at_shot, table.c.kind == SETUP, table.c.text == event.text)
        query = select(table.c.id).join(schema.presses).where(schema.presses.c.name == press, *same)
        if self._work.connection.execute(query.limit(1)).first() is None:
            self._work.append(event)
            judge_again(self._work, press, at_shot, f"{SETUP} at shot {at_shot}", time)
            self.made.append(event)

    def _add(self, at: _Shot, shot: int, name: str, value: str, unit: str, old: str | None, by: str) -> None:
        said = {"name": name, "value": value, "unit": unit, "old": old, "by": by, "newest_start": self._start()}
        self._work.add(schema.set_points, press_id=at.press_id, shot=shot, time=iso_utc(at.time), **said)
        self._held.look(self._work.newest_set_point)

    def _stored_before(self, press_id: int, shot: int | None) -> int | None:
        """Return the last stored shot before a shot, or the last of all."""
        table = schema.shots
        query = select(func.max(table.c.shot)).where(table.c.press_id == press_id)
        found = self._work.connection.execute(query if shot is None else query.where(table.c.shot < shot)).scalar()
        return None if found is None else int(found)

    def _stored_after(self, press_id: int, shot: int) -> int:
        """Return the first stored shot after a shot, the next number where there is none yet."""
        table = schema.shots
        query = select(func.min(table.c.shot)).where(table.c.press_id == press_id, table.c.shot > shot)
        found = self._work.connection.execute(query).scalar()
        return shot + 1 if found is None else int(found)

    def _start(self) -> int:
        if self._newest_start is None:
            self._newest_start = self._held.newest_start(self._work.connection)
        return self._newest_start

    def _configured(self, press: str) -> list[str]:
        return names_of(self._held.read_as(self._work.connection, press, self._start()))

    def _read_as(self, press: str, name: str, start: int) -> Mapping[str, Any] | None:
        return self._held.read_as(self._work.connection, press, start).get(key_of(name))


def _text_of(value: float | str | None) -> str | None:
    return None if value is None else SetPoint(value).text
