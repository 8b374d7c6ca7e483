"""What goes into the log with one transaction: records as rows, and one link of the hash chain over all of them."""

import uuid
from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any, Generic, TypeVar

from sqlalchemy import Connection, Table, bindparam, func, select

from shotlog.channels import CHANNELS
from shotlog.clock import SystemClock, iso_utc
from shotlog.entries import DRY
from shotlog.errors import UsageError
from shotlog.records import (
    ClockStep,
    Event,
    Fault,
    Gap,
    Link,
    Mounting,
    Removal,
    Shot,
    Signature,
    Start,
    Weighing,
)
from shotlog.store.log import schema
from shotlog.store.log.bounds import refuse_foreign, refuse_long
from shotlog.store.log.chain import GENESIS, digest
from shotlog.store.log.going_in import GoingIn
from shotlog.store.log.identity import Head
from shotlog.store.log.known_shots import PRESS_AND_SHOT
from shotlog.store.log.prepared import Asked, Prepared, Row, row_to_add

__all__ = ["START_COLUMNS", "Entered", "Record", "Transaction", "Trial"]

Record = Shot | Gap | Fault | Link | ClockStep | Start | Event | Mounting | Removal | Weighing

START_COLUMNS = ("release", "basis", "config", "digest", "maps", "host", "process")

Trial = tuple[str, str, str, str] | None
"""Name, part and resin of a trial, and the time it was first used; None for none."""

Entry = TypeVar("Entry", Event, Mounting, Removal)

_PRESS = Prepared(select(schema.presses.c.id).where(schema.presses.c.name == bindparam("name")))
_VALUES = Prepared(select(*(schema.shots.c[name] for name in CHANNELS)).where(schema.shots.c.id == bindparam("number")))


@dataclass(frozen=True, slots=True)
class Entered(Generic[Entry]):
    """What a person entered, as it was stored: the record, and its number in the log, by which it is taken back."""

    entry_id: int
    record: Entry


