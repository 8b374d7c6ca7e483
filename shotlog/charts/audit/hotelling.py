"""Hotelling's T2 for single shots: the distance of a shot from the level over several channels at once."""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from shotlog.charts.audit.multivariate import Spread, covariance_of, freedom_of
from shotlog.charts.base import ChartRun, Floats, Point, VectorChart
from shotlog.charts.baseline import check_baseline
from shotlog.charts.change import Change
from shotlog.charts.limits import check_alpha
from shotlog.charts.passage import independent_survival
from shotlog.errors import NotEnoughShots, UsageError

__all__ = ["HotellingT2", "MeanAndSpread", "check_estimate", "phase_one", "t2_limit"]


def check_estimate(kind: str, estimate: str) -> str:
    """`estimate` itself if known; else UsageError."""
    if estimate not in ("differences", "sample"):
        raise UsageError(f"{kind}: given estimate {estimate!r}, allowed: differences, sample")
    return estimate


@lru_cache(maxsize=64)
def t2_limit(p: int, m: int, alpha: float, estimate: str = "differences") -> float:
    """Upper limit of T2 of a later shot, p channels, level and covariance from m shots (0: both known).

    Notes
    -----
    Known: chi-square with p degrees of freedom. "sample": p (m+1)(m-1) / (m (m-p)) F(p, m-p), exact (Tracy, Young &
    Mason 1992). "differences" has no closed form, and the usual approximation by degrees of freedom is far too wide
    after a short baseline (a third of the stated rate at p = 3, m = 10). Own: T2 does not depend on the true
    covariance, so let it be the identity; given the deviation's length, turned into the first axis, T2 = (1+1/m)
    chi2_p / (R2 q), R2 the sum of squares of the first channel, chi-square with m-1 degrees of freedom, and q the
    share of it left in 1 / (S^-1)_11. q depends on directions only, and varies little: 20,000 of it are drawn with a
    fixed seed, and the limit solves mean P(F(p, m-1) > h q (m-1) / (p (1+1/m))) = alpha, right to about 1 % of alpha.
    """
    from scipy.special import chdtri, fdtrc, fdtri

    check_alpha("t2", alpha)
    if m == 0:
        return float(chdtri(p, alpha))
    if m < _least_baseline(p):
        raise UsageError(f"t2: given {m} baseline shots for {p} channels, allowed: {_least_baseline(p)} or more")
    if estimate == "sample":
        return p * (m + 1.0) * (m - 1.0) / (m * (m - p)) * float(fdtri(p, m - p, 1.0 - alpha))
    scale = _shares_left(p, m) * (m - 1.0) / (p * (1.0 + 1.0 / m))
    low, high = 0.0, 1e7
    while high - low > 1e-9 * high:
        middle = (low + high) / 2.0
        low, high = (middle, high) if float(fdtrc(p, m - 1, middle * scale).mean()) > alpha else (low, middle)
    return high


@lru_cache(maxsize=64)
def _shares_left(p: int, m: int) -> Floats:
    rng = np.random.default_rng((20251125, p, m))
    rows = rng.standard_normal((20_000, m, p))
    steps = np.diff(rows, axis=1)
    inverse = np.linalg.inv(np.swapaxes(steps, 1, 2) @ steps / (2.0 * (m - 1)))
    squares = rows[:, :, 0].var(axis=1) * m
    return np.asarray(1.0 / (inverse[:, 0, 0] * squares))


def _least_baseline(p: int) -> int:
    """Shots below which the covariance is singular or nearly so."""
    return p + 3


