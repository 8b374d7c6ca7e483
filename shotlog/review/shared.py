"""What bad parts have in common, and parts in doubt: lot, set-up, halves, print batch, plate position, bath, cavity.

Parts made one after the other share nearly everything, so what is common is a place to look and no cause. Bad parts are
held against the parts that were looked at and found sound. Parts in doubt are whole runs of shots, which no test of
chance fits: there the counts are given alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from shotlog.clock import iso_utc
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import Part
from shotlog.parts.standing import PartStanding
from shotlog.store.inserts.making import Making
from shotlog.store.parts.soaks import Soak

__all__ = ["Shared", "shared_by"]

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


def shared_by(
    standings: Sequence[PartStanding],
    results: Sequence[Inspection],
    soaked: Sequence[Soak],
    made: Mapping[str, Making],
) -> tuple[Shared, ...]:
    """Return what bad parts and parts in doubt share more than others, the most telling first.

    Parameters
    ----------
    standings, results, soaked
        How the parts stand, what was found on them, their stays in a bath.
    made
        How inserts were made, by serial.
    """
    bad = {one.part for one in results if one.bad} | {one.part for one in standings if one.state == "scrapped"}
    sound = {one.part for one in results} | {one.part for one in standings if one.state == "released"}
    held = {one.part for one in standings if one.state == "held"}
    traits = _traits(standings, soaked, made)
    every = set(traits)
    return (
        *_compared("bad", bad & every, (sound - bad) & every, traits, tested=True),
        *_compared("in doubt", (held - bad) & every, every - held - bad, traits, tested=False),
    )


def _traits(
    standings: Sequence[PartStanding], soaked: Sequence[Soak], made: Mapping[str, Making]
) -> dict[Part, set[tuple[str, str]]]:
    """Return each part's factors with their values; what nobody said is left out."""
    found: dict[Part, set[tuple[str, str]]] = {}
    for one in standings:
        said = [("lot", one.made.lot), ("set-up", one.made.setup), ("cavity", str(one.part.cavity))]
        for half, held in one.made.halves.items():
            making = made.get(held.serial)
            said += [(f"print batch, {half}", held.print_batch)]
            said += [(f"insert, {half}", held.serial)] if not held.single_use else []
            said += [(f"plate position, {half}", making.plate_position)] if making is not None else []
        found[one.part] = {(factor, value) for factor, value in said if value}
    for soak in soaked:
        if soak.part in found:
            found[soak.part].add(("bath", soak.bath))
            found[soak.part].add(("bath, went in", f"{soak.bath} at {iso_utc(soak.went_in)}"))
    return found


def _compared(
    named: str,
    inside: set[Part],
    outside: set[Part],
    traits: Mapping[Part, set[tuple[str, str]]],
    *,
    tested: bool,
) -> list[Shared]:
    if not inside:
        return []
    values = sorted({trait for part in inside for trait in traits[part]})
    splitting = [trait for trait in values if not all(trait in traits[part] for part in inside | outside)]
    found = []
    for factor, value in splitting:
        n = sum((factor, value) in traits[part] for part in inside)
        others = sum((factor, value) in traits[part] for part in outside)
        if outside and n * len(outside) <= others * len(inside):
            continue
        p = _chance(n, len(inside), others, len(outside)) if tested and outside else None
        found.append(Shared(named, factor, value, n, len(inside), others, len(outside), p, len(splitting)))
    return sorted(found, key=_rank)[:_SHOWN]


def _rank(one: Shared) -> tuple[float, float, str, str]:
    more = one.n / one.of - (one.n_others / one.of_others if one.of_others else 0.0)
    return (1.0 if one.p is None else one.p, -more, one.factor, one.value)


def _chance(n: int, of: int, others: int, of_others: int) -> float:
    from scipy.stats import fisher_exact

    return float(fisher_exact(np.array([[n, of - n], [others, of_others - others]])).pvalue)
