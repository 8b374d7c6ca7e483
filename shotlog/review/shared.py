"""What bad parts have in common, and parts in doubt: lot, set-up, halves, print batch, plate position, bath, cavity.

Parts made one after the other share nearly everything, so what is common is a place to look and no cause. Bad parts are
held against the parts that were looked at and found sound. Parts in doubt are whole runs of shots, which no test of
chance fits: there the counts are given alone.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from shotlog.clock import iso_utc
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import Part
from shotlog.parts.standing import PartStanding
from shotlog.store.inserts.making import Making
from shotlog.store.parts.soaks import Soak

__all__ = ["Shared", "Shares"]

_SHOWN = 8
"""At most so many are given for each of the two."""


@dataclass(frozen=True, slots=True)
class Shared:
    """`n` of the `of` parts named have this value of a factor, and `n_others` of the `of_others` they are held against.

    `parts`: ``bad`` or ``in doubt``. `p`: chance of so uneven a split if the factor did not matter (Fisher's exact
    test), None for parts in doubt or where nothing can be held against them. `tried`: how many values were looked at.
    """

    parts: str
    factor: str
    value: str
    n: int
    of: int
    n_others: int
    of_others: int
    p: float | None
    tried: int

    @property
    def told(self) -> bool:
        """Whether chance does not explain it, for all values tried together (Bonferroni, 5 %)."""
        return self.p is not None and self.p * self.tried < 0.05


class Shares:
    """What bad parts and parts in doubt share more than others, counted while the parts are taken one by one."""

    def __init__(
        self, results: Sequence[Inspection], soaked: Sequence[Soak], made: Mapping[str, Making], first: int = 0
    ) -> None:
        self._first = first
        self._bad = {one.part for one in results if one.bad}
        self._looked_at = {one.part for one in results}
        self._made = made
        self._baths: dict[Part, list[tuple[str, str]]] = {}
        for soak in soaked:
            went_in = f"{soak.bath} at {iso_utc(soak.went_in)}"
            self._baths.setdefault(soak.part, []).extend([("bath", soak.bath), ("bath, went in", went_in)])
        self._bad_parts, self._sound, self._held, self._others = _Traits(), _Traits(), _Traits(), _Traits()

    def take(self, standing: PartStanding) -> None:
        """Take a part; one from before shot `first` is passed over."""
        if standing.part.shot < self._first:
            return
        traits = self._traits(standing)
        if standing.part in self._bad or standing.state == "scrapped":
            self._bad_parts.add(traits)
            return
        if standing.part in self._looked_at or standing.state == "released":
            self._sound.add(traits)
        (self._held if standing.state == "held" else self._others).add(traits)

    @property
    def found(self) -> tuple[Shared, ...]:
        """What is shared, the most telling first."""
        return (
            *_compared("bad", self._bad_parts, self._sound, tested=True),
            *_compared("in doubt", self._held, self._others, tested=False),
        )

    def _traits(self, one: PartStanding) -> set[tuple[str, str]]:
        """Return a part's factors with their values; what nobody said is left out."""
        said = [("lot", one.made.lot), ("set-up", one.made.setup), ("cavity", str(one.part.cavity))]
        for half, held in one.made.halves.items():
            making = self._made.get(held.serial)
            said += [(f"print batch, {half}", held.print_batch)]
            said += [(f"insert, {half}", held.serial)] if not held.single_use else []
            said += [(f"plate position, {half}", making.plate_position)] if making is not None else []
        return {(factor, value) for factor, value in [*said, *self._baths.get(one.part, ())] if value}


class _Traits:
    """How many parts there are, and how many of them have each trait."""

    def __init__(self) -> None:
        self.n = 0
        self.having: Counter[tuple[str, str]] = Counter()

    def add(self, traits: set[tuple[str, str]]) -> None:
        self.n += 1
        self.having.update(traits)


def _compared(named: str, inside: _Traits, outside: _Traits, *, tested: bool) -> list[Shared]:
    every = inside.n + outside.n
    splitting = [one for one in sorted(inside.having) if inside.having[one] + outside.having[one] < every]
    found = []
    for factor, value in splitting:
        n, others = inside.having[factor, value], outside.having[factor, value]
        if outside.n and n * outside.n <= others * inside.n:
            continue
        p = _chance(n, inside.n, others, outside.n) if tested and outside.n else None
        found.append(Shared(named, factor, value, n, inside.n, others, outside.n, p, len(splitting)))
    return sorted(found, key=_rank)[:_SHOWN]


def _rank(one: Shared) -> tuple[float, float, str, str]:
    more = one.n / one.of - (one.n_others / one.of_others if one.of_others else 0.0)
    return (1.0 if one.p is None else one.p, -more, one.factor, one.value)


def _chance(n: int, of: int, others: int, of_others: int) -> float:
    from scipy.stats import fisher_exact

    return float(fisher_exact(np.array([[n, of - n], [others, of_others - others]])).pvalue)
