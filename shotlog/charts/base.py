"""What every chart promises, and the two shapes of an answer: one `Point`, or the arrays of a `Run`.

A chart is built from parameters and learns from readings only. It has two forms that agree bit for bit:
`update` takes one reading and costs the same however long the history; `run` takes an array. Both go through the
same state, so an array may be cut anywhere, saved, restored and gone on with.

Exact agreement is had by construction: state is either a plain sum (NumPy's `cumsum` adds in order, as the loop does),
a first-order recursion done by a compiled filter in the loop's order of operations, or a sum on a binary grid, where
addition has no rounding at all (`cusum`). Quantiles come from the same scalar routines in both forms.
"""

import math
from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import ClassVar, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shotlog.errors import UsageError

__all__ = ["LARGEST", "MISSING", "Chart", "Point", "Run", "Saved"]

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
class Run:
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

    def spread_over(self, present: Flags) -> "Run":
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
        return Run(*lines, fired, place(self.detail))


class Chart(ABC):
    """One chart on one channel: readings in, points out.

    A NaN is a missing reading: skipped, never a signal, and the state stays as it was. An infinite one is refused.
    """

    kind: ClassVar[str]
    detail_names: ClassVar[tuple[str, ...]] = ()

    @property
    @abstractmethod
    def rule_names(self) -> tuple[str, ...]:
        """The rules that can fire, in the order they are named in a point."""

    @abstractmethod
    def _step(self, x: float) -> Point:
        """Take one finite reading."""

    @abstractmethod
    def _state(self) -> tuple[float | int | str | None, ...]:
        """All that changes with readings, flat."""

    @abstractmethod
    def _set_state(self, state: Sequence[float]) -> None:
        """Take `_state` back (None already turned into NaN)."""

    @property
    @abstractmethod
    def ready(self) -> bool:
        """Whether the next reading will be judged."""

    def update(self, x: float) -> Point:
        """Judge one reading, in the channel's unit."""
        x = float(x)
        if x != x:
            return MISSING
        if not -LARGEST < x < LARGEST:
            raise UsageError(f"{self.kind}: given a reading of {x}, allowed: finite, or NaN where it is missing")
        return self._step(x)

    def run(self, xs: ArrayLike) -> Run:
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

    def _block(self, xs: Floats) -> Run:
        """Take finite readings at once; a chart with an array form overrides `_rest`."""
        done = 0
        points = []
        while done < len(xs) and not self.ready:
            points.append(self._step(float(xs[done])))
            done += 1
        head = Run.of(points, self.rule_names, len(self.detail_names))
        return head if done == len(xs) and points else Run.join(head, self._rest(xs[done:]))

    def _rest(self, xs: Floats) -> Run:
        """Take finite readings at once when ready."""
        return Run.of([self._step(x) for x in xs.tolist()], self.rule_names, len(self.detail_names))

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