class Transaction:
    """Adds rows within one database transaction; what is an entry is signed with `signature`, if there is one.

    `presses`: those that something may be entered for, None for any. `is_repeated`: a transaction of the same origin
    is in the log already. `answers`: to what was asked besides when it began.
    """

    def __init__(
        self,
        connection: Connection,
        newest: Head | None = None,
        trial_id: int | None = None,
        signature: Signature | None = None,
        presses: Collection[str] | None = None,
        is_named: bool = False,
        is_repeated: bool = False,
        newest_set_point: int = 0,
        answers: Sequence[list[Row]] = (),
    ) -> None:
        self._going_in = GoingIn(connection)
        self.newest, self.signature, self._presses = newest, signature, presses
        self.is_repeated, self._is_named, self.answers = is_repeated, is_named, answers
        self.newest_set_point = newest_set_point
        """The number of the newest row of set-points, 0 for none."""
        self.uid: str | None = None
        self._trial_id = trial_id
        self._trial: Trial = None
        self._rows: list[tuple[str, Mapping[str, Any]]] = []
        self._unsigned: list[tuple[str, int]] = []
        self._looked_up: dict[tuple[str, int], Row] = {}

    @property
    def connection(self) -> Connection:
        """The connection it runs on; what waited to go with the commit is in before anything else is asked."""
        return self._going_in.connection

    @property
    def tables(self) -> set[str]:
        """The tables that rows were added to."""
        return {table for table, _ in self._rows}

    def add(self, table: Table, **values: Any) -> int:
        """Add a row to a table of the record and return its id.

        Raises
        ------
        UsageError
            A text holds a NUL, which no server takes and at which other programs end it; or is longer than anybody
            reads; or something is entered for a press that nothing may be entered for.
        """
        for name, value in values.items():
            if isinstance(value, str) and "\0" in value:
                raise UsageError(f"{name}: given {value!r}, allowed: text without NUL")
        if self.signature is not None and self.signature.via != "program":  # whose texts are as long as they have to be
            refuse_long(table, values)
        if table in schema.ENTRIES and self._presses is not None:
            refuse_foreign(self.connection, table, values, self._presses)
        row_id = self.bring_back(table, values)
        if table in schema.ENTRIES:
            self._unsigned.append((table.name, row_id))
        return row_id

    def bring_back(self, table: Table, row: Mapping[str, Any]) -> int:
        """Add a row as it was in a log before; the signature that an entry had, if any, is brought back by itself."""
        row_id = self._going_in.add(table, row)
        self._rows.append((table.name, {"id": row_id, **row}))
        if table is schema.set_points:
            self.newest_set_point = row_id
        return row_id

    def under(self, trial: Trial) -> None:
        """Log the shots of this transaction under a trial, which is added when its first shot is."""
        self._trial = trial

    def trial_id(self, name: str, part: str, resin: str, time: str) -> int:
        """Return the id of a trial, adding it when it is new or was described otherwise."""
        table = schema.trials
        query = select(table.c.id).where(table.c.name == name, table.c.part == part, table.c.resin == resin)
        found = self.connection.execute(query).scalar()
        return int(found) if found is not None else self.add(table, name=name, part=part, resin=resin, time=time)

    def press_id(self, name: str, time: str) -> int:
        """Return the id of a press, adding it when the log has not met it."""
        found = _PRESS.scalar(self.connection, name=name)
        return self._new_press(name, time) if found is None else int(found)

    def _new_press(self, name: str, time: str) -> int:
        return self.add(schema.presses, name=name, time=time)

    def insert_id(self, serial: str, design: str, print_batch: str, time: str) -> int:
        """Return the id of an insert, adding it and its design when they are new."""
        design_id = self._named(schema.designs, "name", design, resin_family="", time=time) if design else None
        return self._named(schema.inserts, "serial", serial, design_id=design_id, print_batch=print_batch, time=time)

    def _named(self, table: Table, key: str, name: str, **values: Any) -> int:
        found = self.connection.execute(select(table.c.id).where(table.c[key] == name)).scalar()
        return int(found) if found is not None else self.add(table, **{key: name}, **values)

    def append(self, record: Record) -> int | None:
        """Add one record; None if it is a shot the log already has."""
        if isinstance(record, Shot):
            time = iso_utc(record.time)
            stored = self._shot(record, time)
            if stored is not None and record.no_part:
                self._append(Event(record.press, record.shot, DRY, record.no_part, record.time))
            return stored
        if isinstance(record, ClockStep):
            return self._clock_step(record)
        if isinstance(record, Start):
            said = {name: getattr(record, name) for name in START_COLUMNS}
            return self.add(schema.starts, time=iso_utc(record.time), newest_shot=self._newest(schema.shots), **said)
        return self._append(record)

    def enter(self, record: Entry) -> Entered[Entry]:
        """Add what a person entered."""
        return Entered(self._append(record), record)

    def _append(self, record: Gap | Fault | Link | Event | Mounting | Removal | Weighing) -> int:
        time = iso_utc(record.time)
        press_id = self.press_id(record.press, time)
        match record:
            case Gap():
                said = {name: getattr(record, name) for name in ("first", "last", "reason", "least", "most")}
                return self.add(schema.gaps, press_id=press_id, time=time, **said)
            case Fault():
                said = {name: getattr(record, name) for name in ("shot", "kind", "detail", "raw")}
                return self.add(schema.faults, press_id=press_id, time=time, more=record.more or None, **said)
            case Link():
                return self.add(schema.links, press_id=press_id, state=record.state, detail=record.detail, time=time)
            case Event():
                return self.add(
                    schema.events,
                    press_id=press_id,
                    at_shot=record.at_shot,
                    kind=record.kind,
                    text=record.text,
                    time=time,
                    half=record.half or None,
                    initials=record.initials or None,
                )
            case Mounting():
                new = record.insert
                return self.add(
                    schema.mountings,
                    press_id=press_id,
                    insert_id=self.insert_id(new.serial, new.design, new.print_batch, time),
                    half=record.half,
                    at_shot=record.at_shot,
                    single_use=record.single_use,
                    time=time,
                    initials=record.initials or None,
                )
            case Weighing():
                names = ("balance", "grams", "g_per_mm", "dose_mm", "after_s", "raw")
                values = {name: getattr(record, name) for name in names}
                return self.add(schema.weighings, press_id=press_id, time=time, **values)
            case Removal():
                return self.add(
                    schema.removals,
                    press_id=press_id,
                    insert_id=self.insert_id(record.serial, "", "", time),
                    at_shot=record.at_shot,
                    reason=record.reason,
                    time=time,
                    initials=record.initials or None,
                    newest_mounting=self._newest(schema.mountings),
                )

    def _clock_step(self, step: ClockStep) -> int:
        tables = {"shot": schema.shots, "weighing": schema.weighings, "link": schema.links}
        newest = {f"newest_{name}": self._newest(table) for name, table in tables.items()}
        values = {"step_s": step.step_s, "detail": step.detail, "time": iso_utc(step.time), "at_least": step.at_least}
        return self.add(schema.clock_steps, **values, **newest)

    def _newest(self, table: Table) -> int:
        return int(self.connection.execute(select(func.max(table.c.id))).scalar() or 0)

    def found(self, looked_up: Mapping[tuple[str, int], Row | None]) -> None:
        """Take what was asked first about shots (`where_shots_are`); each answer holds until its shot is added."""
        # a press that was not there may be by the time its shot is added: that is asked again
        self._looked_up = {key: row for key, row in looked_up.items() if row is not None}

    def _shot(self, shot: Shot, time: str) -> int | None:
        found = self._looked_up.pop((shot.press, shot.shot), None)
        found = found or PRESS_AND_SHOT.first(self.connection, name=shot.press, shot=shot.shot)
        press_id, shot_id, number = found or (self._new_press(shot.press, time), None, None)
        if shot_id is None:
            return self.add(
                schema.shots,
                **({} if number is None else {"id": number}),
                press_id=press_id,
                shot=shot.shot,
                counter=shot.counter,
                time=time,
                trial_id=self._trial_id if self._trial is None else self.trial_id(*self._trial),
                **shot.values,
            )
        stored = dict(zip(CHANNELS, _VALUES.all(self.connection, number=shot_id)[0], strict=True))
        if {name: value for name, value in stored.items() if value is not None} != dict(shot.values):
            self.append(
                Fault(
                    shot.press,
                    shot.time,
                    "second values",
                    f"shot {shot.shot} came again: {dict(shot.values)}; kept the first",
                )
            )
        return None

    def seal(self, origin: str | None) -> list[Asked]:
        """Return what goes with the commit: rows that waited, and last the link of the hash chain that covers all rows
        of this transaction; nothing where it has none.
        """
        if not self._rows:
            return []
        self._sign()
        if not self._is_named:
            self.name("first written by a release that tells logs apart")
        rows = " ".join(f"{table}:{row['id']}" for table, row in self._rows)
        linked = digest(GENESIS if self.newest is None else self.newest.digest, self._rows)
        link = row_to_add(schema.ledger, {"rows": rows, "digest": linked, "origin": origin})
        return [*self._going_in.waiting, link]

    def _sign(self) -> None:
        if self.signature is not None and self._unsigned:
            said = asdict(self.signature)
            for entry, entry_id in self._unsigned:
                self.add(schema.signed, entry=entry, entry_id=entry_id, **said)

    def name(self, reason: str, follows: str | None = None, digest: str | None = None) -> None:
        """Say which log this is from here on; `follows` and `digest`: the log that it goes on from, and its head."""
        self.uid, self._is_named = uuid.uuid4().hex, True
        self.add(
            schema.logs,
            uid=self.uid,
            follows=follows,
            follows_digest=digest,
            reason=reason,
            time=iso_utc(SystemClock().now()),
        )
