"""The computer's clock held against the one that never steps back.

Every shot is stamped by the wall clock, which people and time servers set. What came first is told by the log and never
by a time; but how long the press stood between two shots is told by their times, so that a step has to be known to
whoever asks. It is seen at the next turn of the recorder, goes into the log as a record, and before the first shot of
each press that was stamped after it as an entry, which the call heeds and a recording carries.

A time server that corrects a clock slowly makes no step: up to a tenth of the time since the last look is a slew.
"""

import logging
from collections.abc import Mapping, Sequence
from datetime import datetime

from shotlog.clock import Clock
from shotlog.entries import CLOCK, clock_text
from shotlog.errors import StoreError
from shotlog.records import ClockStep, Event, Shot
from shotlog.store.log.clock_steps import newest_time, untold_steps
from shotlog.store.log.journal import Spooled
from shotlog.store.log.log import Log
from shotlog.wording.clock import slept, step_said

__all__ = ["LEAST_STEP_S", "ClockWatch", "watch_from"]

LEAST_STEP_S = 2.0
"""A smaller step is none: it changes no wait by more than the jitter of an operator (own)."""

_SLEW = 0.1
"""The share of the time since the last look by which a clock may be corrected without a step: the common time servers
correct by 8 in 100 at most."""

_AT_ONCE_S = 0.2
"""The two clocks are read one after the other; where the process stood still in between, nothing is concluded."""

logger = logging.getLogger(__name__)


class ClockWatch:
    """Sees the steps of a clock, and tells each press of them at its next shot.

    `untold`: steps in the log that no shot of a press has followed yet, by press, oldest first.
    """

    def __init__(self, clock: Clock, presses: Sequence[str], untold: Mapping[str, Sequence[ClockStep]]) -> None:
        self._clock = clock
        self._untold = {press: [*untold.get(press, ())] for press in presses}
        self._at = self._read()

    def began(self, newest: datetime | None) -> list[ClockStep]:
        """Return the step of a clock that shows less at the start than the `newest` time in the log; else nothing."""
        now = self._clock.now()
        if newest is None or (newest - now).total_seconds() < LEAST_STEP_S:
            return []
        step_s = (now - newest).total_seconds()
        return self._known([ClockStep(now, step_s, step_said(step_s, at_least=True), at_least=True)])

    def look(self) -> list[ClockStep]:
        """Return what the clock did since the last look: mostly nothing."""
        before, at = self._at, self._read()
        if before is None or at is None:
            self._at = at or before
            return []
        self._at = at
        wall, steady, suspended = ((later - earlier) for later, earlier in zip(at, before, strict=True))
        found = []
        if suspended > LEAST_STEP_S:
            found.append(ClockStep(self._clock.now(), 0.0, slept(suspended)))
        step_s = wall - steady - suspended
        if abs(step_s) > LEAST_STEP_S + _SLEW * (steady + suspended):
            found.append(ClockStep(self._clock.now(), step_s, step_said(step_s)))
        return self._known(found)

    def beside(self, batch: Sequence[Spooled], steps: Sequence[ClockStep]) -> list[Spooled]:
        """Return a batch with `steps`, just seen, and with an entry before each first shot of a press after a step."""
        found: list[Spooled] = []
        left = [*steps]
        for record in batch:
            after = self._after(record)
            if after and left:
                found += left
                left = []
            if after and isinstance(record, Shot):
                found += self._told(record)
            found.append(record)
        return [*found, *left]

    def _known(self, steps: list[ClockStep]) -> list[ClockStep]:
        for step in steps:
            for untold in self._untold.values():
                untold.append(step)
        return steps

    def _told(self, shot: Shot) -> list[Event]:
        steps = self._untold.get(shot.press, [])
        set_s, at_least = sum(one.step_s for one in steps), any(one.at_least for one in steps)
        steps.clear()
        if abs(set_s) < LEAST_STEP_S:
            return []
        return [Event(shot.press, shot.shot, CLOCK, clock_text(set_s, at_least), shot.time)]

    def _after(self, record: Spooled) -> bool:
        """Say whether a record was stamped after the newest step: what was read before it may still be on its way."""
        newest = next((one[-1] for one in self._untold.values() if one), None)
        if newest is None:
            return True
        ago_s = (self._clock.now() - record.time).total_seconds()
        return abs(ago_s) <= abs(ago_s - newest.step_s)

    def _read(self) -> tuple[float, float, float] | None:
        """Return what the clocks show, in seconds; None where they could not be read at one moment."""
        began = self._clock.monotonic()
        wall, suspended = self._clock.now().timestamp(), self._clock.suspended()
        return (wall, began, suspended) if self._clock.monotonic() - began < _AT_ONCE_S else None


def watch_from(
    log: Log, clock: Clock, presses: Sequence[str], waits: bool = False
) -> tuple[ClockWatch, list[ClockStep]]:
    """Return a watch over the clock that goes on from the log, and the step that was made while nobody was logging.

    `waits`: shots wait for the log, and with them it may be told already what the log has untold.
    """
    try:
        watch = ClockWatch(clock, presses, {} if waits else untold_steps(log, presses))
        return watch, watch.began(newest_time(log, presses))
    except StoreError as error:
        logger.error("%s; whether the clock was set while nobody was logging is not known", error)
        return ClockWatch(clock, presses, {}), []
