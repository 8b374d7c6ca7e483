"""One transaction on the log: rows in, and one link of the hash chain over all of them."""

import uuid
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from typing import Any, Generic, TypeVar

from sqlalchemy import Connection, Table, bindparam, func, select

from shotlog.channels import CHANNELS
from shotlog.clock import SystemClock, iso_utc
from shotlog.entries import DRY
from shotlog.errors import StoreError, UsageError
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
from shotlog.store.log.engine import translated
from shotlog.store.log.identity import Head, Identity
from shotlog.store.log.prepared import Asked, Prepared, Row, add_row, row_to_add
from shotlog.store.log.writing import Writing

__all__ = [
    "START_COLUMNS",
    "Entered",
    "Transaction",
    "Trial",
    "has_origin",
    "known_origins",
    "transaction",
    "where_shots_are",
]

Record = Shot | Gap | Fault | Link | ClockStep | Start | Event | Mounting | Removal | Weighing

START_COLUMNS = ("release", "basis", "config", "digest", "maps", "host", "process")

_ASKED = 500
"""Origins asked for with one query: a database takes only so many parameters."""

Trial = tuple[str, str, str, str] | None
"""Name, part and resin of a trial, and the time it was first used; None for none."""

Entry = TypeVar("Entry", Event, Mounting, Removal)

_LEDGER = schema.ledger.c
_NEWEST = select(func.max(_LEDGER.id)).scalar_subquery()
_PRESS = Prepared(select(schema.presses.c.id).where(schema.presses.c.name == bindparam("name")))
_PRESS_AND_SHOT = Prepared(
    select(schema.presses.c.id, schema.shots.c.id)
    .select_from(
        schema.presses.outerjoin(
            schema.shots,
            (schema.shots.c.press_id == schema.presses.c.id) & (schema.shots.c.shot == bindparam("shot")),
        )
    )
    .where(schema.presses.c.name == bindparam("name"))
)
_VALUES = Prepared(select(*(schema.shots.c[name] for name in CHANNELS)).where(schema.shots.c.id == bindparam("number")))
_OF_ORIGIN = select(_LEDGER.id).where(_LEDGER.origin == bindparam("origin"))
_HAS_ORIGIN = Prepared(_OF_ORIGIN)
_STANDING = Prepared(
    select(
        _NEWEST.label("number"),
        select(_LEDGER.digest).where(_LEDGER.id == _NEWEST).scalar_subquery().label("digest"),
        select(func.max(schema.logs.c.id)).scalar_subquery().label("name"),
        _OF_ORIGIN.scalar_subquery().label("same"),
        select(func.max(schema.set_points.c.id)).scalar_subquery().label("set_point"),
    )
)
"""What each transaction looks at first, asked at once: on a server each question is a way there and back."""


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
        self.connection, self.newest, self.signature, self._presses = connection, newest, signature, presses
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
        row_id = add_row(self.connection, table, row)
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
                return self.add(
                    schema.gaps,
                    press_id=press_id,
                    first=record.first,
                    last=record.last,
                    reason=record.reason,
                    time=time,
                    least=record.least,
                    most=record.most,
                )
            case Fault():
                return self.add(
                    schema.faults,
                    press_id=press_id,
                    shot=record.shot,
                    kind=record.kind,
                    detail=record.detail,
                    raw=record.raw,
                    time=time,
                    more=record.more or None,
                )
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
        found = found or _PRESS_AND_SHOT.first(self.connection, name=shot.press, shot=shot.shot)
        press_id, shot_id = found or (self._new_press(shot.press, time), None)
        if shot_id is None:
            return self.add(
                schema.shots,
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

    def seal(self, origin: str | None) -> Asked | None:
        """Return what adds the link of the hash chain that covers this transaction's rows, None where it has none."""
        if not self._rows:
            return None
        self._sign()
        if not self._is_named:
            self.name("first written by a release that tells logs apart")
        rows = " ".join(f"{table}:{row['id']}" for table, row in self._rows)
        linked = digest(GENESIS if self.newest is None else self.newest.digest, self._rows)
        return row_to_add(schema.ledger, {"rows": rows, "digest": linked, "origin": origin})

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


def where_shots_are(records: Iterable[object]) -> dict[tuple[str, int], Asked]:
    """Return the questions which press each shot is of, and whether it is in the log, to be asked all at once."""
    shots = [(one.press, one.shot) for one in records if isinstance(one, Shot)]
    return {(press, shot): (_PRESS_AND_SHOT, {"name": press, "shot": shot}) for press, shot in shots}


def has_origin(connection: Connection, origin: str) -> bool:
    """Say whether a transaction of that origin is in the log."""
    return _HAS_ORIGIN.first(connection, origin=origin) is not None


def known_origins(connection: Connection, origins: Sequence[str]) -> set[str]:
    """Return which of some origins have a transaction in the log."""
    origin, known = schema.ledger.c.origin, set[str]()
    for first in range(0, len(origins), _ASKED):
        found = connection.execute(select(origin).where(origin.in_(origins[first : first + _ASKED]))).scalars()
        known.update(one for one in found if one is not None)
    return known


@contextmanager
def transaction(
    writing: Writing,
    identity: Identity,
    where: str,
    origin: str | None = None,
    trial_id: int | None = None,
    signature: Signature | None = None,
    presses: Collection[str] | None = None,
    asked: Sequence[Asked] = (),
) -> Iterator[Transaction]:
    """Open a transaction; it is committed, with its link of the chain, when the block ends well.

    `asked`: what is asked as well when it begins, under its lock; see `Transaction.answers`.

    Raises
    ------
    StoreGone, StoreReplaced
        What is open is not the log that lies at the path. It may have been committed all the same, to no use: whoever
        delivers it again gives an origin.
    """
    if not writing.is_open:  # opening changes a file, which may be none of ours
        identity.check_file()
    try:
        with translated(where), writing.transaction([(_STANDING, {"origin": origin}), *asked]) as begun:
            (standing,), *answers = begun.answers
            number, newest_digest, a_name, same, set_point = standing
            newest = None if number is None else Head(number, newest_digest)
            identity.check_chain(begun.connection, newest)
            work = Transaction(
                begun.connection,
                newest,
                trial_id,
                signature,
                presses,
                is_named=a_name is not None,
                is_repeated=same is not None,
                newest_set_point=set_point or 0,
                answers=answers,
            )
            yield work
            begun.last = work.seal(origin)
        if begun.last is not None and begun.last_answer:
            work.newest = Head(begun.last_answer[0][0], begun.last[1]["digest"])
    except StoreError:
        identity.check_file()  # whatever failed: where the file is gone, that is why
        raise
    identity.check_commit()
    identity.saw(work.newest, work.uid)
