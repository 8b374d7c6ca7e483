"""A change in the life of an insert: open from its call on, until something closes it."""

from dataclasses import dataclass, field, replace

from shotlog.wear.change.onset import Onset

__all__ = ["Accepted", "Asked", "Finding", "OpenChange", "Spoken"]


@dataclass(frozen=True, slots=True)
class OpenChange:
    """A change that has been called, since shot `at` on the insert, and that nothing has closed yet.

    `swap`: a swap was advised. `low_for`: shots in a row that speak against it. `carried`: it outlived a swap.
    `weights` by cause, and `effect` by channel in its unit, are those of when it was last followed. `over`: how far its
    log odds have come above the bar.
    """

    at: int
    onset: Onset
    group: str = ""
    cause: str = ""
    weight: float = 0.0
    swap: bool = False
    low_for: int = 0
    carried: bool = False
    weights: dict[str, float] = field(default_factory=dict)
    effect: dict[str, float] = field(default_factory=dict)
    over: float = 0.0

    def later(self, shots: int) -> "OpenChange":
        """Return it counted from another first shot, so many shots earlier."""
        one = self.onset
        onset = Onset(one.shot + shots, one.low + shots, one.high + shots, one.clean + shots)
        return replace(self, at=self.at + shots, onset=onset)


@dataclass(frozen=True, slots=True)
class Spoken:
    """What verdicts on an insert have said without a keep between, from its shot `since` on: the worst of it, `swap`;
    the group and the onset of the last, on the insert, None where it has none.
    """

    since: int
    swap: bool
    group: str
    onset: int | None

    @property
    def gone_off(self) -> bool:
        """Whether it counts against the insert: a swap was advised, and nothing else is blamed."""
        return self.swap and self.group in ("", "insert")

    @property
    def elsewhere(self) -> bool:
        """Whether a change is laid to the press or the material, which no swap of the insert mends."""
        return (self.swap or self.onset is not None) and self.group not in ("", "insert")

    @property
    def sound(self) -> int:
        """The shots made before what it speaks of."""
        return (self.since if self.onset is None else min(self.onset, self.since)) - 1


@dataclass(frozen=True, slots=True)
class Finding:
    """What a person found at the press's `shot` and nobody has answered; `sound`: shots made on the insert before.

    `named`: the half was named, so that it is of no other.
    """

    sound: int
    shot: int
    text: str
    named: bool = False


@dataclass(frozen=True, slots=True)
class Accepted:
    """A change that was closed: the shots before `at` are surely without it, since shot `since` its level is the level;
    both counted on the insert.
    """

    at: int
    group: str
    since: int


@dataclass(frozen=True, slots=True)
class Asked:
    """Open changes that the swap of another half is asked about: `insert` came out before shot `n` on this one, the
    press's shot `at_shot`.

    `at`: since when each has been called, empty where they were so only on what came out. `low`: the shots before it
    are surely without them. `effect` of all by channel in its unit, and `weights` of the last by cause, as they were at
    the swap; `own`: how likely they are this half's if an insert's. `able`: its level is known well enough to tell;
    else what the insert shows that came in has to.
    """

    insert: str
    at_shot: int
    n: int
    at: list[int]
    low: int
    effect: dict[str, float]
    weights: dict[str, float]
    own: float
    able: bool = True
