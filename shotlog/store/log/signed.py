"""Who made an entry, and how that is known: one row of `signed` beside each entry, added in its transaction.

A log signs with the `signature` it was given when it was opened, so that nothing that is entered through it can be left
out. The logger signs what it enters by itself (a dry shot, a changed map, a clock that was set, a weight's shot) as the
program. An entry of a log of before there were signatures has none, and needs none.
"""

import getpass
import platform
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, Table, func, literal, or_, select
from sqlalchemy.sql.selectable import NamedFromClause

from shotlog.records import Signature
from shotlog.store.log import schema

__all__ = ["PROGRAM", "Tally", "at_this_computer", "login_name", "signature_of", "signed_columns", "signed_on", "tally"]

PROGRAM = Signature("", "", "program", "")
"""Signs what the logger enters by itself."""

_NAMES = ("account", "role", "via", "address", "initials")

_SHOWN = 20
"""Entries named of those whose signature is missing, doubled or of nothing; there is one place to look then."""


def signed_on(entry: Table, signed: NamedFromClause = schema.signed) -> ColumnElement[bool]:
    """Return the condition that a row of `signed` is that of a row of the table `entry`."""
    return (signed.c.entry == entry.name) & (signed.c.entry_id == entry.c.id)


def signed_columns(signed: NamedFromClause = schema.signed) -> list[ColumnElement[Any]]:
    """Return what to ask for in a query that joined `signed` by `signed_on`, for `signature_of`."""
    return [signed.c[name].label(f"{signed.name}_{name}") for name in _NAMES]


def signature_of(row: Mapping[Any, Any], signed: NamedFromClause = schema.signed) -> Signature | None:
    """Return the signature in a row of a query that asked for `signed_columns`, None where there is none."""
    said = [row[f"{signed.name}_{name}"] for name in _NAMES]
    return None if said[_NAMES.index("via")] is None else Signature(*said)


def at_this_computer(via: str, initials: str = "") -> Signature:
    """Return what signs for somebody at a command line or in Python: login name and computer."""
    return Signature("", "", via, f"{login_name() or 'unknown'}@{platform.node()}", initials)


def login_name() -> str:
    """Return who is logged in to this computer; empty where none is known, as in some containers."""
    try:
        return getpass.getuser()
    except (ImportError, KeyError, OSError):
        return ""


@dataclass(frozen=True, slots=True)
class Tally:
    """How many entries were signed how; `wrong` names those whose signature is missing, doubled or of no entry.

    `not_said`: neither was anybody logged in nor initials given. An entry of before there were signatures counts by its
    initials. `by_program`: what the logger entered by itself. `lost`: those whose signature is missing, entered before
    the log went on from an earlier one (`asked.followed`), of which rows may be lost: no fault of this log.
    """

    by_login: int
    typed: int
    not_said: int
    by_program: int
    wrong: tuple[str, ...]
    lost: tuple[str, ...] = ()


def tally(connection: Connection) -> Tally:
    """Count the entries of a log by how they are signed, and find those that are signed wrongly."""
    counts = {"login": 0, "typed": 0, "": 0, "program": 0}
    for table in schema.ENTRIES:
        for account, via, initials, n in _counted(connection, table):
            named = "program" if via == PROGRAM.via else "login" if account else "typed" if initials else ""
            counts[named] += n
    begun, missing = _begun(connection), list(_missing(connection))
    lost = [said for link, said in missing if link <= begun]
    wrong = [said for link, said in missing if link > begun] + [*_doubled(connection), *_of_nothing(connection)]
    return Tally(
        counts["login"],
        counts["typed"],
        counts[""],
        counts["program"],
        tuple(wrong[:_SHOWN]),
        tuple(lost[:_SHOWN]),
    )


def _counted(connection: Connection, table: Table) -> Iterator[tuple[str, str, bool, int]]:
    """Yield account, by what it came, whether initials were given, and how many entries are signed so."""
    signed = schema.signed
    in_row = table.c.initials if "initials" in table.c else literal("")
    each = (
        select(
            table.c.id,
            func.coalesce(signed.c.account, "").label("account"),
            func.coalesce(signed.c.via, "").label("via"),
            (func.coalesce(signed.c.initials, in_row, "") != "").label("said"),
        )
        .select_from(table.outerjoin(signed, signed_on(table)))
        .subquery()
    )
    how = (each.c.account, each.c.via, each.c.said)
    for account, via, said, n in connection.execute(select(*how, func.count(func.distinct(each.c.id))).group_by(*how)):
        yield account, via, bool(said), int(n)


def _begun(connection: Connection) -> int:
    """Return the link up to which a log holds what was in one that it goes on from, also what was brought back."""
    logs, ledger = schema.logs, schema.ledger
    newest = connection.execute(select(func.max(logs.c.id)).where(logs.c.follows.is_not(None))).scalar()
    if newest is None:
        return 0
    name = f"{logs.name}:{newest}"
    rows = ledger.c.rows
    named = or_(rows == name, rows.like(f"{name} %"), rows.like(f"% {name}"), rows.like(f"% {name} %"))
    return connection.execute(select(func.max(ledger.c.id)).where(named)).scalar() or 0


def _missing(connection: Connection) -> Iterator[tuple[int, str]]:
    """Yield the entries without a signature that came after the first that has one, and the link of each."""
    ledger = schema.ledger
    first = select(func.min(ledger.c.id)).where(or_(*_named(schema.signed)))
    since = connection.execute(first).scalar()
    if since is None:
        return
    bare = {table.name: _bare(connection, table) for table in schema.ENTRIES}
    bare = {name: rows for name, rows in bare.items() if rows}
    if not bare:
        return
    among = [like for table in schema.ENTRIES if table.name in bare for like in _named(table)]
    links = select(ledger.c.id, ledger.c.rows).where(ledger.c.id >= since, or_(*among)).order_by(ledger.c.id)
    for link, rows in connection.execute(links):
        for word in rows.split():
            table, _, row_id = word.partition(":")
            if int(row_id) in bare.get(table, ()):
                yield link, f"entry {row_id} of {table} has no signature"


def _named(table: Table) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """Return the conditions that a link names a row of a table: as its first, or behind another."""
    rows = schema.ledger.c.rows
    return rows.like(f"{table.name}:%"), rows.like(f"% {table.name}:%")


def _bare(connection: Connection, table: Table) -> Collection[int]:
    query = select(table.c.id).select_from(table.outerjoin(schema.signed, signed_on(table)))
    return set(connection.execute(query.where(schema.signed.c.id.is_(None))).scalars())


def _doubled(connection: Connection) -> Iterator[str]:
    entry, number = schema.signed.c.entry, schema.signed.c.entry_id
    query = select(entry, number, func.count()).group_by(entry, number).having(func.count() > 1).order_by(entry, number)
    for table, row_id, n in connection.execute(query):
        yield f"entry {row_id} of {table} has {n} signatures"


def _of_nothing(connection: Connection) -> Iterator[str]:
    signed, there = schema.signed, {table.name: table for table in schema.ENTRIES}
    for name in connection.execute(select(signed.c.entry).distinct().order_by(signed.c.entry)).scalars():
        query = select(signed.c.entry_id).where(signed.c.entry == name).order_by(signed.c.entry_id)
        if name in there:
            query = query.where(signed.c.entry_id.not_in(select(there[name].c.id)))
        for row_id in connection.execute(query).scalars():
            yield f"a signature is of entry {row_id} of {name}, which is not there"