def phase_one(xs: ArrayLike, *, alpha: float = 0.0027, estimate: str = "sample") -> ChartRun:
    """T2 of the very shots the level and covariance are taken from, to clean a baseline before it is used.

    Parameters
    ----------
    xs: readings, shape (n_shots, n_channels), none missing.
    alpha: false-alarm probability of each shot.
    estimate: "sample" or "differences", as `covariance_of`.

    Returns
    -------
    A run of shape (n_shots,), without unit; detail as in `HotellingT2`.

    Raises
    ------
    NotEnoughShots
        Too few shots for the number of channels.
    UsageError
        Missing or infinite readings, or a singular covariance.

    Notes
    -----
    Limit (m-1)^2/m B(p/2, (f-p)/2), B the beta quantile and f = m-1 for "sample" (exact, Tracy, Young & Mason 1992);
    for "differences" f as `freedom_of`, an approximation (Sullivan & Woodall 1996).
    """
    rows = np.asarray(xs, dtype=float)
    check_estimate("t2", estimate)
    check_alpha("t2", alpha)
    if rows.ndim != 2 or not np.isfinite(rows).all():
        raise UsageError("t2: given missing or infinite readings in a baseline, allowed: finite ones only")
    m, p = rows.shape
    if m < _least_baseline(p):
        raise NotEnoughShots(f"t2: {m} shots for {p} channels, {_least_baseline(p)} are needed")
    from scipy.special import betaincinv

    f = freedom_of(m, estimate)
    limit = (m - 1.0) ** 2 / m * float(betaincinv(p / 2.0, (f - p) / 2.0, 1.0 - alpha))
    return _array_run(Spread.of(covariance_of(rows, estimate)), rows - rows.mean(axis=0), limit)


def _array_run(spread: Spread, deviations: Floats, limit: float) -> ChartRun:
    value, terms = spread.judge([np.ascontiguousarray(column) for column in deviations.T])
    values = np.asarray(value, dtype=float)
    detail = np.array(terms).T.reshape(len(values), -1)
    return ChartRun.flat(values, 0.0, 0.0, limit, {"above": values > limit}, detail)


class MeanAndSpread:
    """Level and covariance of several channels: given, or learnt from the first `n` shots and then frozen.

    A baseline whose covariance is singular is none: the latest `n` shots go on being collected.
    """

    def __init__(
        self,
        kind: str,
        n_channels: int,
        *,
        mean: Sequence[float] | None,
        covariance: ArrayLike | None,
        n: int,
        estimate: str,
    ) -> None:
        if (mean is None) != (covariance is None):
            raise UsageError(f"{kind}: given one of mean and covariance, allowed: both or neither")
        self.estimate = check_estimate(kind, estimate)
        self.n_channels = n_channels
        self.n_wanted = n
        self.n = 0
        self.mean: list[float] = []
        self.spread: Spread | None = None
        self._rows: list[list[float]] = []
        self.given = mean is not None
        if mean is not None and covariance is not None:
            self.mean, self.spread = [float(v) for v in mean], Spread.of(covariance)
            if len(self.mean) != n_channels or len(self.spread.variance) != n_channels:
                raise UsageError(f"{kind}: given a mean of {len(self.mean)} channels, allowed: {n_channels}")
        else:
            check_baseline(kind, n, _least_baseline(n_channels))

    def scaled(self, noise: Floats) -> Floats:
        """Unit normal readings moved to the given level and covariance, along the first axis by Mahalanobis length."""
        if not self.given or self.spread is None:
            return noise
        columns = [
            self.mean[i] + sum(row[j] * noise[:, j] for j in range(i + 1)) for i, row in enumerate(self.spread.factor)
        ]
        return np.column_stack(columns)

    def learn(self, x: list[float]) -> bool:
        """Take one more shot of the baseline; True when it is the last."""
        self._rows = [*self._rows, x][-self.n_wanted :]
        return len(self._rows) == self.n_wanted and self._freeze()

    def _freeze(self) -> bool:
        try:
            self.spread = Spread.of(covariance_of(self._rows, self.estimate))
        except UsageError:
            return False
        self.mean, self.n = np.asarray(self._rows).mean(axis=0).tolist(), self.n_wanted
        return True

    def state(self) -> tuple[float | int, ...]:
        """The shots of the baseline, flat; their number comes first."""
        return (len(self._rows), *(v for row in self._rows for v in row))

    def set_state(self, state: Sequence[float]) -> Sequence[float]:
        """Take `state` back from the front of a longer one; the remainder is returned."""
        n, p = int(state[0]), self.n_channels
        self._rows = [[float(v) for v in state[1 + i * p : 1 + (i + 1) * p]] for i in range(n)]
        if not self.given:
            self.mean, self.spread, self.n = [], None, 0
            if n == self.n_wanted:
                self._freeze()
        return state[1 + n * p :]


