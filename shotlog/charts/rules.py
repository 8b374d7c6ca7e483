"""Run rules: patterns of readings that are unlikely without a change, though no single one is beyond a limit.

A rule is made of arms. An arm flags a reading by where it lies (in zones of one sigma about the centre) or by where
it went since the last one; it fires when a flagged reading makes at least `k` flagged among the last `m`. Its memory
is m bits, which is what makes the rule exact in one-at-a-time form and gives it a Markov chain (`runlength`).
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np

from shotlog.charts.base import Flags, Floats
from shotlog.errors import UsageError

__all__ = ["RULES", "Arm", "Rule", "RunRules", "rule_names"]

Flag = Callable[[Any, Any, Any], Any]
"""Whether a reading counts, from it and the two before it, in zone units; floats or arrays alike."""


@dataclass(frozen=True, slots=True)
class Arm:
    """Fires at a flagged reading if at least `k` of the last `m` are flagged."""

    k: int
    m: int
    flag: Flag


@dataclass(frozen=True, slots=True)
class Rule:
    """A run rule. `number` is its place in the list of eight of ISO 7870-2; `zoned`: each reading is flagged on its
    own."""

    number: int
    text: str
    arms: tuple[Arm, ...]
    zoned: bool = True


def _same_side(n: int) -> tuple[Arm, ...]:
    return Arm(n, n, lambda z, y, x: z > 0.0), Arm(n, n, lambda z, y, x: z < 0.0)


def _outer(k: int, m: int, edge: float) -> tuple[Arm, ...]:
    return Arm(k, m, lambda z, y, x: z > edge), Arm(k, m, lambda z, y, x: z < -edge)


def _trend(n: int) -> tuple[Arm, ...]:
    return Arm(n - 1, n - 1, lambda z, y, x: z > y), Arm(n - 1, n - 1, lambda z, y, x: z < y)


def _alternating(n: int) -> tuple[Arm, ...]:
    return (Arm(n - 2, n - 2, lambda z, y, x: ((z > y) & (y < x)) | ((z < y) & (y > x))),)


RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "beyond": Rule(1, "one reading beyond a control limit", ()),
        "same-side-9": Rule(2, "nine in a row on one side of the centre", _same_side(9)),
        "same-side-8": Rule(2, "eight in a row on one side of the centre", _same_side(8)),
        "same-side-7": Rule(2, "seven in a row on one side of the centre", _same_side(7)),
        "trend-6": Rule(3, "six in a row rising, or falling", _trend(6), zoned=False),
        "trend-7": Rule(3, "seven in a row rising, or falling", _trend(7), zoned=False),
        "alternating-14": Rule(4, "fourteen in a row up and down by turns", _alternating(14), zoned=False),
        "two-of-three": Rule(5, "two of three beyond two sigma on one side", _outer(2, 3, 2.0)),
        "four-of-five": Rule(6, "four of five beyond one sigma on one side", _outer(4, 5, 1.0)),
        "near-centre-15": Rule(
            7, "fifteen in a row within one sigma", (Arm(15, 15, lambda z, y, x: (z > -1.0) & (z < 1.0)),)
        ),
        "away-8": Rule(
            8, "eight in a row beyond one sigma, either side", (Arm(8, 8, lambda z, y, x: (z > 1.0) | (z < -1.0)),)
        ),
    }
)
"""Every run rule by name. A new one is a line here; it fires in every chart that takes rules."""


def rule_names(wanted: Sequence[str]) -> tuple[str, ...]:
    """Names of `RULES`, in the table's order, from names or the standard's numbers ("2" is the first rule of that
    number).

    Raises
    ------
    UsageError
        A name or number that is not in the table, or none at all.
    """
    by_number: dict[str, str] = {}
    for name, rule in RULES.items():
        by_number.setdefault(str(rule.number), name)
    chosen = {by_number.get(w, w) for w in wanted}
    unknown = sorted(chosen - set(RULES))
    if unknown or not chosen:
        raise UsageError(f"run rules: given {', '.join(unknown) or 'none'}, allowed: {', '.join(RULES)} or 1 to 8")
    return tuple(name for name in RULES if name in chosen)


class RunRules:
    """The run rules of one chart, with their memory.

    Parameters
    ----------
    wanted: names in `RULES` or numbers 1 to 8.

    Notes
    -----
    State: the last two readings and one small integer an arm; an update is O(1).
    In control: each rule added shortens the run length; `runlength` states that of the chosen set, e.g. 91.75 for 1,
    2, 5 and 6 of Western Electric (one beyond 3, two of three, four of five, eight on a side).

    References
    ----------
    ISO 7870-2, tests for assignable causes; Nelson 1984, J. Quality Technology 16(4) 237-239; Champ & Woodall 1987,
    Technometrics 29 393-399 (all from memory).
    """

    def __init__(self, wanted: Sequence[str]) -> None:
        self.wanted = rule_names(wanted)
        self._arms = [(name, arm) for name in self.wanted for arm in RULES[name].arms]
        self.names = (("above", "below") if "beyond" in self.wanted else ()) + tuple(
            name for name in self.wanted if name != "beyond"
        )
        self._bits = [0] * len(self._arms)
        self._before = self._before_that = math.nan

    @property
    def zoned(self) -> bool:
        """Whether every rule in force looks at zones only, so that a Markov chain exists."""
        return all(RULES[name].zoned for name in self.wanted)

    def step(self, x: float, centre: float, lower: float, upper: float, zone: float) -> tuple[str, ...]:
        """Rules that fire at a reading, given its limits and the width of a zone."""
        fired: list[str] = []
        if "beyond" in self.wanted:
            if x > upper:
                fired.append("above")
            elif x < lower:
                fired.append("below")
        if not self._arms:
            return tuple(fired)
        z = (x - centre) / zone
        for i, (name, arm) in enumerate(self._arms):
            flagged = arm.flag(z, self._before, self._before_that)
            self._bits[i] = ((self._bits[i] << 1) | flagged) & ((1 << arm.m) - 1)
            if flagged and self._bits[i].bit_count() >= arm.k and name not in fired:
                fired.append(name)
        self._before, self._before_that = z, self._before
        return tuple(fired)

    def block(self, xs: Floats, centre: float, lower: float, upper: float, zone: float) -> dict[str, Flags]:
        """One mask a rule; the array form of `step`."""
        masks = {name: np.zeros(len(xs), dtype=bool) for name in self.names}
        if "beyond" in self.wanted:
            masks["above"] = xs > upper
            masks["below"] = xs < lower
        if not self._arms or not len(xs):
            return masks
        z = np.concatenate(((self._before_that, self._before), (xs - centre) / zone))
        for i, (name, arm) in enumerate(self._arms):
            past = [self._bits[i] >> (arm.m - 1 - j) & 1 for j in range(arm.m)]
            now = arm.flag(z[2:], z[1:-1], z[:-2])
            flags = np.concatenate((np.array(past, dtype=bool), now))
            total = np.concatenate(((0,), np.cumsum(flags, dtype=np.int64)))
            masks[name] |= now & (total[arm.m + 1 :] - total[1 : -arm.m] >= arm.k)
            self._bits[i] = int("".join("1" if f else "0" for f in flags[-arm.m :]), 2)
        self._before_that, self._before = float(z[-2]), float(z[-1])
        return masks

    def state(self) -> tuple[float | int, ...]:
        """The memory, flat."""
        return (self._before, self._before_that, *self._bits)

    def set_state(self, state: Sequence[float]) -> None:
        """Take the memory back."""
        bits = [int(b) for b in state[2:]]
        if len(bits) != len(self._arms):
            raise ValueError(f"{len(bits)} run rules remembered, {len(self._arms)} in force")
        self._before, self._before_that, self._bits = float(state[0]), float(state[1]), bits
