"""What every chart promises, and the two shapes of an answer: one `Point`, or the arrays of a `ChartRun`.

A chart is built from parameters and learns from readings only. It has two forms that agree bit for bit:
`update` takes one reading and costs the same however long the history; `run` takes an array. Both go through the
same state, so an array may be cut anywhere, saved, restored and gone on with.

Exact agreement is had by construction: state is either a plain sum (NumPy's `cumsum` adds in order, as the loop does),
a first-order recursion done by a compiled filter in the loop's order of operations, or a sum on a binary grid, where
addition has no rounding at all (`cusum`). Quantiles come from the same scalar routines in both forms.
"""

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import ClassVar, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shotlog.charts.change import Change
from shotlog.errors import UsageError

__all__ = ["LARGEST", "MISSING", "Chart", "ChartRun", "Charting", "Flags", "Floats", "Point", "Saved", "VectorChart"]

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Saved = tuple[float | int | str | None, ...]
"""A chart's state: flat, and JSON keeps it exactly; NaN is written as None."""

LARGEST = 1e150
"""No reading may be larger: its square must still be a number."""

_NAN = math.nan


@dataclass(frozen=True, slots=True)
class Point:
    """One judged reading: the plotted value, its centre line and limits, and the rules that fired.

    NaN where the chart is not ready. `detail` holds what a chart shows beside its value, named by `Chart.detail_names`.
    """

    value: float
    centre: float
    lower: float
    upper: float
    rules: tuple[str, ...] = ()
    detail: tuple[float, ...] = ()


MISSING = Point(_NAN, _NAN, _NAN, _NAN)
"""The answer to a missing reading."""


@dataclass(frozen=True, slots=True)
class ChartRun:
    """Many points as arrays, each of shape (n_shots,); `detail` is (n_shots, n_names), `fired` one mask a rule."""

    value: Floats
    centre: Floats
    lower: Floats
    upper: Floats
    fired: Mapping[str, Flags] = field(default_factory=dict)
    detail: Floats = field(default_factory=lambda: np.empty((0, 0)))

    def __len__(self) -> int:
        return len(self.value)

    @property
    def signals(self) -> list[tuple[int, str]]:
        """(index, rule) of everything that fired, in the order of the readings; the index counts from 0."""
        found = [(int(i), name) for name, mask in self.fired.items() for i in np.flatnonzero(mask)]
        order = {name: i for i, name in enumerate(self.fired)}
        return sorted(found, key=lambda hit: (hit[0], order[hit[1]]))

    def points(self) -> list[Point]:
        """The same run as points."""
        rules: list[tuple[str, ...]] = [()] * len(self)
        for index, name in self.signals:
            rules[index] += (name,)
        lines = zip(self.value.tolist(), self.centre.tolist(), self.lower.tolist(), self.upper.tolist(), strict=True)
        detail = [tuple(row) for row in self.detail.tolist()]
        return [Point(*line, r, d) for line, r, d in zip(lines, rules, detail, strict=True)]

    @classmethod
    def of(cls, points: Sequence[Point], rules: Sequence[str], n_detail: int) -> Self:
        """Arrays from points; `n_detail` NaN stand where a point shows no detail."""
        table = np.array([(p.value, p.centre, p.lower, p.upper) for p in points], dtype=float).reshape(-1, 4)
        blank = (_NAN,) * n_detail
        detail = np.array([p.detail or blank for p in points], dtype=float).reshape(len(points), n_detail)
        fired = {name: np.array([name in p.rules for p in points], dtype=bool) for name in rules}
        return cls(table[:, 0].copy(), table[:, 1].copy(), table[:, 2].copy(), table[:, 3].copy(), fired, detail)

    @classmethod
    def flat(
        cls,
        value: Floats,
        centre: float,
        lower: float,
        upper: float,
        fired: Mapping[str, Flags],
        detail: Floats | None = None,
    ) -> Self:
        """A run whose centre and limits are level lines; they cost no memory."""
        centre_line, lower_line, upper_line = (np.broadcast_to(line, value.shape) for line in (centre, lower, upper))
        detail = np.empty((len(value), 0)) if detail is None else detail
        return cls(value, centre_line, lower_line, upper_line, fired, detail)

    @classmethod
    def join(cls, first: Self, second: Self) -> Self:
        """One run after another."""
        if not len(first):
            return second
        return cls(
            np.concatenate((first.value, second.value)),
            np.concatenate((first.centre, second.centre)),
            np.concatenate((first.lower, second.lower)),
            np.concatenate((first.upper, second.upper)),
            {name: np.concatenate((mask, second.fired[name])) for name, mask in first.fired.items()},
            np.concatenate((first.detail, second.detail)),
        )

    def spread_over(self, present: Flags) -> "ChartRun":
        """The run with missing readings put back where `present` is False."""

        def place(values: Floats) -> Floats:
            out = np.full((len(present), *values.shape[1:]), _NAN)
            out[present] = values
            return out

        fired = {}
        for name, mask in self.fired.items():
            fired[name] = np.zeros(len(present), dtype=bool)
            fired[name][present] = mask
        lines = place(self.value), place(self.centre), place(self.lower), place(self.upper)
        return ChartRun(*lines, fired, place(self.detail))


