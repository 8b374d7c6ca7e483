"""Whether messages get out: how it stands with each receiver, as the messenger noted it. No part of the record."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.store.asked.presence import touch
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["ReceiverNow", "Telling", "note_telling", "telling"]


_FRESH = timedelta(minutes=3)


@dataclass(frozen=True, slots=True)
class ReceiverNow:
    """How it stands with a receiver: when it took the last message, since when it takes none, how many wait.

    `why` it takes none, and when the `next_try` is.
    """

    last: datetime | None = None
    failing_since: datetime | None = None
    waits: int = 0
    why: str = ""
    next_try: datetime | None = None


@dataclass(frozen=True, slots=True)
class Telling:
    """How it stood with the receivers of a site at `time`, by their names."""

    time: datetime
    receivers: Mapping[str, ReceiverNow] = field(default_factory=dict)

    def is_idle(self, now: datetime) -> bool:
        """Whether what tells people is not at work: it notes once a minute how it stands."""
        return not timedelta() <= now - self.time <= _FRESH


def note_telling(log: Log, site: str, state: Telling) -> None:
    """Note how it stands, in place of what was noted before.

    Raises
    ------
    StoreError
        The log cannot be written now.
    """
    plain = {
        name: [_iso(one.last), _iso(one.failing_since), one.waits, one.why, _iso(one.next_try)]
        for name, one in sorted(state.receivers.items())
    }
    touch(log, _role(site), json.dumps(plain), state.time)


def telling(log: Log, site: str) -> Telling | None:
    """Return how it stood last, None where nobody was ever to be told."""
    table = schema.presence
    with log.reading() as connection:
        found = connection.execute(select(table.c.detail, table.c.time).where(table.c.role == _role(site))).first()
    if found is None:
        return None
    try:
        plain = json.loads(found.detail)
        receivers = {
            name: ReceiverNow(_time(last), _time(failing), waits, why, _time(next_try))
            for name, (last, failing, waits, why, next_try) in plain.items()
        }
    except (ValueError, TypeError, AttributeError):  # of another release
        receivers = {}
    return Telling(parse_utc(found.time), receivers)


def _role(site: str) -> str:
    return f"messages of {site}"


def _time(kept: str | None) -> datetime | None:
    return None if kept is None else parse_utc(kept)


def _iso(at: datetime | None) -> str | None:
    return None if at is None else iso_utc(at)
