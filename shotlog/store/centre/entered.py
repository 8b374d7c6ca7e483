"""What people entered at a centre: it waits there for its edge, and stays on record with what became of it.

An entry is ``waiting`` until the edge begins with it, then ``taking``; it ends as ``taken``, with its numbers in the
edge's log, or as ``refused``, with why. While it is waiting who made it may take it back: it is ``withdrawn``.
"""

import uuid
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, RowMapping, func, insert, literal_column, select, update

from shotlog.clock import parse_utc
from shotlog.errors import UsageError
from shotlog.records import MadeEntry, Signature
from shotlog.store.centre.content import UNREADABLE, as_listed, is_same, made_said_of
from shotlog.store.centre.said import Said, rows_in, text_of
from shotlog.store.centre.tables import entered as table
from shotlog.store.log.edge_at_centre import NUMBER
from shotlog.store.log.identity import Head
from shotlog.store.log.log import Log

__all__ = [
    "REFUSED",
    "WAITING",
    "WaitingEntry",
    "add_entered",
    "begin_taking",
    "entered_at_centre",
    "settle",
    "unsettled",
    "withdraw",
]

_MOST = 1000
"""Characters kept of why an entry was refused."""
WAITING, TAKING, TAKEN, REFUSED, WITHDRAWN = "waiting", "taking", "taken", "refused", "withdrawn"


@dataclass(frozen=True, slots=True)
class WaitingEntry:
    """An entry made at a centre; `number`, `uid`: what it goes by there. `state`: see above.

    `basis`: the newest link of the edge that the centre had when it was made. `why` it was refused or withdrawn, empty
    where it was not; `entries`: what it is in the edge's log (``dispositions:12``). `settled`: when that was, by the
    clock of the centre; `made` by the clock of whoever entered it. `waited`: the uids of those that waited then.
    `unread`: why its content is none that this release knows, which is then empty.
    """

    number: int
    uid: str
    content: tuple[Said, ...]
    signature: Signature
    basis: Head
    made: datetime
    state: str
    why: str
    entries: tuple[str, ...]
    settled: datetime | None
    waited: tuple[str, ...] = ()
    unread: str = ""

    @property
    def waits(self) -> bool:
        """Whether the edge has not settled it yet."""
        return self.settled is None

    @property
    def became(self) -> list[str]:
        """What it is in the edge's log, by the kinds and numbers that `undo` takes."""
        return list(filter(None, map(as_listed, self.entries)))

    @property
    def said(self) -> list[MadeEntry]:
        """What was entered, as entries, without rows of which none can be made; see `made_said_of`."""
        found = []
        for one in self.content:
            with suppress(*UNREADABLE):
                found.append(made_said_of(one, self.signature))
        return found


def add_entered(
    connection: Connection, edge: int, content: Sequence[Said], signature: Signature, basis: Head | None
) -> int:
    """Keep an entry for an edge until that takes it; return its number."""
    at = Head(0, "") if basis is None else basis
    names = ("account", "role", "via", "address", "initials")
    waited = select(table.c.uid).where(table.c.edge == edge, table.c.settled.is_(None)).order_by(table.c.id)
    query = insert(table).values(
        edge=edge,
        uid=uuid.uuid4().hex,
        content=text_of(content),
        made=parse_utc(content[0]["time"]),
        basis_link=at.number,
        basis_digest=at.digest,
        waited=" ".join(connection.execute(waited).scalars()),
        **{name: getattr(signature, name) for name in names},
    )
    return int(connection.execute(query.returning(table.c.id)).scalar_one())


def entered_at_centre(log: Log, newest: int | None = None, waiting: bool = False) -> list[WaitingEntry]:
    """Return what was entered at the centre for the edge whose log there is open, in the order it was entered.

    `newest`: so many of the newest at most; `waiting`: only what waits. Nothing of a log that is no edge's at a centre.
    """
    if not log.edge:
        return []
    here: ColumnElement[int] = literal_column(f"current_setting('{NUMBER}')::int")
    only = [table.c.settled.is_(None)] if waiting else []
    with log.reading() as connection:
        return _read(connection, table.c.edge == here, *only, newest=newest)


