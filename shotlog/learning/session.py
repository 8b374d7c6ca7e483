"""One sitting beside the press: read, count its shots, know when enough was seen."""

from collections.abc import Callable, Sequence

from shotlog.clock import Clock
from shotlog.learning.counting import Counting, Refusal, counted_otherwise, counters
from shotlog.learning.history import WordHistory
from shotlog.learning.pace import pace_of
from shotlog.learning.places import place_said
from shotlog.learning.proposal import RegisterProposal, chosen_counter, propose
from shotlog.learning.reading import RegisterReader
from shotlog.learning.screen import ScreenShot

__all__ = ["Session", "shot_said"]

_RECOUNT_S = 1.0
_AHEAD = 50
"""A shot that the screen named is waited for if it is no further ahead than this."""

_TELL_S = 20.0
_STILL_S = 60.0


def shot_said(n: int, wanted: int) -> str:
    """Return which shot it is; more than are wanted come where a person is still to answer."""
    return f"shot {n} of {wanted}" if n <= wanted else f"shot {n}"


class Session:
    """Reads a press until so many shots were counted, or the time is over.

    Parameters
    ----------
    n_shots
        How many counts are wanted.
    most_s
        Time after which it ends with what was found, in seconds.
    tell
        Takes a line of progress.

    Attributes
    ----------
    seen
        What was read off the screen so far; may grow while it reads.
    n_counted
        Counts of what is taken for the shot counter so far.
    quiet
        Whether to tell nothing for now: a person is being asked. It does not end for having seen enough then.
    keep_on
        Whether not to end for having seen enough: a person is still to be asked.
    shown
        The numbers shown by each place that counts, the likeliest first.
    """

    def __init__(
        self, reader: RegisterReader, clock: Clock, n_shots: int, most_s: float, tell: Callable[[str], None]
    ) -> None:
        self._reader, self._clock, self._tell = reader, clock, tell
        self._n_shots, self._most_s = n_shots, most_s
        self.history = WordHistory()
        self.seen: list[ScreenShot] = []
        self.n_counted = 0
        self.quiet = False
        self.keep_on = False
        self.shown: Sequence[Sequence[int]] = ()
        self._best: Counting | None = None
        self._otherwise: tuple[int, Refusal] | None = None
        self._recounted = 0.0
        self._told = 0.0
        self._began = 0.0

    def gather(self) -> None:
        """Read until enough was seen, or until the reader is told to stop.

        Raises
        ------
        PressUnreachable
            The press went away and did not come back.
        """
        self._began = self._told = self._clock.monotonic()
        changes = -1
        while not self._reader.stopped and not self._enough():
            self._reader.round(self.history)
            now = self._clock.monotonic()
            if self.history.n_changes != changes and now - self._recounted >= _RECOUNT_S:
                changes, self._recounted = self.history.n_changes, now
                self._recount()
            if now - self._told >= _TELL_S and self._best is None:
                self._told = now
                self._say(self._waiting_said(now))

    def proposal(self) -> RegisterProposal:
        """Return what was found."""
        rounds = max(1, self._reader.n_rounds)
        return propose(self.history, self.seen, (self.history.ended - (self.history.began or 0.0)) / rounds)

    def _recount(self) -> None:
        counting = counters(self.history)
        found = chosen_counter(counting, self.seen)
        self._best = None if found is None else found.counting
        if found is not None:
            self.shown = [found.counting.shown, *(one.shown for one in counting if one != found.counting)]
        self._otherwise = None if found is not None else counted_otherwise(self.history)
        if self._best is not None and len(self._best.counts) != self.n_counted:
            self.n_counted = len(self._best.counts)
            self._say(
                f"{shot_said(self.n_counted, self._n_shots)}: {self._best.cell.span} shows {self._best.shown[-1]}"
            )

    def _say(self, line: str) -> None:
        if not self.quiet:
            self._tell(line)

    def _enough(self) -> bool:
        if self._clock.monotonic() - self._began > self._most_s:
            return True
        best = self._best
        watched_s = self._clock.monotonic() - self._began
        if self._otherwise is not None and self._otherwise[0] >= self._n_shots and watched_s >= _STILL_S:
            return True  # enough was made, and nothing counts them
        if best is None or self.quiet or self.keep_on:
            return False
        if self.n_counted < self._n_shots or self._waits_for(best, self.seen):
            return False
        return self.history.ended >= best.counts[-1].by + 0.5 * pace_of(best.counts)

    def _waits_for(self, best: Counting, seen: Sequence[ScreenShot]) -> bool:
        shown = best.shown[-1]
        return any(one.shot is not None and shown < one.shot <= shown + _AHEAD for one in seen)

    def _waiting_said(self, now: float) -> str:
        moved = sum(bool(self.history.changed(address)) for address in self.history.addresses)
        if not moved and now - self._began >= _STILL_S:
            return f"nothing has changed for {now - self._began:.0f} s: is the press shooting, and is this the range?"
        said = f"{moved} registers have changed, and none of them counts shots yet"
        if self._otherwise is not None:
            refusal = self._otherwise[1]
            said += f": {place_said(refusal.cell)} {refusal.why}"
        return said
