"""What a technician has today: three charts on the same lives, each with its bar set afterwards.

Every chart gives, shot by shot, how far its worst channel lies outside in units of its own limits; a bar on that is set
so that the chart makes as many false calls per healthy life as the monitor did (`bar`).
"""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from shotlog.charts.audit import Ewma, SelfStartingCusum
from tests.benchmark.lives.press import Life

F = NDArray[np.float64]

SETTLING, BASELINE, AFTER_PAUSE = 10, 10, 5
"""Shots left out after a mount, shots the level is taken from, shots left out after a pause."""


def table_of(life: Life) -> tuple[F, NDArray[np.bool_]]:
    """Values, shape (n_shots, n_channels), and which shots are judged."""
    values = np.array([list(s.values.values()) for s in life.shots])
    times = np.array([s.time.timestamp() for s in life.shots])
    numbers = np.array([s.shot for s in life.shots])
    took = np.diff(times) / np.diff(numbers)
    waited = [i + 1 for i in np.flatnonzero(took > 3 * np.median(took))]
    judged = np.arange(len(values)) >= SETTLING
    for at in waited:
        judged[at : at + AFTER_PAUSE] = False
    return values, judged


def _floor(life: Life) -> F:
    return life.habits.digits[: life.habits.n_channels] / 2.0


def _own(life: Life) -> tuple[F, F, F, NDArray[np.int64]]:
    """Settled values, level and spread of the first ten of them, and where they stand in the life."""
    values, judged = table_of(life)
    at = np.flatnonzero(judged)
    own = values[at][:BASELINE]
    return values[at], own.mean(axis=0), np.maximum(own.std(axis=0, ddof=1), _floor(life)), at


def _spread(life: Life) -> F:
    """Mean square successive difference over 2 of the settled shots of a life: a drift inflates it little."""
    values, judged = table_of(life)
    return np.asarray((np.diff(values[judged], axis=0) ** 2).mean(axis=0) / 2.0)


def individuals(life: Life, sisters: Sequence[Life]) -> F:
    """Individuals chart, limits from the insert's own first ten settled shots."""
    values, level, spread, at = _own(life)
    return _placed(life, np.abs(values - level) / spread, at)


def ewma(life: Life, sisters: Sequence[Life]) -> F:
    """EWMA (lam 0.2) about the own level of ten shots, spread pooled over the sisters where there are any."""
    values, level, spread, at = _own(life)
    if sisters:
        spread = np.maximum(np.sqrt(np.mean([_spread(one) for one in sisters], axis=0)), _floor(life))
    out = np.empty_like(values)
    for c in range(values.shape[1]):
        run = Ewma(lam=0.2, width=1.0, centre=float(level[c]), sigma=float(spread[c])).run(values[BASELINE:, c])
        out[:BASELINE, c] = 0.0
        out[BASELINE:, c] = np.abs(run.value - run.centre) / (run.upper - run.centre)
    return _placed(life, out, at)


def self_starting(life: Life, sisters: Sequence[Life]) -> F:
    """Self-starting CUSUM (k 0.5): level and spread learnt as it goes, no baseline."""
    values, _, _, at = _own(life)
    floor = _floor(life)
    runs = [
        SelfStartingCusum(k=0.5, least_sigma=float(floor[c])).run(values[:, c]).value for c in range(values.shape[1])
    ]
    return _placed(life, np.abs(np.nan_to_num(np.stack(runs, axis=1))), at, BASELINE)


def _placed(life: Life, outside: F, at: NDArray[np.int64], unjudged: int = BASELINE) -> F:
    line = np.zeros(len(life.shots))
    line[at[unjudged:]] = outside[unjudged:].max(axis=1)
    return line


CHARTS: dict[str, Callable[[Life, Sequence[Life]], F]] = {
    "individuals, own limits": individuals,
    "EWMA, pooled spread": ewma,
    "self-starting CUSUM": self_starting,
}


def bar(lines: Sequence[tuple[Life, F]], rate: float) -> float:
    """The lowest bar at which false calls, over healthy lives and the healthy part of others, come to `rate` a life."""
    peaks, exposure = [], 0.0
    for life, line in lines:
        healthy = np.array([life.fault is None or s.shot < life.fault.onset for s in life.shots])
        peaks.append(float(line[healthy].max(initial=0.0)))
        exposure += healthy_share(life)
    allowed = int(rate * exposure + 1e-9)
    return float(np.nextafter(sorted(peaks, reverse=True)[allowed], np.inf))


def healthy_share(life: Life) -> float:
    """What part of a healthy life of about 90 shots this one is."""
    return 1.0 if life.fault is None else (life.fault.onset - life.first) / 90.0
