"""What a reading of the press's shot counter means, given the one before. Pure; nothing is read here.

The shot counter is the only thing that says a shot was made, and it is not a clean source. It rolls over at its width
or at its last displayed digit; it starts again when a job is changed or the press is switched on; it shows 0 for some
seconds while a controller starts and then its old value; a damaged line shows any number at all. The log needs
numbers that only go up, so readings are unwrapped:

* a reading above the last one is that many shots further; all but the last were missed;
* a reading below it is a rollover if it is near ahead when counted over the top, otherwise a new count. Near is what a
  press can have made since it was looked at last; what it means after nobody looked is worked out in `away`;
* a new count that starts small says how many shots it has counted, and numbering goes on by as many. Falling to 0 says
  only that the next reading starts from 0. A new count at some other number (a counter preset, another job's counter)
  says nothing about how many were missed: numbering goes on by one;
* a 0 that returns to the old count while watched was a controller starting, not a new count;
* a reading that needs a large jump is doubtful, and taken only when the next reading goes on from it. A single wild
  reading thus never moves the count.

Distances are counted modulo the counter's range, as in serial number arithmetic (RFC 1982); the bounds are our own.
"""

from dataclasses import dataclass

from shotlog.collectors.away import after_away
from shotlog.collectors.base import Resume

__all__ = ["ShotCounter", "Step"]

# Shots a press can make between two readings at the poll rate (a demonstration may run a thousand times too fast).
# Someone with cycles under a second would choose more.
_WATCHED = 50
_SMALL = 1_000
# More shots than a press makes in a year: such a jump says nothing.
_BELIEVABLE = 1_000_000
_ANY_DIGITS = 999_999_999
# A controller that starts shows its old count again, give or take the shot in progress.
_BACK = 3


@dataclass(frozen=True, slots=True)
class Step:
    """What one reading means.

    `kind`: ``same``, ``first`` (nothing was known), ``next``, ``rollover``, ``reset``, ``set`` (a new count at a number
    that says nothing), ``uncertain`` (over the top, or a new count), ``back`` (to the count before a passing 0), ``none
    yet`` (0: no shot of this count), ``outside`` (no such count). `shot` is the unwrapped number, `missed` how many
    shots before it were not seen, `least` to `most` where that is uncertain. `doubtful`: wait for the next reading to
    go on from it.
    """

    kind: str
    shot: int
    missed: int = 0
    doubtful: bool = False
    least: int | None = None
    most: int | None = None

    @property
    def new(self) -> bool:
        """Whether there is a shot to take."""
        return self.kind in ("first", "next", "rollover", "reset", "set", "uncertain")


