"""What parts cost, and what a swap at the right moment would have saved. Free of currency.

In whatever unit the settings give. A part that is held may turn out either way, so a cost per accepted part is given
twice: should every held part be accepted, and should every one be bad (each then costs a late find more).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp

import numpy as np

from shotlog.review.lives import Life

__all__ = ["Bill", "Hindsight", "PartCounts", "bill_of", "hindsight_of", "rest_of_life"]


@dataclass(frozen=True, slots=True)
class PartCounts:
    """How the parts of some shots stand: `open` ones have nothing against them and no decision."""

    open: int = 0
    held: int = 0
    released: int = 0
    scrapped: int = 0

    @property
    def made(self) -> int:
        """All of them."""
        return self.open + self.held + self.released + self.scrapped

    def __add__(self, more: "PartCounts") -> "PartCounts":
        """Return how these and other parts stand together."""
        return PartCounts(
            self.open + more.open, self.held + more.held, self.released + more.released, self.scrapped + more.scrapped
        )


@dataclass(frozen=True, slots=True)
class Bill:
    """A cost and what it is made of; per accepted part None where no part is accepted."""

    part: float
    insert: float
    changeover: float
    late_find: float
    late_find_if_held_bad: float
    per_accepted: float | None
    per_accepted_if_held_bad: float | None

    @property
    def total(self) -> float:
        """The cost as it stands: held parts neither accepted nor bad."""
        return self.part + self.insert + self.changeover + self.late_find


def bill_of(counts: PartCounts, costs: Mapping[str, float], inserts: float, changeovers: float) -> Bill:
    """Return the cost of parts; `inserts` and `changeovers` are what those used cost together.

    `part` is what a moulded part costs whatever becomes of it, `late_find` what a bad one costs more because it was
    found after the shift.
    """
    part = counts.made * costs.get("part", 0.0)
    late = costs.get("late_find", 0.0)
    found, feared = counts.scrapped * late, counts.held * late
    total = part + inserts + changeovers + found
    accepted = counts.open + counts.released
    return Bill(
        part,
        inserts,
        changeovers,
        found,
        feared,
        total / (accepted + counts.held) if accepted + counts.held else None,
        (total + feared) / accepted if accepted else None,
    )


@dataclass(frozen=True, slots=True)
class Hindsight:
    """An insert's swap against the best one in hindsight: right before the first shot after it had gone off.

    `late`: shots made after it had gone off, with the ends of the onset's interval, and `late_cost` what they cost if
    all are bad. `early`: shots a sound insert would still have been expected to make (None where no life distribution
    is known), and `early_cost` the share of insert and changeover thrown away with them.
    """

    late: int
    late_low: int
    late_high: int
    late_cost: float | None
    early: float | None
    early_cost: float | None


def hindsight_of(life: Life, costs: Mapping[str, float], shape_scale: tuple[float, float] | None) -> Hindsight | None:
    """Return how a life compares with hindsight; None while a sound insert is mounted."""
    each = costs.get("part", 0.0) + costs.get("late_find", 0.0)
    new = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    if life.failed:
        late = life.n_shots - life.sound
        low, high = life.n_shots - life.sound_high, life.n_shots - life.sound_low
        return Hindsight(late, low, high, late * each if each > 0 else None, 0.0, 0.0)
    if life.mounted:
        return None
    rest = rest_of_life(life.n_shots, *shape_scale) if shape_scale is not None else None
    lost = new * rest / (life.n_shots + rest) if rest is not None and new > 0 else None
    return Hindsight(0, 0, 0, 0.0, rest, lost)


def rest_of_life(made: int, shape: float, scale: float) -> float:
    """Return the shots a sound insert is expected to make yet, after `made`.

    Sum over n of R(made + n) / R(made), Weibull.
    """
    n = made + np.arange(1.0, 50.0 * scale + 1.0)
    start = (made / scale) ** shape
    return float(np.exp(np.maximum(start - (n / scale) ** shape, -745.0)).sum()) if exp(-start) > 0 else 0.0