def unsettled(connection: Connection, edge: int) -> list[WaitingEntry]:
    """Return what an edge has to settle, in the order it was entered."""
    return _read(connection, table.c.edge == edge, table.c.settled.is_(None))


def _read(connection: Connection, *only: ColumnElement[bool], newest: int | None = None) -> list[WaitingEntry]:
    rows = connection.execute(select(table).where(*only).order_by(table.c.id.desc()).limit(newest)).mappings()
    return [_entry(row) for row in rows][::-1]


def _entry(row: RowMapping) -> WaitingEntry:
    names = ("account", "role", "via", "address", "initials")
    settled, unread = row["settled"], ""
    try:
        content = rows_in(row["content"])
    except UsageError as error:
        content, unread = (), str(error)
    return WaitingEntry(
        row["id"],
        row["uid"],
        content,
        Signature(*(row[name] for name in names)),
        Head(row["basis_link"], row["basis_digest"]),
        row["made"].astimezone(UTC),
        row["state"],
        row["why"],
        tuple(row["entries"].split()),
        None if settled is None else settled.astimezone(UTC),
        tuple(row["waited"].split()),
        unread,
    )


def begin_taking(connection: Connection, number: int) -> bool:
    """Say that the edge begins with an entry, which from then on is not withdrawn; False where it was just before."""
    return _changed(connection, number, (WAITING, TAKING), state=TAKING)


def settle(connection: Connection, entry: WaitingEntry, entries: Sequence[str], refused: str) -> WaitingEntry:
    """Say what became of an entry that the edge took, and return it so: what it is there, or why it was refused."""
    state, why = REFUSED if refused else TAKEN, _storable(refused)
    ended = {"state": state, "why": why, "entries": " ".join(entries)}
    _changed(connection, entry.number, (TAKING,), settled=func.now(), **ended)
    return replace(entry, state=state, why=why, entries=tuple(entries))


def _storable(why: str) -> str:
    """Return why an entry was refused as a server takes it: it may quote what was entered, which may be anything."""
    return why[:_MOST].encode(errors="backslashreplace").decode().replace("\0", "\\0")


def withdraw(connection: Connection, edge: int, number: int, signature: Signature, reason: str) -> WaitingEntry:
    """Take an entry back that waits; return it as it was.

    Raises
    ------
    UsageError
        It does not wait, was made by somebody else, or no reason is given.
    """
    if not reason.strip():
        raise UsageError("reason: given nothing, allowed: a few words that say why the entry is taken back")
    found = _read(connection, table.c.edge == edge, table.c.id == number)
    if not found:
        raise UsageError(f"waiting {number}: there is none; `shotlog entries` lists what was entered")
    if not is_same(found[0].signature, signature):
        maker = found[0].signature.account or found[0].signature.initials or "somebody else"
        raise UsageError(f"waiting {number}: it was entered by {maker}, and by nobody else it is taken back here")
    why = f"{reason.strip()} ({signature.initials})" if signature.initials else reason.strip()
    if not _changed(connection, number, (WAITING,), state=WITHDRAWN, why=why, settled=func.now()):
        raise UsageError(f"waiting {number}: {_why_not(_read(connection, table.c.id == number)[0])}")
    return found[0]


def _why_not(entry: WaitingEntry) -> str:
    """Say why an entry cannot be taken back here any more, and what can be done."""
    if entry.state == WITHDRAWN:
        return "it was taken back before"
    if entry.state == REFUSED:
        return f"it was refused, so that there is nothing to take back: {entry.why}"
    if entry.state == TAKEN and entry.became:
        return f"it does not wait any more; take back what it became: {', '.join(entry.became)}"
    return "it does not wait any more: the edge is taking it in; `shotlog entries` lists what it becomes"


def _changed(connection: Connection, number: int, states: Sequence[str], **values: Any) -> bool:
    query = update(table).where(table.c.id == number, table.c.state.in_(states)).values(**values)
    return connection.execute(query.returning(table.c.id)).first() is not None
