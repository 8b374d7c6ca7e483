"""What a reading of the press's shot counter means, given the one before. Pure; nothing is read here.

The shot counter is the only thing that says a shot was made, and it is not a clean source. It rolls over at its width
or at its last displayed digit; it starts again when a job is changed or the press is switched on; it shows 0 for some
seconds while a controller starts and then its old value; a damaged line shows any number at all. The log needs
numbers that only go up, so readings are unwrapped:

* a reading above the last one is that many shots further; all but the last were missed;
* a reading below it is a rollover if it is near ahead when counted over the top, otherwise a new count. How near is
  near depends on whether the counter was watched all the while (then a press can have made few shots) or not;
* a new count that starts small says how many shots it has counted, and numbering goes on by as many. Falling to 0 says
  only that the next reading starts from 0. A new count at some other number (a counter preset, another job's counter)
  says nothing about how many were missed: numbering goes on by one;
* a 0 that returns to the old count while watched was a controller starting, not a new count;
* a reading that needs a large jump is doubtful, and taken only when the next reading goes on from it. A single wild
  reading thus never moves the count.

Distances are counted modulo the counter's range, as in serial number arithmetic (RFC 1982); the bounds are our own.
"""

from dataclasses import dataclass

from shotlog.collectors.base import Resume

__all__ = ["ShotCounter", "Step"]

# Shots a press can make between two readings: watched, at the poll rate (a demonstration may run a thousand times
# too fast); or while nobody looked. Someone with cycles under a second would choose larger ones.
_WATCHED = 50
_UNWATCHED = 10_000
_OVER_THE_TOP = 1_000
_SMALL = 1_000
# More shots than a press makes in a year: such a jump says nothing.
_BELIEVABLE = 1_000_000
# A controller that starts shows its old count again, give or take the shot in progress.
_BACK = 3


@dataclass(frozen=True, slots=True)
class Step:
    """What one reading means.

    `kind`: ``same``, ``first`` (nothing was known), ``next``, ``rollover``, ``reset``, ``set`` (a new count at a number
    that says nothing), ``back`` (to the count before a passing 0), ``none yet`` (0: no shot of this count), ``outside``
    (no such count). `shot` is the unwrapped number, `missed` how many shots before it were not seen. `doubtful`: wait
    for the next reading to go on from it.
    """

    kind: str
    shot: int
    missed: int = 0
    doubtful: bool = False

    @property
    def new(self) -> bool:
        """Whether there is a shot to take."""
        return self.kind in ("first", "next", "rollover", "reset", "set")


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
    """

    def __init__(self, last_count: int, resume: Resume | None, zero_is_shot: bool = False) -> None:
        self.last_count = last_count
        self.known = resume
        self._zero_is_shot = zero_is_shot
        self._watched = False
        self._at_zero = False
        self._pending: int | None = None

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
        if raw > known.counter:
            ahead = raw - known.counter
            if ahead > _BELIEVABLE:
                return Step("set", known.shot + 1, doubtful=True)
            bound = _WATCHED if self._watched else _UNWATCHED
            return Step("next", known.shot + ahead, ahead - 1, ahead > bound)
        return self._below(raw, known)

    def _from_zero(self, raw: int, known: Resume) -> Step:
        if raw == 0:
            return Step("same", known.shot)
        beyond = raw - known.counter
        if self._watched and 0 <= beyond <= _BACK:
            return Step("next", known.shot + beyond, beyond - 1) if beyond else Step("back", known.shot)
        return Step("reset", known.shot + raw, raw - 1, raw > _WATCHED)

    def _below(self, raw: int, known: Resume) -> Step:
        over = raw + self.last_count + 1 - known.counter
        near = min(_WATCHED if self._watched else _OVER_THE_TOP, (self.last_count + 1) // 4)
        if over <= near:
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
        how = {"rollover": "counter rolled over", "reset": "counter reset"}.get(step.kind, "counter went on")
        return f"{how} from {before} to {raw}{'' if self._watched else ' while not connected'}"

    @property
    def pending(self) -> int | None:
        """The doubtful reading that waits for the next, if there is one."""
        return self._pending

    def take(self, raw: int, step: Step) -> None:
        """Move the count to this reading."""
        self._watched = True
        self._pending = None
        if step.kind == "none yet" and self.known is not None:
            self._at_zero = True
        elif step.new or step.kind in ("back", "none yet"):
            self._at_zero = False
            self.known = Resume(step.shot, raw)
