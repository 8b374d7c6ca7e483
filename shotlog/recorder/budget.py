"""What one press may put into the log beside its shots: the first faults in full, then how many more there were.

A line that chatters, a connection that comes and goes: ten thousand rows say no more than five and a number. Shots,
gaps and weighings are never held back, nor are faults that say how the numbering of shots goes on.
"""

from dataclasses import dataclass, replace
from datetime import datetime

from shotlog.channels import CHANNELS
from shotlog.clock import Clock
from shotlog.records import Fault, Gap, Link, SetPointChange, Shot, Weighing
from shotlog.wording.incoming import changes_said, more_said

__all__ = ["FaultBudget", "LinkBudget"]

Records = list[Shot | Gap | Fault | Link | Weighing | SetPointChange]

_IN_FULL = 5
_FIRST_S, _LONGEST_S = 60.0, 600.0
"""What came beyond is told after a minute, then after twice as long each time, up to ten minutes."""
_QUIET_S = 3600.0
"""A kind that did not come for so long begins anew."""
_NUMBERING = ("counter reset", "counter set", "counter uncertain", "counter next")
_CHANGES_IN_FULL = 10
_STANDS_S = 10.0
"""A connection that stays as it is for so long is told whatever came before: the pages must not show an old state."""


@dataclass(slots=True)
class _Kind:
    """One kind of fault: told in full so far, when the last came, and what was counted since the last row."""

    n_full: int = 0
    last_at: float = 0.0
    n_more: int = 0
    since: float = 0.0
    wait_s: float = _FIRST_S
    newest: Fault | None = None
    shots: tuple[int, ...] = ()


class FaultBudget:
    """Lets the first faults of a kind through, and counts the others. State: a few numbers a kind."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._kinds: dict[str, _Kind] = {}

    def take(self, records: Records) -> Records:
        """Return what goes into the log of what came, with what is due of what was counted before."""
        now = self._clock.monotonic()
        found = [one for record in records for one in self._one(record, now)]
        due = [one for kind in self._kinds.values() if kind.n_more and now - kind.since >= kind.wait_s
               for one in self._more(kind, now)]  # fmt: skip
        return found + due

    def close(self) -> Records:
        """Return what was counted and is not told yet."""
        now = self._clock.monotonic()
        return [one for kind in self._kinds.values() if kind.n_more for one in self._more(kind, now)]

    def _one(self, record: Shot | Gap | Fault | Link | Weighing | SetPointChange, now: float) -> Records:
        if not isinstance(record, Fault) or record.kind in _NUMBERING:
            return [record]
        kind = self._kinds.setdefault(record.kind, _Kind())
        quiet, kind.last_at = now - kind.last_at, now
        before: Records = []
        if kind.n_full and quiet >= _QUIET_S:
            before = self._more(kind, now) if kind.n_more else []
            kind.n_full, kind.wait_s = 0, _FIRST_S
        if kind.n_full < (1 if _of_a_value(record) else _IN_FULL):
            kind.n_full += 1
            return [*before, record]
        if not kind.n_more:
            kind.since = now
        kind.n_more += 1 + record.more
        kind.newest = record
        kind.shots = (*kind.shots[:1], *(() if record.shot is None else (record.shot,)))
        return before

    def _more(self, kind: _Kind, now: float) -> Records:
        newest, n = kind.newest, kind.n_more
        if newest is None:
            return []
        detail = more_said(n, now - kind.since, kind.shots, newest.detail)
        kind.n_more, kind.newest, kind.shots = 0, None, ()
        kind.wait_s = min(2 * kind.wait_s, _LONGEST_S)
        return [replace(newest, detail=detail, more=n - 1)]


def _of_a_value(fault: Fault) -> bool:
    """Say whether a fault is about one channel or set-point of shots that are stored; its kind then begins with it."""
    return fault.kind.partition(" ")[0] in CHANNELS or (
        fault.kind.startswith("set-point ") and fault.kind.endswith(" not taken")
    )


class LinkBudget:
    """Lets the first changes of a connection through; then tells of it when it stays, or now and then, with how often
    it changed. State: what was told, what is, and a count.
    """

    def __init__(self, press: str, clock: Clock) -> None:
        self._press, self._clock = press, clock
        self._told = self._now = ("", "")
        self._n_full = self._n_changes = 0
        self._changed_at = self._told_at = clock.monotonic()

    def say(self, state: str, detail: str, since: datetime | None = None) -> Records:
        """Take how the connection stands, by default since now; return what is to be told: mostly nothing."""
        at = self._clock.monotonic()
        if (state, detail) != self._now:
            if at - self._changed_at >= _QUIET_S:
                self._n_full = 0
            self._now, self._changed_at = (state, detail), at
            self._n_changes += 1
        in_full = self._n_full < _CHANGES_IN_FULL or state == "stopped"
        stands = at - self._changed_at >= _STANDS_S or at - self._told_at >= _LONGEST_S
        if self._n_changes and (in_full or (stands and at - self._told_at >= _FIRST_S)):
            return self._tell(at, since or self._clock.now())
        return []

    def _tell(self, at: float, since: datetime) -> Records:
        state, detail = self._now
        n, self._n_changes = self._n_changes, 0
        self._n_full += 1
        if n > 1:
            detail = changes_said(n, at - self._told_at, detail)
        elif self._now == self._told:
            return []
        self._told, self._told_at = self._now, at
        return [Link(self._press, since, state, detail)]
