"""A trial played many times before it is run: how many inserts and pieces it takes until enough parts are accepted.

Every play draws what nobody knows: how long such inserts live, what share of parts is scrap, how many pieces break;
then the lives of the inserts one by one, until there are shots enough. What a stock is enough for is the share of plays
that need no more. The same figures give the same plays: chances come from a fixed seed and a fixed sequence.

A play runs insert after insert. The first shots on one settle and make no accepted part; then every shot makes parts of
which a share is scrap; an insert that goes off runs on for some bad shots until that is seen, and one that has reached
its planned life is swapped sound. Where two reused halves are mounted, each has lives of its own, and a swap of either
settles anew.

References
----------
Renewal-reward in discrete time, played instead of solved (Barlow & Proschan 1965, chapters 3 and 4; from memory). Parts
until N are accepted: negative binomial. Stratified first dimensions: Sobol 1967.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from shotlog.review.plan_lives import LifeBelief

__all__ = ["PlannedHalf", "Plays", "Share", "TrialPlan", "need", "play"]

F = NDArray[np.float64]
N = NDArray[np.intp]

_SEED = 20261128
_AT_LEAST_CHANGES, _MOST_CHANGES = 300, 20_000
"""A play is given up after so many changes and one more for each shot needed, and no stock is enough for it: nobody
runs such a trial to its end (judgement).
"""
_PLAYED_CHANGES, _KNOWN_CHANGES = 300, 100
"""After each so many changes, those plays in which every half was changed so often go on at the rate at which they
went: it is known to some 4 %, far closer than lives are, and where nearly all parts are scrap a play has thousands of
inserts. A half that lives long beside one that does not is known later, or the play is played to its end.
"""
_SHARES = 4
"""Dimensions of the fixed sequence that go to shares and counts; one more for each reused half."""


@dataclass(frozen=True, slots=True)
class Share:
    """A share (0 to 1): known where `weight` is 0, else as by `bad` of `weight` looked at (need not be whole)."""

    value: float
    bad: float = 0.0
    weight: float = 0.0

    def drawn(self, chances: F) -> F:
        """Return what the share may be, one for each chance."""
        if self.weight == 0.0:
            return np.full_like(chances, self.value)
        from scipy.special import betaincinv

        return np.asarray(betaincinv(self.bad, self.weight - self.bad, chances))


@dataclass(frozen=True, slots=True)
class PlannedHalf:
    """A reused half: its lives, bad shots until one gone off is seen, settling shots after a change.

    `planned`: shots after which it is swapped though sound, None where it runs until it goes off.
    """

    lives: LifeBelief
    late: int
    settling: int
    planned: int | None = None


@dataclass(frozen=True, slots=True)
class TrialPlan:
    """What a trial is to give and what it runs on: `parts` accepted, of `cavities` a shot.

    `breakage`: pieces that break before they make a part, None where no half is single-use. `settling`: shots at the
    start that make no accepted part.
    """

    parts: int
    cavities: int
    scrap: Share
    halves: tuple[PlannedHalf, ...]
    settling: int
    breakage: Share | None = None


@dataclass(frozen=True, slots=True)
class Plays:
    """What each play took; arrays of one length. `inserts` by half; infinite where it was given up.

    `bad`: shots made on an insert that had gone off; `scrap`: parts of sound inserts not accepted.
    """

    inserts: tuple[F, ...]
    pieces: F
    shots: F
    changes: F
    bad: F
    scrap: F


def play(plan: TrialPlan, n: int = 1 << 14) -> Plays:
    """Play a trial `n` times, a power of two."""
    chances, scrap = _drawn(plan.parts, plan.scrap, len(plan.halves), n)
    needed = np.ceil((plan.parts + scrap) / plan.cavities)
    nodes = [half.lives.nodes(chances[_SHARES + k]) for k, half in enumerate(plan.halves)]
    inserts, shots, changes, bad = _run(plan, needed, nodes)
    pieces = np.zeros(n)
    if plan.breakage is not None:
        from scipy.stats import nbinom

        whole = 1.0 - plan.breakage.drawn(chances[2])
        at_most = np.where(np.isfinite(shots), shots, 1.0)
        broken = np.where(whole >= 1.0, 0.0, nbinom.ppf(chances[3], at_most, np.maximum(whole, 1e-9)))
        pieces = shots + broken
    return Plays(tuple(inserts), pieces, shots, changes, bad, scrap)


@lru_cache(maxsize=2)
def _drawn(parts: int, share: Share, halves: int, n: int) -> tuple[F, F]:
    """Return the chances of each play, and its scrap: the same for every planned life, and dear to work out."""
    from scipy.stats import nbinom
    from scipy.stats.qmc import Sobol

    chances = (Sobol(_SHARES + halves, scramble=False).random(n) + 0.5 / n).T
    accepted = 1.0 - share.drawn(chances[0])
    scrap = np.where(accepted >= 1.0, 0.0, nbinom.ppf(chances[1], parts, np.maximum(accepted, 1e-9)))
    for one in (chances, scrap):
        one.flags.writeable = False
    return chances, scrap


def _run(plan: TrialPlan, needed: F, nodes: Sequence[N]) -> tuple[list[F], F, F, F]:
    """Run inserts one after the other until each play has `needed` shots that can make an accepted part."""
    n, halves = len(needed), plan.halves
    shots, changes, bad = np.zeros(n), np.zeros(n), np.zeros(n)
    if not halves:
        return [], needed + plan.settling, changes, bad
    late = np.array([half.late for half in halves], dtype=np.float64)
    settles = np.array([half.settling for half in halves], dtype=np.float64)
    inserts = [np.ones(n) for _ in halves]
    everyone = np.arange(n)
    first = [_insert(half, nodes[k], _chances(k, 0, everyone, n)) for k, half in enumerate(halves)]
    left, off = np.array([one[0] for one in first]), np.array([one[1] for one in first])
    settling, missing = np.full(n, float(plan.settling)), needed.copy()
    open_ = everyone
    for turn in range(1, int(min(_AT_LEAST_CHANGES + needed.max(), _MOST_CHANGES)) + 1):
        next_off = np.argmin(left[:, open_], axis=0)
        run = left[next_off, open_]
        made = np.maximum(run - settling[open_], 0.0)
        done = made >= missing[open_]
        shots[open_] += np.where(done, settling[open_] + missing[open_], run)
        missing[open_] -= made
        open_, next_off, run = open_[~done], next_off[~done], run[~done]
        if not len(open_):
            return inserts, shots, changes, bad
        lost = np.minimum(late[next_off], off[next_off, open_])
        shots[open_] += lost
        bad[open_] += lost
        changes[open_] += 1
        left[:, open_] = np.maximum(left[:, open_] - run - lost, 0.0)
        settling[open_] = settles[next_off]
        for k, half in enumerate(halves):
            mine = open_[next_off == k]
            if len(mine):
                inserts[k][mine] += 1
                left[k, mine], off[k, mine] = _insert(half, nodes[k][mine], _chances(k, turn, mine, n))
        if turn % _PLAYED_CHANGES == 0:
            open_ = _go_on_alike(open_, needed, missing, inserts, shots, changes, bad)
    for one in (*inserts, shots, changes, bad):
        one[open_] = np.inf
    return inserts, shots, changes, bad


def _go_on_alike(open_: N, needed: F, missing: F, inserts: list[F], shots: F, changes: F, bad: F) -> N:
    """Take open plays to their end at the rates they had, or give them up; return those to be played on.

    Each half goes on at its own rate, so a play is played on until every half was changed often enough.
    """
    made = (needed - missing)[open_]
    at_most = np.minimum(_AT_LEAST_CHANGES + needed[open_], _MOST_CHANGES)
    ends = changes[open_] * needed[open_] < at_most * made
    known: NDArray[np.bool_] = np.min([one[open_] for one in inserts], axis=0) > _KNOWN_CHANGES
    for one in (*inserts, shots, changes, bad):
        one[open_[~ends]] = np.inf
    goes_on = open_[ends & known]
    more = missing[goes_on] / made[ends & known]
    for one in inserts:
        one[goes_on] += np.ceil((one[goes_on] - 1.0) * more)
    for one in (shots, changes, bad):
        one[goes_on] += np.ceil(one[goes_on] * more)
    return open_[ends & ~known]


def _chances(k: int, turn: int, mine: N, n: int) -> F:
    """Return chances for the inserts of half `k` put in at a turn in some of `n` plays.

    While many plays are open each has its own place, whatever the plan: plans are so compared by the same inserts.
    """
    random = np.random.Generator(np.random.PCG64([_SEED, k, turn]))
    return random.random(n)[mine] if 8 * len(mine) > n else random.random(len(mine))


def _insert(half: PlannedHalf, nodes: N, chances: F) -> tuple[F, F]:
    """Return sound shots of new inserts, and the bad shots each can make after: none where swapped sound."""
    sound = half.lives.lives(nodes, chances)
    if half.planned is None:
        return sound, np.full_like(sound, np.inf)
    return np.minimum(sound, half.planned), np.maximum(half.planned - sound, 0.0)


def need(takes: Sequence[F], certainty: float) -> tuple[float, ...]:
    """Return the least stock of each kind that is enough for all kinds together in that share of plays.

    Every kind is given the same certainty by itself, raised until all hold together.
    """
    n = len(takes[0])
    ordered = [np.sort(one) for one in takes]
    at = int(np.ceil(certainty * n)) - 1
    low, high = at, n - 1
    while low < high:
        middle = (low + high) // 2
        enough = np.logical_and.reduce([one <= of[middle] for one, of in zip(takes, ordered, strict=True)])
        low, high = (low, middle) if enough.sum() >= certainty * n else (middle + 1, high)
    return tuple(float(of[low]) for of in ordered)
