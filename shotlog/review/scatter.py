"""Spread of single-use pieces, within print batches and between them; and pieces that lie off by themselves.

Each shot on a single-use half is another piece, so nothing wears within a piece and shot-to-shot spread is the spread
between pieces. A batch's pieces share plate, cure and storage, so batches differ by more than their pieces do, and
limits learnt on one batch are too narrow for the next.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, sqrt

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import NotEnoughShots
from shotlog.review.quantiles import student

__all__ = ["Apart", "Limits", "Scatter", "odd_ones", "scatter_of"]

F = NDArray[np.float64]

ALPHA = 0.0027
"""Chance that a further sound piece lies outside its limits, as with three sigma."""

_ODD_ALPHA = 0.01
"""Chance of naming any odd piece where none is."""

_MOST_ODD = 5
"""At most one piece in so many can be odd: more of them are no odd ones, but another batch."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Where one further piece lies but for 27 in 10 000."""

    lower: float
    upper: float


@dataclass(frozen=True, slots=True)
class Apart:
    """How far a batch's mean lies from that of the others alike, with a 95 % interval for all batches together."""

    by: float
    low: float
    high: float

    @property
    def told(self) -> bool:
        """Whether the pieces' spread does not explain it."""
        return self.low > 0 or self.high < 0


@dataclass(frozen=True, slots=True)
class Scatter:
    """One quantity over the batches of a design, in its unit.

    `within`: spread of pieces about their batch's mean, with `freedom` degrees of freedom. `between`: spread of the
    batches' true means; None with one batch. `same_batch`: limits of a further piece, by batch; `other_batch`: of a
    piece of a batch not met yet; None with one batch. `apart`: by batch; empty with one.
    """

    within: float
    freedom: int
    between: float | None
    same_batch: tuple[Limits, ...]
    other_batch: Limits | None
    apart: tuple[Apart, ...]


def scatter_of(batches: Sequence[F], least: float = 0.0) -> Scatter:
    """Return the spread within and between batches; each batch is the values of its pieces, at least one.

    Parameters
    ----------
    least
        Half-width below which no limit goes, in the quantity's unit.

    Raises
    ------
    NotEnoughShots
        No batch has two values, or none of them differ.

    References
    ----------
    One-way analysis of variance with unequal numbers, `between` by its mean squares: NIST/SEMATECH e-Handbook 7.4.3
    and 3.2.3.3 (general; from memory). Limits of a further piece of a batch: `t`, Hahn & Meeker 1991. Of a piece of
    another batch, own: its distance from the mean of the k batch means has variance s_m^2 (1 + 1/k) + s_w^2 (1 - 1/n),
    s_m the spread of the means and n the harmonic mean of their numbers; degrees of freedom by Satterthwaite 1946.
    """
    numbers = np.array([len(batch) for batch in batches], dtype=np.float64)
    means = np.array([float(batch.mean()) for batch in batches])
    k, total = len(batches), float(numbers.sum())
    freedom = int(total) - k
    squares = sum(float(((batch - batch.mean()) ** 2).sum()) for batch in batches)
    if freedom < 1 or squares <= 0.0:
        raise NotEnoughShots(f"the spread between pieces needs pieces of one batch that differ: given {int(total)}")
    within = sqrt(squares / freedom)
    reach = student(1.0 - ALPHA / 2.0, freedom) * within
    own = [max(reach * sqrt(1.0 + 1.0 / n), least) for n in numbers]
    same = tuple(Limits(float(mean) - half, float(mean) + half) for mean, half in zip(means, own, strict=True))
    if k < 2:
        return Scatter(within, freedom, None, same, None, ())
    mean_square = float((numbers * (means - (numbers @ means) / total) ** 2).sum()) / (k - 1)
    share = (total - float((numbers**2).sum()) / total) / (k - 1)
    between = sqrt(max(0.0, (mean_square - within**2) / share))
    return Scatter(within, freedom, between, same, _other(means, numbers, within, freedom, least),
                   _apart(means, numbers, within, freedom))  # fmt: skip


