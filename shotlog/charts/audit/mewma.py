"""MEWMA chart: the EWMA of several channels at once, judged by its T2."""

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import ArrayLike

from shotlog.charts.audit.hotelling import MeanAndSpread
from shotlog.charts.base import ChartRun, Floats, Point, VectorChart
from shotlog.charts.baseline import check_positive
from shotlog.charts.change import Change
from shotlog.errors import UsageError

__all__ = ["Mewma"]

_GONE = 2.0**-54


class Mewma(VectorChart):
    """MEWMA chart over several channels, upper limit only.

    Sees a small sustained shift or a drift that moves several channels together, sooner than a T2 chart.

    Parameters
    ----------
    n_channels: how many channels, 2 or more.
    lam: weight of the newest shot, above 0 and up to 1.
    h: upper limit of the T2 of the EWMA, without unit; None: computed for an in-control average run length of `arl0`.
    arl0: see `h`; with asymptotic covariance and known parameters.
    mean, covariance: level and covariance in control, in the channels' units; None: learnt from the first `baseline`
        shots.
    baseline, estimate: as in `HotellingT2`.
    varying: judge with the covariance the EWMA has at that shot; False: with the asymptotic one from the first shot on.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,), without unit. `detail`: for each channel the T2 of its EWMA
    alone, then for each what T2 would lose without it.

    Raises
    ------
    UsageError
        A parameter out of range, a singular given covariance, or an infinite reading.

    Notes
    -----
    State: the EWMA of each channel, the share of the start still in it, the shots of the baseline; an update is
    O(n_channels^2).
    In control: with known parameters and `varying` False the average run length is `arl0`, 370.4 unless said otherwise
    (h 11.01 at 2 channels, lam 0.2). Learnt from a short baseline it is shorter.

    Examples
    --------
    >>> chart = Mewma(n_channels=2, lam=0.2, h=11.0, mean=(0, 0), covariance=((1, 0), (0, 1)), varying=False)
    >>> round(chart.update((1.0, 2.0)).value, 4)
    1.8

    References
    ----------
    Lowry, Woodall, Champ & Rigdon 1992, Technometrics 34 46-53; the limit: Rigdon 1995 (integral equation,
    `mewma_passage`).
    """

    kind = "mewma"
    detail_names = ("alone", "given others")

    def __init__(
        self,
        *,
        n_channels: int = 2,
        lam: float = 0.2,
        h: float | None = None,
        arl0: float = 370.4,
        mean: Sequence[float] | None = None,
        covariance: ArrayLike | None = None,
        baseline: int = 25,
        estimate: str = "differences",
        varying: bool = False,
    ) -> None:
        super().__init__(n_channels)
        if not 0.0 < lam <= 1.0:
            raise UsageError(f"{self.kind}: given lam {lam}, allowed: above 0 and up to 1")
        self.lam = float(lam)
        self.varying = bool(varying)
        self.base = MeanAndSpread(
            self.kind, n_channels, mean=mean, covariance=covariance, n=baseline, estimate=estimate
        )
        if h is None:
            from shotlog.charts.audit.mewma_passage import mewma_limit

            h = mewma_limit(n_channels, self.lam, arl0)
        self.h = check_positive(self.kind, "h", h)
        self._mean = [0.0] * n_channels
        self._start_share = 1.0 if varying else 0.0

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" only."""
        return ("above",)

    @property
    def ready(self) -> bool:
        """Whether level and covariance stand."""
        return self.base.spread is not None

    def drivers(self, point: Point) -> list[int]:
        """Channels behind a point, strongest first, counted from 0, by the larger of the two terms of each.

        Those without which T2 would fall by more than half the limit, or which alone exceed half of it.
        """
        p = self.n_channels
        term = [max(point.detail[i], point.detail[p + i]) for i in range(p)]
        return sorted((i for i in range(p) if term[i] > self.h / 2.0), key=lambda i: -term[i])

    def _shrink(self) -> float:
        """Variance of the EWMA at this shot as a share of that of a reading; moves on by one shot."""
        keep = 1.0 - self.lam
        self._start_share = 0.0 if self._start_share < _GONE else self._start_share * (keep * keep)
        return self.lam / (2.0 - self.lam) * (1.0 - self._start_share)

    def _step(self, x: list[float]) -> Point:
        if self.base.spread is None:
            self.base.learn(x)
            return Point(math.nan, math.nan, math.nan, math.nan)
        keep = 1.0 - self.lam
        deviations = [v - mean for v, mean in zip(x, self.base.mean, strict=True)]
        self._mean = [keep * z + self.lam * d for z, d in zip(self._mean, deviations, strict=True)]
        value, terms = self.base.spread.judge(self._mean)
        share = self._shrink()
        t2 = float(value) / share
        return Point(t2, 0.0, 0.0, self.h, ("above",) if t2 > self.h else (), tuple(float(t) / share for t in terms))

    def _rest(self, xs: Floats) -> ChartRun:
        if self.base.spread is None or not len(xs):
            return ChartRun.of([], self.rule_names, self.n_detail)
        from scipy.signal import lfilter

        keep = 1.0 - self.lam
        means: list[Floats] = []
        for i, level in enumerate(self.base.mean):
            column = np.ascontiguousarray(xs[:, i]) - level
            mean, _ = lfilter([self.lam], [1.0, -keep], column, zi=[keep * self._mean[i]])
            self._mean[i] = float(mean[-1])
            means.append(mean)
        value, terms = self.base.spread.judge(means)
        share = np.full(len(xs), self.lam / (2.0 - self.lam))
        for i in range(len(xs)):
            if self._start_share == 0.0:
                break
            share[i] = self._shrink()
        t2 = np.asarray(value / share, dtype=float)
        detail = (np.array(terms) / share).T
        return ChartRun.flat(t2, 0.0, 0.0, self.h, {"above": t2 > self.h}, detail)

    def survival(self, change: Change) -> Iterator[float] | None:
        """With known parameters and asymptotic covariance: Rigdon's integral equations."""
        if not self.base.given or self.varying:
            return None
        from shotlog.charts.audit.mewma_passage import mewma_survival

        return mewma_survival(self.n_channels, self.lam, self.h, change.mean, shifted=not change.none)

    def readings(self, noise: Floats) -> Floats:
        """Readings about the given level with the given covariance (0 and the identity where learnt)."""
        return self.base.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self.base.state(), *self._mean, self._start_share)

    def _set_state(self, state: Sequence[float]) -> None:
        rest = self.base.set_state(state)
        if len(rest) != self.n_channels + 1:
            raise ValueError(f"{len(rest) - 1} channels remembered, {self.n_channels} charted")
        self._mean = [float(v) for v in rest[:-1]]
        self._start_share = float(rest[-1])
