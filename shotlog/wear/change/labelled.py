"""What a press's own labelled changes add to the table of causes: shares, and directions, of one design.

People take inserts out and say why, and swaps answer. A change whose cause is known so is worth more than any table: it
is this press, this part and this resin. The table counts for `TABLE_WORTH` labelled changes, and every
labelled one for itself: shares are a Dirichlet posterior, and a cause shows as the table has it or as it has shown
here. That direction is the mean of its labelled ones with known covariance: each is off by the noise of its fit, and by
`TABLE_OFF`, what directions differ by from time to time; as far as the first hides it, it counts for the table's own.
So a wrong label has its share, and takes no row away.

Of what is mended at the press people say less than of what they take out. That few are kept bounds what it does to the
shares: a group nobody ever labels loses no more than `MOST_LABELLED` to `TABLE_WORTH`.

References
----------
The shares: Dirichlet prior and counts; the mix of old directions and the table's: an urn as of Blackwell & MacQueen
1973, Ann. Statist. 1, 353; the mean: a normal of known covariance (Gelman et al., Bayesian Data Analysis, chapter 3);
all from memory.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.causes import CAUSES
from shotlog.wear.change.hypotheses import Hypotheses, off_table
from shotlog.wear.change.signatures import SHAPES, SIGNATURES
from shotlog.wear.constants import LABEL_LEAST, LABEL_OFF, LABEL_WEIGHT, SINGLE_SHAPES, TABLE_OFF, TABLE_WORTH

__all__ = ["Labelled", "taught"]

F = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Labelled:
    """A change of which it is known what it was: on `serial`, told when it came out or was looked at, before the
    press's `at_shot`.

    `shares`: by cause, sum 1. `effect`: what it had come to, by channel in its unit.
    """

    serial: str
    at_shot: int
    shares: dict[str, float]
    effect: dict[str, float]

    @classmethod
    def of(
        cls, serial: str, at_shot: int, told: Collection[str], weights: Mapping[str, float], effect: Mapping[str, float]
    ) -> "Labelled":
        """Return a change that may be any of the causes `told`: by the `weights` it had, else by the table's shares."""
        among = {name: weights.get(name, 0.0) for name in told}
        if sum(among.values()) < LABEL_WEIGHT:
            among = {name: CAUSES[name].prior for name in told}
        least = LABEL_LEAST * max(among.values())
        among = {name: weight for name, weight in among.items() if weight >= least}
        total = sum(among.values())
        return cls(serial, at_shot, {name: weight / total for name, weight in among.items()}, dict(effect))

    def narrowed(self, told: Collection[str]) -> "Labelled | None":
        """Return it with what else was told of it; None where the one contradicts the other."""
        left = {name: share for name, share in self.shares.items() if name in told}
        total = sum(left.values())
        return replace(self, shares={name: share / total for name, share in left.items()}) if total > 0.0 else None


def taught(table: Hypotheses, channels: Sequence[str], sigma: F, labelled: Sequence[Labelled]) -> Hypotheses:
    """Return the table with what labelled changes add to it; `sigma`: spreads of the channels in their units, (p,).

    What a step in one channel alone is worth (`alone`) stays that of the table.
    """
    if not labelled:
        return table
    old = np.bincount(table.cause, table.share, len(table.names))
    old = old + np.bincount(table.spread_cause, table.spread_share, len(table.names))
    worth = TABLE_WORTH + len(labelled)
    scale = np.empty(len(table.names))
    shape, cause, direction, beside = table.shape.tolist(), table.cause.tolist(), [*table.direction], [*table.beside]
    added: list[float] = []
    for at, name in enumerate(table.names):
        counted = sum(one.shares.get(name, 0.0) for one in labelled)
        known, mean = _mean(name, channels, sigma, labelled)
        if known >= LABEL_LEAST:
            for which, vector, part in _rows(name, mean):
                shape.append(which)
                cause.append(at)
                direction.append(vector)
                beside.append(off_table(vector))
                added.append(known * part / worth)
        else:
            known = 0.0  # too little for rows of its own: it counts for the table's
        scale[at] = (TABLE_WORTH + (counted - known) / (old[at] if old[at] > 0.0 else 1.0)) / worth
    share = np.concatenate([table.share * scale[table.cause], added])
    free = ~np.array(direction).any(axis=1)
    order = np.lexsort((free, shape))
    directions, upper = np.array(direction)[order], np.triu_indices(len(channels))
    return replace(
        table,
        shape=np.array(shape)[order],
        cause=np.array(cause)[order],
        direction=directions,
        pairs=np.ascontiguousarray(directions[:, upper[0]] * directions[:, upper[1]]),
        beside=np.array(beside)[order],
        share=share[order],
        spread_share=table.spread_share * scale[table.spread_cause],
    )


def _mean(name: str, channels: Sequence[str], sigma: F, labelled: Sequence[Labelled]) -> tuple[float, F]:
    """Return for how many changes the labelled ones of a cause count, and their mean direction, its largest part 1."""
    known, mean = 0.0, np.zeros(len(channels))
    for one in labelled:
        moved = np.array([one.effect.get(channel, 0.0) for channel in channels]) / sigma
        size = float(np.abs(moved).max(initial=0.0))
        if size == 0.0:
            continue
        worth = one.shares.get(name, 0.0) / (1.0 + (LABEL_OFF / (size * TABLE_OFF)) ** 2)
        turned = -1.0 if _either_way(name) and float(mean @ moved) < 0.0 else 1.0
        known, mean = known + worth, mean + worth * turned * moved / size
    longest = float(np.abs(mean).max(initial=0.0))
    return known, mean / longest if longest > 0.0 else mean


def _either_way(name: str) -> bool:
    signature = CAUSES[name].signature
    return not signature or SIGNATURES[signature].either_way


def _rows(name: str, direction: F) -> Iterator[tuple[int, F, float]]:
    """Return shape, direction and part of the share of each row of a cause in a direction."""
    signature = CAUSES[name].signature
    shapes = SIGNATURES[signature].shapes if signature else dict(zip(("step", "ramp"), SINGLE_SHAPES, strict=True))
    signs = (1.0, -1.0) if _either_way(name) else (1.0,)
    for shape, part in shapes.items():
        for sign in signs:
            yield SHAPES.index(shape), sign * direction, part / len(signs)