class HotellingT2(VectorChart):
    """Hotelling's T2 of single shots over several channels, upper limit only.

    Sees a shot whose channels do not go together as they used to, even where each one alone is within its limits; slow
    for small steps. `detail` says which channels drive a signal.

    Parameters
    ----------
    n_channels: how many channels, 2 or more.
    mean, covariance: level and covariance in control, in the channels' units; None: learnt from the first `baseline`
        shots.
    baseline: how many first shots they are learnt from; None of them is judged (`phase_one` does that).
    estimate: "differences", covariance from successive differences, which a drift in the baseline inflates little; or
        "sample".
    alpha: false-alarm probability of each later shot.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,), without unit. `detail`: for each channel its T2 alone, then for
    each what T2 would lose without it.

    Raises
    ------
    UsageError
        A parameter out of range, a singular given covariance, or an infinite reading.

    Notes
    -----
    State: the shots of the baseline (from which level and covariance follow); an update is O(n_channels^2).
    In control: average run length 1/alpha, 370.4 at 0.0027, with known parameters; alpha a shot on average over
    baselines otherwise ("sample" exactly, "differences" to about 1 % of alpha). A baseline with a singular covariance
    is none: the chart goes on learning with the latest shots.

    Examples
    --------
    >>> chart = HotellingT2(n_channels=2, mean=(0.0, 0.0), covariance=((1.0, 0.9), (0.9, 1.0)))
    >>> point = chart.update((1.5, -1.5))
    >>> round(point.value, 2), round(point.upper, 2), point.rules
    (45.0, 11.83, ('above',))

    References
    ----------
    Hotelling 1947; Tracy, Young & Mason 1992, J. Quality Technology 24 88-95; NIST/SEMATECH e-Handbook 6.5.4.3;
    Mason, Tracy & Young 1995 (decomposition).
    """

    kind = "t2"
    detail_names = ("alone", "given others")

    def __init__(
        self,
        *,
        n_channels: int = 2,
        mean: Sequence[float] | None = None,
        covariance: ArrayLike | None = None,
        baseline: int = 25,
        estimate: str = "differences",
        alpha: float = 0.0027,
    ) -> None:
        super().__init__(n_channels)
        self.alpha = check_alpha(self.kind, alpha)
        self.base = MeanAndSpread(
            self.kind, n_channels, mean=mean, covariance=covariance, n=baseline, estimate=estimate
        )
        self.limit = t2_limit(n_channels, 0 if self.base.given else baseline, alpha, estimate)

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" only."""
        return ("above",)

    @property
    def ready(self) -> bool:
        """Whether level and covariance stand."""
        return self.base.spread is not None

    def drivers(self, point: Point) -> list[int]:
        """Channels behind a point, strongest first, counted from 0.

        Those whose term, alone or given the others, would itself signal at `alpha`; each by its larger term.
        """
        p = self.n_channels
        limit = t2_limit(1, self.base.n, self.alpha, self.base.estimate)
        term = [max(point.detail[i], point.detail[p + i]) for i in range(p)]
        return sorted((i for i in range(p) if term[i] > limit), key=lambda i: -term[i])

    def _step(self, x: list[float]) -> Point:
        if self.base.spread is None:
            self.base.learn(x)
            return Point(math.nan, math.nan, math.nan, math.nan)
        value, terms = self.base.spread.judge([v - mean for v, mean in zip(x, self.base.mean, strict=True)])
        t2 = float(value)
        return Point(t2, 0.0, 0.0, self.limit, ("above",) if t2 > self.limit else (), tuple(map(float, terms)))

    def _rest(self, xs: Floats) -> ChartRun:
        if self.base.spread is None:
            raise UsageError("t2: asked for an array before it was ready, allowed: after its baseline")
        return _array_run(self.base.spread, xs - np.array(self.base.mean), self.limit)

    def survival(self, change: Change) -> Iterator[float] | None:
        """With known parameters shots are independent, chi-square; else there is no equation."""
        if not self.base.given:
            return None
        from scipy.special import chndtr

        return independent_survival(
            lambda n: 1.0 - float(chndtr(self.limit, self.n_channels, change.mean(n) * change.mean(n)))
        )

    def readings(self, noise: Floats) -> Floats:
        """Readings about the given level with the given covariance (0 and the identity where learnt)."""
        return self.base.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return self.base.state()

    def _set_state(self, state: Sequence[float]) -> None:
        self.base.set_state(state)
