"""The head of a log: how many transactions it has and the digest of the last, which names the whole history.

Written down outside the log it shows what was changed, or cut off, since. `head_line` is how it is written down
anywhere: on paper, in a file, in a message.
"""

import re
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, func, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import StoreDamaged, UsageError
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS
from shotlog.store.log.log import Log

__all__ = ["Head", "contained", "head_line", "head_of", "read_head_line", "uid_of"]

_LEAST = 16
"""So many characters of a digest tell it from every other: nobody types 64 from a sheet of paper."""


@dataclass(frozen=True, slots=True)
class Head:
    """How many transactions a log had, and the digest of the last."""

    links: int
    digest: str


def head_of(log: Log) -> Head:
    """Return the head of a log as it stands there; whether the chain leads to it is asked with `Log.verify`."""
    with log.reading() as connection:
        return _head(connection)


def uid_of(log: Log) -> str | None:
    """Return the name by which a log is known, None of one that an earlier release wrote and nobody opened since."""
    table = schema.logs
    with log.reading() as connection:
        return connection.execute(select(table.c.uid).order_by(table.c.id.desc()).limit(1)).scalar()


def head_line(head: Head, time: datetime, by: str) -> str:
    """Return a head in one line: when, how many transactions, the digest, and by what it was written down."""
    return f"{iso_utc(time)} {head.links} {head.digest} {by}"


def read_head_line(line: str) -> tuple[datetime, Head, str] | None:
    """Return what `head_line` wrote, None of what it did not write."""
    found = re.fullmatch(r"(\S+) (\d{1,18}) ([0-9a-f]{64})(?: (.*))?", line)
    try:
        return None if found is None else (parse_utc(found[1]), Head(int(found[2]), found[3]), found[4] or "")
    except ValueError:
        return None


def contained(log: Log, digest: str) -> tuple[int, int]:
    """Return which transaction of a log has a digest, and how many came after it; the chain was verified before.

    `digest` may be its beginning.

    Raises
    ------
    UsageError
        It is no digest.
    StoreDamaged
        No transaction has it.
    """
    wanted = digest.strip().lower()
    if not re.fullmatch(f"[0-9a-f]{{{_LEAST},64}}", wanted):
        raise UsageError(f"--expect: given {digest!r}, allowed: a digest, or its first {_LEAST} characters or more")
    ledger = schema.ledger
    with log.reading() as connection:
        head = _head(connection)
        if GENESIS.startswith(wanted):
            return 0, head.links
        found = connection.execute(select(ledger.c.id).where(ledger.c.digest.startswith(wanted)).limit(1)).scalar()
        if found is None:
            raise StoreDamaged(
                f"log {log.url}: none of its {head.links} transactions has the digest {digest.strip()}: its end is "
                "missing, or it is another log or was written anew"
            )
        place = connection.execute(select(func.count()).where(ledger.c.id <= found)).scalar_one()
    return place, head.links - place


def _head(connection: Connection) -> Head:
    ledger = schema.ledger
    links = connection.execute(select(func.count()).select_from(ledger)).scalar_one()
    digest = connection.execute(select(ledger.c.digest).order_by(ledger.c.id.desc()).limit(1)).scalar()
    return Head(links, digest or GENESIS)
