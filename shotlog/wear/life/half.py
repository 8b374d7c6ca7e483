"""What the monitor holds about the insert in the mould: its shots, what was noted, and the change called on it."""

from dataclasses import dataclass, field

from shotlog.records import HALVES, InForce, LoggedShot
from shotlog.wear.change.hypotheses import Hypotheses
from shotlog.wear.change.onset import Onset
from shotlog.wear.life.stretch import Stretch
from shotlog.wear.life.swap_odds import Carried

__all__ = ["Accepted", "CalledChange", "HalfState", "Mould"]

_ORDER = ("moving", "core", "fixed")


@dataclass
class CalledChange:
    """A change that has been called: since shot `at` on the insert. `carried`: it outlived a swap."""

    at: int
    onset: Onset
    group: str
    cause: str
    weight: float
    swap: bool = False
    low_for: int = 0
    carried: bool = False


@dataclass
class Accepted:
    """A change taken as the level from shot `at` on the insert on."""

    at: int
    group: str
    text: str


@dataclass
class HalfState:
    """The insert judged now; `first` is the press's shot number of its first shot, `key` the pool it will join,
    `pool` the one it is judged by, if that is of its set-up. `pause`: shot on it after the last wait, until it is known
    whether an insert was changed in it. `elsewhere`: how far off its sisters it started, by channel in its unit.
    """

    held: InForce
    first: int
    key: str
    stretch: Stretch = field(default_factory=Stretch)
    call: CalledChange | None = None
    carried: Carried | None = None
    events: list[tuple[int, str]] = field(default_factory=list)
    accepted: list[Accepted] = field(default_factory=list)
    pause: int | None = None
    question: str = ""
    pool: str = ""
    elsewhere: dict[str, float] = field(default_factory=dict)
    hypotheses: Hypotheses | None = field(default=None, metadata={"saved": False})


@dataclass
class Mould:
    """Which half was changed when, and the print batches of single-use halves.

    The insert judged is the reused half changed last; at a tie the moving one, then core, then fixed.
    """

    since: dict[str, tuple[str, int]] = field(default_factory=dict)
    batch: dict[str, str] = field(default_factory=dict)

    def reused(self) -> int:
        """Return how many reused halves are in the mould."""
        return len(self.since)

    def take(self, shot: LoggedShot) -> tuple[InForce, bool]:
        """Take in the halves of a shot.

        Return the insert to judge and whether a new print batch of single-use halves began.
        """
        changed = False
        for half in HALVES:
            held = shot.halves.get(half)
            if held is None:
                self.since.pop(half, None)
            elif held.single_use:
                self.since.pop(half, None)
                if held.print_batch:
                    changed |= self.batch.get(half, held.print_batch) != held.print_batch
                    self.batch[half] = held.print_batch
            elif self.since.get(half, ("", 0))[0] != held.serial:
                self.since[half] = (held.serial, shot.shot)
        reused = [half for half in _ORDER if half in self.since]
        if not reused:
            return InForce("", next((h.design for h in shot.halves.values()), "")), changed
        youngest = max(reused, key=lambda half: self.since[half][1])
        return shot.halves[youngest], changed
