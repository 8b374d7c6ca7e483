"""Inserts that wear to a limit, or break, one after another on one press: what is stated of the shots left, and what
was true.

Made apart from the call and from the examiner: wear is a gamma process about a power of the shots since its onset, of
powers that no table holds; rates are log-normal between inserts; some inserts break without a warning, and of the
sisters some are pulled long before their limit.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from shotlog.records import InForce, LoggedShot
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.monitor import Monitor

__all__ = ["COURSES", "Stated", "Trial", "cover", "middle", "stated", "trials"]

_CENTRE = {"cushion": 6.2, "peak_pressure": 610.0, "fill_time": 0.85, "recovery_time": 5.1}
_SPREAD = {"cushion": 0.06, "peak_pressure": 4.5, "fill_time": 0.005, "recovery_time": 0.1}
_WARM = {"cushion": 2.0, "peak_pressure": 5.0}
"""How far above its settled value a channel starts, in spreads; it settles with a time constant of six shots."""

_ALONG = {"cushion": {"cushion": 1.0, "peak_pressure": 0.3}, "peak_pressure": {"peak_pressure": 1.0, "cushion": 0.25}}
"""How the wear that leads to a limit on a channel moves them, in spreads, all of them down."""

COURSES = {"flattening": 0.6, "even": 1.0, "growing": 1.7}
"""Power of the shots since the onset."""


@dataclass(frozen=True, slots=True)
class Trial:
    """What one press goes through: `sisters` before the insert that counts, and the channel that has a limit.

    `bites`: variance of the wear over its mean, in spreads. `broken`: chance a shot to break. `pulled`: share of the
    sisters that come out half way.
    """

    course: str
    sisters: int
    channel: str = "cushion"
    bites: float = 0.05
    broken: float = 0.0
    pulled: float = 0.0


@dataclass(frozen=True, slots=True)
class Stated:
    """An interval stated so many shots after the call, and the shots that were left."""

    later: int
    low: float
    median: float
    high: float
    truth: int

    @property
    def holds(self) -> bool:
        """Whether the interval holds the truth."""
        return self.low <= self.truth <= self.high


def trials(
    kinds: Sequence[Trial], seed: int, n: int, after: Sequence[int] = (0, 5, 15)
) -> Iterator[tuple[Trial, Stated]]:
    """Judge `n` presses of each kind and return what was stated on the insert that counts."""
    for at, kind in enumerate(kinds):
        for nth in range(n):
            yield from ((kind, one) for one in stated(kind, np.random.default_rng([seed, at, nth]), after))


def stated(kind: Trial, rng: np.random.Generator, after: Sequence[int]) -> Iterator[Stated]:
    """Judge one press; nothing where no change was called, or before it had begun."""
    deep = rng.uniform(7.0, 13.0)
    limit = _CENTRE[kind.channel] - deep * _SPREAD[kind.channel]
    monitor = Monitor("p", {"d": DesignSettings("d", limits={kind.channel: Bound(low=limit)})})
    typical, time, number, out = rng.uniform(25.0, 60.0), datetime(2025, 5, 5, 6, 0, tzinfo=UTC), 1, ""
    for nth in range(kind.sisters + 1):
        onset, means = _life(kind, rng, deep, typical)
        at = list(_CENTRE).index(kind.channel)
        breaks = 5 + int(rng.exponential(1.0 / kind.broken)) if kind.broken else 10_000
        if breaks < len(means):
            means[breaks:] += rng.uniform(4.0, 8.0) * np.array([-1.0, -0.3, 0.0, 0.0]) * list(_SPREAD.values())
        beyond = np.flatnonzero(means[:, at] < limit)
        bad = min(int(beyond[0]) if len(beyond) else len(means), breaks)
        early = nth < kind.sisters and rng.random() < kind.pulled
        end = (onset + bad) // 2 if early and bad > onset else min(bad + 2, len(means))
        called = None
        for age, shot in enumerate(_shots(means[:end], rng, nth, number, time, out)):
            verdict = monitor.step(shot)
            called = age if called is None and verdict.cause and nth == kind.sisters else called
            if called is None or called < onset or age >= bad or age - called not in after:
                continue
            if verdict.left_low is not None and verdict.left_median is not None and verdict.left_high is not None:
                yield Stated(age - called, verdict.left_low, verdict.left_median, verdict.left_high, bad - age)
        out = "planned" if early else "core broken" if breaks <= bad else "at its limit"
        number, time = number + end, time + timedelta(hours=3)


def _life(kind: Trial, rng: np.random.Generator, deep: float, typical: float) -> tuple[int, NDArray[np.float64]]:
    """Return the first worn shot of a life, from 0, and what every channel is by then without noise."""
    onset, over = int(rng.integers(18, 40)), typical * float(np.exp(0.35 * rng.standard_normal()))
    n = onset + int(4.0 * over) + 10
    since = np.maximum(np.arange(n + 1.0) - onset, 0.0)
    grows = np.diff(deep * (since / over) ** COURSES[kind.course])
    worn = np.cumsum(rng.gamma(np.maximum(grows, 1e-12) / kind.bites, kind.bites))
    own, warm = rng.standard_normal(len(_CENTRE)), np.exp(-np.arange(n) / 6.0)
    means = np.empty((n, len(_CENTRE)))
    for c, name in enumerate(_CENTRE):
        off = 0.6 * own[c] + _WARM.get(name, 0.0) * warm - _ALONG[kind.channel].get(name, 0.0) * worn
        means[:, c] = _CENTRE[name] + _SPREAD[name] * off
    return onset, means


def _shots(
    means: NDArray[np.float64], rng: np.random.Generator, nth: int, number: int, time: datetime, removed: str
) -> Iterator[LoggedShot]:
    """Return the shots of a life; `removed`: why the insert before it came out."""
    off = np.zeros(len(_CENTRE))
    for age, mean in enumerate(means):
        off = 0.3 * off + 0.954 * rng.standard_normal(len(off))
        values = dict(zip(_CENTRE, np.round(mean + off * list(_SPREAD.values()), 3).tolist(), strict=True))
        why = ((f"W-{nth - 1}", removed),) if removed and age == 0 else ()
        held = {"moving": InForce(f"W-{nth}", "d")}
        yield LoggedShot("p", number + age, time + timedelta(seconds=70 * age), values, held, removed=why)


def cover(said: Sequence[Stated]) -> float:
    """Return the share of intervals that hold the truth."""
    return float(np.mean([one.holds for one in said]))


def middle(said: Sequence[Stated]) -> float:
    """Return the middle ratio of the stated median to the truth."""
    return float(np.median([one.median / one.truth for one in said]))