class ShotCounter:
    """The unwrapped count of one press.

    Parameters
    ----------
    last_count
        The highest reading before the counter starts again at 0.
    resume
        Where the log stands; None where it has no shot of this press.
    zero_is_shot
        A reading of 0 belongs to a shot (a printed line), instead of saying that there was none yet (a register).

    Attributes
    ----------
    expected
        How many shots fit in the time since the counter was last seen; None where that is not known.
    """

    def __init__(self, last_count: int, resume: Resume | None, zero_is_shot: bool = False) -> None:
        self.last_count = last_count
        self.known = resume
        self._zero_is_shot = zero_is_shot
        self._watched = False
        self._at_zero = False
        self._pending: int | None = None
        self._unseen = 0
        self.expected: float | None = None

    def interrupt(self) -> None:
        """Note that nobody watched the counter for a while: any number of shots may have been made."""
        self._watched = False
        self._pending = None

    def judge(self, raw: int) -> Step:
        """Say what the reading means; the count is not moved."""
        known = self.known
        if not 0 <= raw <= self.last_count:
            return Step("outside", known.shot if known else 0)
        if known is None:
            return Step("none yet", 0) if raw == 0 and not self._zero_is_shot else Step("first", raw)
        if self._at_zero:
            return self._from_zero(raw, known)
        if raw == known.counter:
            return Step("same", known.shot)
        ahead = raw - known.counter
        if ahead > _BELIEVABLE:
            return Step("set", known.shot + 1, doubtful=True)
        if not self._watched:
            return self._after_away(raw, known)
        return Step("next", known.shot + ahead, ahead - 1, ahead > _WATCHED) if ahead > 0 else self._below(raw, known)

    def _after_away(self, raw: int, known: Resume) -> Step:
        found = after_away(known.counter, raw, self._width(known), self.expected, self._zero_is_shot)
        if found.shots > _BELIEVABLE:
            return Step("set", known.shot + 1, doubtful=True)
        missed = max(found.shots - 1, 0)
        ends = [None if end is None else end - 1 for end in (found.least, found.most)]
        return Step(found.kind, known.shot + found.shots, missed, found.doubtful, *ends)

    def _width(self, known: Resume) -> int:
        """Return how many counts there are. A printed counter of which nobody said how wide it is rolls over at the
        digits it shows, four at least.
        """
        if self._zero_is_shot and self.last_count == _ANY_DIGITS:
            return int(10 ** max(4, len(str(known.counter))))
        return self.last_count + 1

    def _from_zero(self, raw: int, known: Resume) -> Step:
        if raw == 0:
            return Step("same", known.shot)
        beyond = raw - known.counter
        if self._watched and 0 <= beyond <= _BACK:
            return Step("next", known.shot + beyond, beyond - 1) if beyond else Step("back", known.shot)
        most = raw - 1 + self._unseen if self._unseen else None
        return Step("reset", known.shot + raw, raw - 1, raw > _WATCHED, raw - 1 if self._unseen else None, most)

    def _below(self, raw: int, known: Resume) -> Step:
        over = raw + self.last_count + 1 - known.counter
        if over <= min(_WATCHED, (self.last_count + 1) // 4):
            return Step("rollover", known.shot + over, over - 1)
        if raw == 0 and not self._zero_is_shot:
            return Step("none yet", known.shot)
        if raw <= _SMALL:
            counted = max(raw, 1)
            return Step("reset", known.shot + counted, counted - 1, raw > 1)
        return Step("set", known.shot + 1, doubtful=True)

    def confirmed(self, raw: int) -> bool:
        """Say whether a doubtful reading goes on from the doubtful one before; remember it if not."""
        pending, self._pending = self._pending, raw
        return pending is not None and 0 <= raw - pending <= _WATCHED

    def explain(self, raw: int, step: Step) -> str:
        """Say in a few words how the shots before this reading came to be missed."""
        before = self.known.counter if self.known else 0
        how = {
            "rollover": "counter rolled over",
            "reset": "counter reset",
            "uncertain": "counter rolled over or began again:",
        }.get(step.kind, "counter went on")
        if step.kind == "uncertain" and raw > before:
            how = "counter went on, or rolled over as well,"
        said = f"{how} from {before} to {raw}{'' if self._watched else ' while not connected'}"
        if step.most is None:
            return said
        other = f", and would have counted {raw} from 0 again" if step.kind == "rollover" else ""
        return f"{said}; {self._time_said()}{other}"

    def _time_said(self) -> str:
        if self.expected is None:
            return "how many shots fit in that time is not known"
        return f"in that time the press makes about {self.expected:,.0f} shots"

    def unsaid(self, step: Step) -> str:
        """Say what a gap cannot: that shots may have been missed where none is certain; empty where none may."""
        if step.most is None or step.missed or step.most < 1:
            return ""
        return f"up to {step.most:,} shots before it may not have been seen: {self._time_said()}"

    @property
    def watched(self) -> bool:
        """Whether the counter was looked at all the while since the last reading that was taken."""
        return self._watched

    @property
    def pending(self) -> int | None:
        """The doubtful reading that waits for the next, if there is one."""
        return self._pending

    def take(self, raw: int, step: Step) -> None:
        """Move the count to this reading."""
        away, self._watched = not self._watched, True
        self._pending = None
        if step.kind == "none yet" and self.known is not None:
            self._at_zero = True
            self._unseen = int(self.expected or 0.0) if away else self._unseen
        elif step.new or step.kind in ("back", "none yet"):
            self._at_zero, self._unseen = False, 0
            self.known = Resume(step.shot, raw)