def _other(means: F, numbers: F, within: float, freedom: int, least: float) -> Limits:
    k, harmonic = len(means), len(means) / float((1.0 / numbers).sum())
    of_means = float(means.var(ddof=1)) * (1.0 + 1.0 / k)
    of_pieces = within**2 * (1.0 - 1.0 / harmonic)
    variance = of_means + of_pieces
    about = variance**2 / (of_means**2 / (k - 1) + of_pieces**2 / freedom)
    half = max(student(1.0 - ALPHA / 2.0, about) * sqrt(variance), least)
    centre = float(means.mean())
    return Limits(centre - half, centre + half)


def _apart(means: F, numbers: F, within: float, freedom: int) -> tuple[Apart, ...]:
    """Compare each batch with the others, but for those that lie apart themselves.

    The farthest is set aside while it tells and two stay: one swollen batch would else make every other look off.
    """
    factor = student(1.0 - 0.025 / len(means), freedom) * within
    alike = list(range(len(means)))
    while len(alike) > 2:
        against = {at: _against(means, numbers, factor, at, alike) for at in alike}
        far = max(against, key=lambda at: abs(against[at].by) / (against[at].high - against[at].low))
        if not against[far].told:
            break
        alike.remove(far)
    return tuple(_against(means, numbers, factor, at, alike) for at in range(len(means)))


def _against(means: F, numbers: F, factor: float, at: int, alike: Sequence[int]) -> Apart:
    others = [one for one in alike if one != at]
    by = float(means[at] - means[others].mean())
    reach = factor * sqrt(1.0 / numbers[at] + float((1.0 / numbers[others]).sum()) / len(others) ** 2)
    return Apart(by, by - reach, by + reach)


def odd_ones(batches: Sequence[F], alpha: float = _ODD_ALPHA) -> list[tuple[int, int]]:
    """Return the pieces that lie off their batch by more than the other pieces explain: (batch, place in it).

    The farthest piece is left out, then the next, so that two odd ones do not hide each other; all up to the last
    that tells are odd.

    References
    ----------
    Rosner 1983, Technometrics 25, 165 (many outliers), with residuals about each batch's mean: t of the residual left
    out has a t distribution with one degree of freedom fewer than the layout (own; with one batch it is his test).
    """
    left = [list(range(len(batch))) for batch in batches]
    tried: list[tuple[int, int]] = []
    told = 0
    for _ in range(max(1, sum(map(len, left)) // _MOST_ODD)):
        worst, size, freedom = _farthest(batches, left)
        if worst is None:
            break
        n = sum(map(len, left))
        left[worst[0]].remove(worst[1])
        tried.append(worst)
        if size > student(1.0 - alpha / (2.0 * n), freedom):
            told = len(tried)
    return tried[:told]


def _farthest(batches: Sequence[F], left: Sequence[Sequence[int]]) -> tuple[tuple[int, int] | None, float, int]:
    """Return the piece farthest from its batch, its t once left out, and the degrees of freedom of that t."""
    kept = [(at, places) for at, places in enumerate(left) if len(places) > 1]
    freedom = sum(len(places) - 1 for _, places in kept)
    residuals = {at: batches[at][list(places)] - batches[at][list(places)].mean() for at, places in kept}
    squares = sum(float((one**2).sum()) for one in residuals.values())
    if freedom < 2 or squares <= 0.0:
        return None, 0.0, 0
    worst, most = None, 0.0
    for at, places in kept:
        share = (residuals[at] ** 2) / squares / (1.0 - 1.0 / len(places))
        here = int(share.argmax())
        if share[here] > most:
            worst, most = (at, places[here]), float(share[here])
    # With s the spread with the piece, e its residual: e^2 / (s^2 (1 - 1/n)) = most * freedom.
    size = sqrt(most * (freedom - 1) / (1.0 - most)) if most < 1.0 else inf
    return worst, size, freedom - 1
