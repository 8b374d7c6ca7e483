"""Run lengths of run rules: the finite Markov chain of Champ & Woodall 1987, exact.

A rule whose arms look at zones only remembers a few bits; the bits of all rules in force are the state, and only those
that can be reached are kept (7 for one beyond 3 with two of three, 935 for the six
zone rules of the list of eight at once).
"""

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np
from scipy.sparse import csr_array

from shotlog.charts.base import Floats
from shotlog.charts.passage import Means, Survival
from shotlog.charts.rules import RULES, Arm
from shotlog.errors import UsageError

__all__ = ["rules_survival"]


def rules_survival(names: Sequence[str], width: float, means: Means) -> Survival:
    """Run rules whose arms look at zones only, with limits at +- `width` sigma. Champ & Woodall 1987."""
    from scipy.special import ndtr

    edges, moves = _rules_chain(tuple(names), width)
    mass = np.zeros(moves[0].shape[0])
    mass[0] = 1.0
    n = 0
    while True:
        n += 1
        below = np.concatenate(((0.0,), ndtr(edges - means(n)), (1.0,)))
        chances = np.diff(below)
        mass = np.sum([chance * (move @ mass) for chance, move in zip(chances, moves, strict=True)], axis=0)
        yield float(mass.sum())


@lru_cache(maxsize=32)
def _rules_chain(names: tuple[str, ...], width: float) -> "tuple[Floats, list[csr_array]]":
    """Zone edges, and for each zone the matrix that moves a state on; what signals leaves."""
    if not all(RULES[name].zoned for name in names):
        raise UsageError(f"run rules {', '.join(names)}: no Markov chain exists, allowed: zone rules, or simulation")
    arms = [arm for name in names for arm in RULES[name].arms]
    limit = width if "beyond" in names else math.inf
    edges = sorted({-2.0, -1.0, 0.0, 1.0, 2.0, *((-width, width) if "beyond" in names else ())})
    middles = [edges[0] - 1.0, *((a + b) / 2.0 for a, b in pairwise(edges)), edges[-1] + 1.0]
    start = (0,) * len(arms)
    number, todo = {start: 0}, [start]
    arrows: list[list[tuple[int, int]]] = [[] for _ in middles]
    while todo:
        state = todo.pop()
        for zone, z in enumerate(middles):
            after = None if abs(z) > limit else _advance(arms, state, z)
            if after is None:
                continue
            if after not in number:
                number[after] = len(number)
                todo.append(after)
            arrows[zone].append((number[after], number[state]))
    size = len(number)
    moves = []
    for arrow in arrows:
        to, source = np.array(arrow, dtype=int).reshape(-1, 2).T
        moves.append(csr_array((np.ones(len(to)), (to, source)), shape=(size, size)))
    return np.array(edges), moves


def _advance(arms: list[Arm], state: tuple[int, ...], z: float) -> tuple[int, ...] | None:
    """The memory of all arms after a reading at z; None if one fires."""
    after = []
    for arm, bits in zip(arms, state, strict=True):
        flagged = bool(arm.flag(z, math.nan, math.nan))
        bits = ((bits << 1) | flagged) & ((1 << arm.m) - 1)
        if flagged and bits.bit_count() >= arm.k:
            return None
        if arm.k == arm.m and not flagged:
            bits = 0
        after.append(bits & ((1 << (arm.m - 1)) - 1))
    return tuple(after)