class Charting(ABC):
    """What charts on one channel and on several have in common: rules, readiness, and a state that can be kept."""

    kind: ClassVar[str]
    detail_names: ClassVar[tuple[str, ...]] = ()

    @property
    @abstractmethod
    def rule_names(self) -> tuple[str, ...]:
        """The rules that can fire, in the order they are named in a point."""

    @property
    @abstractmethod
    def ready(self) -> bool:
        """Whether the next reading will be judged."""

    @abstractmethod
    def _state(self) -> tuple[float | int | str | None, ...]:
        """All that changes with readings, flat."""

    @abstractmethod
    def _set_state(self, state: Sequence[float]) -> None:
        """Take `_state` back (None already turned into NaN)."""

    def survival(self, change: Change) -> Iterator[float] | None:
        """P(no signal up to judged shot n) for n = 1, 2, ... without end; None where no equation exists."""
        return None

    def readings(self, noise: Floats) -> Floats:
        """Readings in this chart's units from unit normal ones, one column a channel; for simulation."""
        return noise

    def save(self) -> Saved:
        """The state as a flat tuple that JSON keeps exactly; its first entry is the kind of chart."""
        return (self.kind, *(None if isinstance(s, float) and s != s else s for s in self._state()))

    def restore(self, state: Sequence[float | int | str | None]) -> None:
        """Take back what `save` gave, into a chart built with the same parameters."""
        if not state or state[0] != self.kind:
            raise UsageError(f"{self.kind}: given the state of {state[0] if state else 'nothing'!r}, allowed: its own")
        try:
            self._set_state([_NAN if s is None else float(s) for s in state[1:]])
        except (IndexError, TypeError, ValueError) as error:
            raise UsageError(f"{self.kind}: the state does not fit: {error}, allowed: what save() gave") from error


