"""How long inserts of a design live: a censored two-parameter Weibull from the lives that have ended.

An insert pulled as a precaution, or still sound when the trial ended, is censored: it only says that its life is
longer. With few failures the shape cannot be estimated, so it carries a weak prior about 2.5, the middle of what
printed inserts show (planning figure, no source): one pseudo-observation on the log scale.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import NotEnoughShots
from shotlog.life_text import LifeTold
from shotlog.wear.constants import (
    ELSEWHERE_WORTH,
    LIFE_ROUNDS,
    LIFE_SHAPE,
    LIFE_SHAPE_SPREAD,
    PLANNED_LIFE,
    SUDDEN_SHARE,
)
from shotlog.wear.life.worn import STAYS, Worn

__all__ = ["EndedLife", "Weibull", "fit", "hazard", "worth"]

_SHAPES = np.exp(np.linspace(np.log(0.5), np.log(8.0), 80))


@dataclass(frozen=True, slots=True)
class EndedLife:
    """A finished life: the shots it was sound for, whether it had gone off then (False: censored), the insert's serial.

    `made`: shots made on it in all. `sound`: those before it had gone off by what the shots say, should a swap confirm
    it. `found`: people decided whether it had, and no swap says otherwise. `worn`: how it wore, None where no change
    was followed. `course`: the same as other presses are told of it, see `LifeTold`.
    """

    n_shots: int
    failed: bool
    serial: str = ""
    made: int = 0
    sound: int | None = None
    found: bool = False
    worn: Worn | None = None
    course: tuple[float, ...] = ()

    @property
    def sudden(self) -> bool:
        """Whether it went off without a course that led there."""
        return self.failed and (self.worn is None or float(self.worn.shares[STAYS]) > 0.5)

    def told(self, design: str, material: str = "") -> LifeTold:
        """Return what other presses are told of it."""
        sudden = self.failed and (not self.course or self.course[STAYS] > 0.5)
        made = max(self.made, self.n_shots)
        told = LifeTold(self.serial, design, made, self.n_shots, self.failed, sudden, material=material)
        return replace(told, course=self.course) if self.failed else told


@dataclass(frozen=True, slots=True)
class Weibull:
    """Life distribution: survival at n shots is exp(-(n / scale) ^ shape)."""

    scale: float
    shape: float

    def survival(self, n: float) -> float:
        """Return the share of inserts that live beyond `n` shots."""
        return exp(-((max(n, 0.0) / self.scale) ** self.shape))

    def quantile(self, share: float) -> float:
        """Return the life that a `share` of inserts does not reach, in shots."""
        return float(self.scale * (-log(1.0 - share)) ** (1.0 / self.shape))


def fit(lives: Sequence[EndedLife], prior: bool = True) -> Weibull:
    """Fit the life distribution by maximum likelihood; with `prior`, the weak prior on the shape is added.

    Raises
    ------
    NotEnoughShots
        No life has ended by failure.

    References
    ----------
    Meeker & Escobar 1998, Statistical Methods for Reliability Data, chapter 8 (profile likelihood; from memory).
    """
    times = np.array([max(one.n_shots, 1) for one in lives], dtype=np.float64)
    failed = np.array([one.failed for one in lives])
    r = int(failed.sum())
    if r == 0:
        raise NotEnoughShots("a life distribution needs at least one insert that has gone off: given none")

    logs = float(np.log(times[failed]).sum())

    def profile(shapes: NDArray[np.float64]) -> NDArray[np.float64]:
        powered = np.sum(times ** shapes[:, None], axis=1)
        value = r * np.log(shapes) - r * np.log(powered / r) + (shapes - 1) * logs - r
        return np.asarray(value - (0.5 * (np.log(shapes / LIFE_SHAPE) / LIFE_SHAPE_SPREAD) ** 2 if prior else 0.0))

    shapes = _SHAPES
    for _ in range(LIFE_ROUNDS):
        at = int(np.argmax(profile(shapes)))
        shapes = np.linspace(shapes[max(at - 1, 0)], shapes[min(at + 1, len(shapes) - 1)], len(_SHAPES))
    shape = float(shapes[int(np.argmax(profile(shapes)))])
    return Weibull(float((np.sum(times**shape) / r) ** (1.0 / shape)), shape)


def worth(n: int) -> float:
    """Return what each of `n` lives on other presses counts for beside one here, where presses are not told apart."""
    return ELSEWHERE_WORTH / (ELSEWHERE_WORTH + n)


def hazard(ended: Sequence[EndedLife], made: int, age: int, elsewhere: Sequence[LifeTold] = ()) -> float:
    """Return how likely, a shot, an insert goes off at an `age`: to tell one half from another, where few have ended.

    A share goes off at any age, the others by wear, of the usual shape; what has gone off is counted over the shots
    made, on `ended` lives, the `made` ones of this, and for what they are worth those `elsewhere`. One failure at the
    planned life stands before them all (own: the mean of a gamma distribution with one pseudo-observation).
    """
    lives = np.array([PLANNED_LIFE, max(made, age), *(one.n_shots for one in ended)], dtype=np.float64)
    failed = 1.0 + sum(one.failed for one in ended)
    powered, total = float((lives**LIFE_SHAPE).sum()), float(lives.sum())
    if elsewhere:
        there, counts = np.array([one.sound for one in elsewhere], dtype=np.float64), worth(len(elsewhere))
        failed += counts * sum(one.gone_off for one in elsewhere)
        powered, total = powered + counts * float((there**LIFE_SHAPE).sum()), total + counts * float(there.sum())
    wear = LIFE_SHAPE * float(age) ** (LIFE_SHAPE - 1.0) * failed / powered
    return float(SUDDEN_SHARE * failed / total + (1.0 - SUDDEN_SHARE) * wear)
