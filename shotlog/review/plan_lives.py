"""How long the next inserts of a design will live, given how few have lived so far.

A life is taken for Weibull, in whole sound shots: one of 57 shots ended between its 57th and 58th. Neither shape nor
scale is known, so both are kept as a weighted set of what they may be, and the next lives are drawn from that set:
what is not known of the design counts as much as how sisters differ. For a given shape the scale follows exactly; over
the shape stands what the trade says of it, wide.

References
----------
Own, of known parts. Scale for a given shape: with t = sum of life ** shape over all inserts, gone off or not, and r of
them gone off, t / scale ** shape has a gamma distribution of r where nothing is known of the scale before (Martz and
Waller 1982, Bayesian Reliability Analysis; from memory). Prediction that counts the unknown parameters: Aitchison and
Dunsmore 1975, Statistical Prediction Analysis (from memory). Shape about 2 to 3: trade practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["ENOUGH", "SHAPE", "Assumed", "LifeBelief", "given_lives", "learnt_lives", "lives_by_press"]

F = NDArray[np.float64]

ENOUGH = 3
"""With so many gone off the lives of the log speak alone; before, what is assumed is weighed in (judgement)."""

SHAPE, _USUAL, _WIDE = 2.5, 0.4, 1.0
"""The shape before any life: its middle and the spread of its logarithm, as assumed, and where the log speaks alone.

There it is so wide that three lives outweigh it: with half of it, plans from three lives of shape 4 were enough in 99
shops of 100."""

_SHAPES = np.exp(np.linspace(np.log(0.4), np.log(16.0), 81))
_PER_SHAPE = 64
_HALF_OF = np.log(2.0)


@dataclass(frozen=True, slots=True)
class Assumed:
    """A life that is assumed: half of the inserts reach `median` shots; `spread` is that of the logarithm of it."""

    median: float
    spread: float


@dataclass(frozen=True, slots=True)
class LifeBelief:
    """What shape and scale (in shots) may be, as a set with weights that sum to 1; all of one length."""

    shapes: F
    scales: F
    weights: F

    def nodes(self, chances: F) -> NDArray[np.intp]:
        """Return one of the set for each chance (0 to 1), each as often as its weight says."""
        found = np.searchsorted(np.cumsum(self.weights), chances * (1.0 - 1e-12))
        return np.minimum(found, len(self.weights) - 1)

    def lives(self, nodes: NDArray[np.intp], chances: F) -> F:
        """Return sound shots of an insert for each chance (0 to 1), whole."""
        drawn = self.scales[nodes] * (-np.log1p(-chances)) ** (1.0 / self.shapes[nodes])
        return np.asarray(np.floor(np.minimum(drawn, 1e9)))

    def reached(self, shots: F) -> F:
        """Return the chance that the next insert makes so many sound shots, of the shape of `shots`."""
        alive = np.exp(-((shots[..., None] / self.scales) ** self.shapes))
        return np.asarray(alive @ self.weights)

    def quantile(self, share: float) -> float:
        """Return the shots that a share of the next inserts does not reach."""
        low, high = 0.0, 1e9
        for _ in range(100):
            middle = (low + high) / 2.0
            low, high = (middle, high) if self.reached(np.array(middle)) > 1.0 - share else (low, middle)
        return high


def given_lives(median: float, shape: float = SHAPE) -> LifeBelief:
    """Return lives of which half reach `median` shots, taken as known."""
    return LifeBelief(np.array([shape]), np.array([median / _HALF_OF ** (1.0 / shape)]), np.ones(1))


def learnt_lives(sound: Sequence[float], gone_off: Sequence[bool], assumed: Assumed) -> LifeBelief:
    """Return what lives say of the next: `sound` shots of each, and whether it then went off (else it was still sound).

    `assumed` is weighed in while fewer than `ENOUGH` have gone off.
    """
    failed = np.array(gone_off, dtype=bool)
    # One that went off did so during a shot; one that did not has outlived the shots it made.
    lived = np.array(sound, dtype=np.float64) + 0.5 * failed
    lived, failed = lived[lived > 0.0], failed[lived > 0.0]
    shapes, r = _SHAPES[:, None], int(failed.sum())
    total = _log_total(lived)[:, None]
    about = np.log(assumed.median) - np.log(_HALF_OF) / shapes
    chances = (np.arange(_PER_SHAPE) + 0.5) / _PER_SHAPE
    if r:
        from scipy.special import gammaincinv

        log_scales = (total - np.log(gammaincinv(r, chances))) / shapes
        seen = (r - 1) * np.log(shapes) + shapes * float(np.log(lived[failed]).sum()) - r * total
        told = -0.5 * ((log_scales - about) / assumed.spread) ** 2 if r < ENOUGH else np.zeros_like(log_scales)
    else:
        from scipy.special import ndtri

        log_scales = about + assumed.spread * ndtri(chances)
        seen, told = np.zeros_like(shapes), -np.exp(np.minimum(total - shapes * log_scales, 700.0))
    usual = -0.5 * ((np.log(shapes) - np.log(SHAPE)) / (_USUAL if r < ENOUGH else _WIDE)) ** 2
    weights = usual + seen + told
    weights = np.exp(weights - weights.max()).ravel()
    kept = weights > 1e-9
    return LifeBelief(
        np.broadcast_to(shapes, log_scales.shape).ravel()[kept],
        np.exp(log_scales).ravel()[kept],
        weights[kept] / weights[kept].sum(),
    )


def lives_by_press(sound: Sequence[float], gone_off: Sequence[bool], places: Sequence[str], press: str) -> LifeBelief:
    """Return what lives say of the next on one `press`, where others of them ended on other `places`: how far presses
    differ counts, see `wear.life.press_lives`.
    """
    lives: dict[str, list[tuple[float, bool]]] = {press: []}
    for place, shots, gone in zip(places, sound, gone_off, strict=True):
        lives.setdefault(place, []).append((shots + 0.5 * gone, gone))
    from shotlog.wear.life.press_lives import (
        lives_here,
    )  # brings the compiler, which is a third of a start of the pages

    here = lives.pop(press)
    known = lives_here(here, list(lives.values()))
    return LifeBelief(known.shapes, np.exp(known.log_scales), known.weights)


def _log_total(lived: F) -> F:
    """Return ln of the sum of life ** shape, for every shape; minus infinity where there is no life."""
    if not len(lived):
        return np.full(len(_SHAPES), -np.inf)
    powers = _SHAPES[:, None] * np.log(lived)
    top = powers.max(axis=1)
    return np.asarray(top + np.log(np.exp(powers - top[:, None]).sum(axis=1)))
