"""The sign of life of the logger: written every few seconds by the thread that stores, so that where no new one comes
nothing is stored. It goes into the log, and into the note of the journal for as long as the log cannot be written.

It is counted, and told by the clock that never steps as well as by the time of day: a clock that was set makes neither
a dead logger alive nor a live one dead.
"""

import json
import platform
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import datetime
from types import MappingProxyType

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.store.asked.presence import touch_all
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["STALE_S", "Beat", "beat", "heard", "is_fresh", "read", "this_host", "written"]

STALE_S = 30.0
"""A beat comes every 5 s; six missed are no accident."""
_AHEAD_S = 5.0

_ROLE = "run"


@dataclass(frozen=True, slots=True)
class Beat:
    """One sign of life.

    `count` counts them since the start `since`. `monotonic_s` is the clock of `host` that never steps back. `process`:
    its number there. `silent`: seconds since the thread of a press last went round, for each that has been silent for
    longer than it may. `unjudged`: shots that wait until judging is ready. `ended`: it ended as it was asked to.
    `gets_ready_s`: for how many seconds judging has been getting ready, None where it is. `waits_s`: for how many
    seconds each press has waited for verdicts while they could be worked out, of those that wait; None where that is
    not told, as by an earlier release.
    """

    count: int
    time: datetime
    since: datetime
    monotonic_s: float
    host: str
    process: int
    silent: Mapping[str, float] = field(default_factory=dict)
    unjudged: int = 0
    ended: bool = False
    gets_ready_s: float | None = None
    waits_s: Mapping[str, float] | None = None


def this_host() -> str:
    """Return the name that this computer gives itself."""
    return platform.node()


def written(sign: Beat) -> str:
    """Return a sign of life as it is written down."""
    plain = {**asdict(sign), "time": iso_utc(sign.time), "since": iso_utc(sign.since), "silent": dict(sign.silent)}
    return json.dumps(plain)


def read(text: str) -> Beat | None:
    """Return the sign of life that was written down; None where it is none, or of a release before this one."""
    try:
        plain = json.loads(text)
        return Beat(**{**plain, "time": parse_utc(plain["time"]), "since": parse_utc(plain["since"])})
    except (ValueError, TypeError, KeyError):
        return None


def beat(log: Log, sign: Beat, came: Mapping[str, str] = MappingProxyType({})) -> None:
    """Write a sign of life into the log in place of the one before, and what shots came as, by role."""
    touch_all(log, {_ROLE: written(sign), **came}, sign.time)


def heard(log: Log) -> Beat | None:
    """Return the last sign of life; None where there was none, or a release before this one wrote it."""
    table = schema.presence
    with log.reading() as connection:
        found = connection.execute(select(table.c.detail).where(table.c.role == _ROLE)).scalar()
    return read(found or "")


def is_fresh(sign: Beat, now: datetime, monotonic_s: float, host: str) -> bool | None:
    """Say whether a sign of life is fresh; None where only another one can tell.

    On the computer of the logger its clock that never steps tells. On another one, or after it was started again, it is
    the time of day, which may be set: what it calls old or of the future may be neither.
    """
    if host == sign.host and monotonic_s >= sign.monotonic_s:
        return monotonic_s - sign.monotonic_s <= STALE_S
    return True if -_AHEAD_S <= (now - sign.time).total_seconds() <= STALE_S else None
