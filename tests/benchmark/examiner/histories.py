"""The history of one press: sister inserts one after another, what was noted, and the truth beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from shotlog.records import InForce, LoggedShot
from shotlog.settings import DesignSettings
from tests.benchmark.examiner.faults import Change
from tests.benchmark.examiner.press import Press

__all__ = ["DESIGN", "History", "Life"]

DESIGN = "d"
_PRESS = "p"
_STOOD_S = 720.0
"""How long the press stands for a change of insert (trade notes: 5-15 min)."""


@dataclass(frozen=True, slots=True)
class Life:
    """One insert's life: `first` shot in the press's own numbers, `values` as shown, shape (n_shots, n_channels).

    `means`: the same without noise and rounding. `examined`: verdicts on it are scored.
    """

    serial: str
    first: int
    values: NDArray[np.float64]
    means: NDArray[np.float64]
    changes: tuple[Change, ...] = ()
    examined: bool = True

    @property
    def n_shots(self) -> int:
        """How many shots it made."""
        return len(self.values)

    def onset(self, nth: int = 0) -> int:
        """Return the first shot of its nth change, in the press's own numbers."""
        return self.first + self.changes[nth].onset


@dataclass(slots=True)
class History:
    """Shots and truth of one press; `life` adds the next insert. `known`: sizes a score needs, by name.

    `removed`: serial and reason of what was taken out since the last shot, told with the next. `false_calls`: in 100
    sound lives, as the configuration states them.
    """

    press: Press
    rng: np.random.Generator
    design: DesignSettings = field(default_factory=lambda: DesignSettings(name=DESIGN))
    shots: list[LoggedShot] = field(default_factory=list)
    lives: list[Life] = field(default_factory=list)
    known: dict[str, float] = field(default_factory=dict)
    removed: tuple[tuple[str, str], ...] = ()
    false_calls: float | None = None
    time: datetime = datetime(2024, 3, 4, 6, 0, tzinfo=UTC)

    def life(
        self,
        n_shots: int,
        changes: Sequence[Change] = (),
        *,
        examined: bool = False,
        added: NDArray[np.float64] | None = None,
        events: Mapping[int, tuple[str, str]] | None = None,
        cycle_s: NDArray[np.float64] | None = None,
        frozen: Mapping[str, int] | None = None,
        half: str = "moving",
        beside: Sequence[Mapping[str, InForce]] | None = None,
        until: tuple[str, float] | None = None,
        ended: str = "",
    ) -> Life:
        """Run one insert in the moving half, or in `half`.

        `added`: on top of the changes, as they. `events`: by shot of the life, from 0. `cycle_s`: mean cycle by shot.
        `frozen`: a channel and the shot from which it repeats its last value. `beside`: what else is in the mould, by
        shot. `until`: a channel and the level below which the insert is taken out, one shot later. `ended`: why it was
        taken out, in a person's words.
        """
        means = self.press.insert(n_shots, self.rng)
        for change in changes:
            means = means + change.added
        if added is not None:
            means = means + added
        noise = self.press.noise(n_shots, self.rng)
        if until is not None:
            channel, low = until
            below = np.flatnonzero(means[:, self.press.channels.index(channel)] < low)
            n_shots = min(n_shots, int(below[0]) + 2) if below.size else n_shots
        values = self.press.rounded(means + noise)[:n_shots]
        for channel, since in (frozen or {}).items():
            values[since:, self.press.channels.index(channel)] = values[since - 1, self.press.channels.index(channel)]
        serial = f"{half[0].upper()}{len(self.lives) + 1:03d}"
        life = Life(serial, self._next(), values, means[:n_shots], tuple(changes), examined)
        self.time += timedelta(seconds=_STOOD_S)
        for age in range(n_shots):
            noted = (events or {}).get(age)
            halves = {half: InForce(serial, DESIGN), **(beside[age] if beside else {})}
            self.shot(values[age], halves, (noted,) if noted else (), None if cycle_s is None else float(cycle_s[age]))
        self.removed = ((serial, ended),) if ended else ()
        self.lives.append(life)
        return life

    def shot(
        self,
        values: NDArray[np.float64],
        halves: Mapping[str, InForce],
        events: tuple[tuple[str, str], ...] = (),
        cycle_s: float | None = None,
    ) -> None:
        """Add one shot with what was mounted and noted; its time is a cycle after the one before."""
        at = self.press.at("cycle_time")
        took = cycle_s if cycle_s is not None else values[at] if at is not None else self.press.cycle_s
        number = self._next()
        self.time += timedelta(seconds=round(float(took), 1))
        shown = {channel: round(float(v), 6) for channel, v in zip(self.press.channels, values, strict=True)}
        self.shots.append(LoggedShot(_PRESS, number, self.time, shown, dict(halves), events, self.removed))
        self.removed = ()

    def _next(self) -> int:
        return self.shots[-1].shot + 1 if self.shots else 1001