class Chart(Charting):
    """One chart on one channel: readings in, points out.

    A NaN is a missing reading: skipped, never a signal, and the state stays as it was. An infinite one is refused.
    """

    @abstractmethod
    def _step(self, x: float) -> Point:
        """Take one finite reading."""

    def update(self, x: float) -> Point:
        """Judge one reading, in the channel's unit."""
        x = float(x)
        if x != x:
            return MISSING
        if not -LARGEST < x < LARGEST:
            raise UsageError(f"{self.kind}: given a reading of {x}, allowed: finite, or NaN where it is missing")
        return self._step(x)

    def run(self, xs: ArrayLike) -> ChartRun:
        """Judge an array of readings, shape (n_shots,); the same points, to the last bit, as `update` on each."""
        values = np.asarray(xs, dtype=float).view()
        if values.ndim != 1:
            raise UsageError(f"{self.kind}: given an array of {values.ndim} dimensions, allowed: 1, one entry a shot")
        values.flags.writeable = False
        if -LARGEST < values.min(initial=0.0) <= values.max(initial=0.0) < LARGEST:
            return self._block(values)
        too_large = np.flatnonzero(np.abs(values) >= LARGEST)
        if len(too_large):
            at = int(too_large[0])
            raise UsageError(
                f"{self.kind}: entry {at} is a reading of {values[at]}, allowed: finite, or NaN where it is missing"
            )
        present = ~np.isnan(values)
        return self._block(values[present]).spread_over(present)

    def _block(self, xs: Floats) -> ChartRun:
        """Take finite readings at once; a chart with an array form overrides `_rest`."""
        points: list[Point] = []
        while len(points) < len(xs) and not self.ready:
            points.append(self._step(float(xs[len(points)])))
        head = ChartRun.of(points, self.rule_names, len(self.detail_names))
        return head if len(points) == len(xs) else ChartRun.join(head, self._rest(xs[len(points) :]))

    def _rest(self, xs: Floats) -> ChartRun:
        """Take finite readings at once when ready."""
        return ChartRun.of([self._step(x) for x in xs.tolist()], self.rule_names, len(self.detail_names))


class VectorChart(Charting):
    """One chart on several channels: a shot's readings in, points out.

    A shot with any reading missing (NaN) is skipped, never a signal. An infinite reading is refused.
    """

    def __init__(self, n_channels: int) -> None:
        if n_channels < 2:
            raise UsageError(f"{self.kind}: given {n_channels} channels, allowed: 2 or more")
        self.n_channels = int(n_channels)

    @abstractmethod
    def _step(self, x: list[float]) -> Point:
        """Take one shot's finite readings."""

    @abstractmethod
    def _rest(self, xs: Floats) -> ChartRun:
        """Take finite readings at once when ready."""

    @property
    def n_detail(self) -> int:
        """Numbers in a point's detail."""
        return len(self.detail_names) * self.n_channels

    def update(self, x: Sequence[float]) -> Point:
        """Judge one shot, a reading a channel, each in its unit."""
        values = [float(v) for v in x]
        if len(values) != self.n_channels:
            raise UsageError(f"{self.kind}: given {len(values)} readings, allowed: {self.n_channels}, one a channel")
        if any(v != v for v in values):
            return MISSING
        if not all(-LARGEST < v < LARGEST for v in values):
            raise UsageError(f"{self.kind}: given readings of {values}, allowed: finite, or NaN where missing")
        return self._step(values)

    def run(self, xs: ArrayLike) -> ChartRun:
        """Judge an array, shape (n_shots, n_channels); the same points, to the last bit, as `update` on each row."""
        values = np.asarray(xs, dtype=float)
        if values.ndim != 2 or values.shape[1] != self.n_channels:
            raise UsageError(
                f"{self.kind}: given an array of shape {values.shape}, allowed: (shots, {self.n_channels})"
            )
        if (np.abs(values) >= LARGEST).any():
            at = int(np.flatnonzero((np.abs(values) >= LARGEST).any(axis=1))[0])
            raise UsageError(f"{self.kind}: row {at} holds {values[at]}, allowed: finite, or NaN where missing")
        present = ~np.isnan(values).any(axis=1)
        run = self._block(values[present])
        return run if present.all() else run.spread_over(present)

    def _block(self, xs: Floats) -> ChartRun:
        points: list[Point] = []
        while len(points) < len(xs) and not self.ready:
            points.append(self._step(xs[len(points)].tolist()))
        head = ChartRun.of(points, self.rule_names, self.n_detail)
        return head if len(points) == len(xs) else ChartRun.join(head, self._rest(xs[len(points) :]))
