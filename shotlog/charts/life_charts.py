"""The charts that run beside the press: individuals and moving range of each main channel of one insert.

Level and spread come from the insert's first settled readings. The limits are those of `joint`, which few sound lives
leave on any chart, or plain 3-sigma ones. They do not move once they stand.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from shotlog.charts.baseline import spread_of
from shotlog.charts.constants import D2_PAIR, D3_PAIR
from shotlog.charts.joint import LIFE_SHOTS, SIGNALS_PER_100, Joint, Reached, plain_per_100
from shotlog.records import Baseline, Signal

__all__ = ["ChannelCharts", "LifeCharts"]


@dataclass(slots=True)
class ChannelCharts:
    """The two charts of one channel: its baseline, then the limits, the last reading, and how far readings went.

    `first`: the shot of the first reading. `limits`: level, half-width, longest step, and the unit they rest on; None
    while they are learnt.
    """

    first: int
    learnt: list[float] = field(default_factory=list)
    spread: float = 0.0
    limits: tuple[float, float, float, float] | None = None
    last: float | None = None
    n: int = 0
    squares: float = 0.0
    far: float = 0.0
    step: float = 0.0


class LifeCharts:
    """The charts of one insert, or of the part of its life under one set-up.

    Parameters
    ----------
    press, insert: names that go into the records.
    baseline: readings that level and spread come from. settling: shots of the insert before them.
    least: smallest change that matters by channel, in its unit; the channels to chart.
    plain: 3-sigma limits from moving ranges, as in the textbooks, however many lives they leave without a signal.
    sisters: sound lives of the design, each by channel.

    Notes
    -----
    State: `channels`, the readings of the baseline and then a dozen numbers each; an update is O(1).
    In control: of 100 sound lives of 90 shots about ten show a signal on any chart, see `joint`; with plain limits
    most do. The rules of an individuals chart are "above" and "below", that of a moving range is "above". A range
    across a stop or a missing value is none. Plain limits want a baseline in which two readings differ: until then the
    latest readings go on being learnt from.

    References
    ----------
    ISO 7870-2, individuals and moving range charts.
    """

    def __init__(
        self,
        press: str,
        insert: str,
        *,
        baseline: int,
        settling: int,
        least: Mapping[str, float],
        plain: bool,
        sisters: Sequence[Mapping[str, Reached]],
    ) -> None:
        self.channels: dict[str, ChannelCharts] = {}
        self._press, self._insert, self._wanted, self._least = press, insert, baseline, least
        self._plain, self._sisters, self._judged = plain, sisters, max(LIFE_SHOTS - settling - baseline, 1)

    def take(self, shot: int, values: Mapping[str, float]) -> tuple[list[Baseline], list[Signal]]:
        """Take the values of a settled shot; return the baselines it completes and the signals of it."""
        frozen: list[Baseline] = []
        signals: list[Signal] = []
        for name in self._least:
            one, x = self.channels.get(name), values.get(name)
            if x is None:
                if one is not None:
                    one.last = None
                continue
            if one is None:
                one = self.channels[name] = ChannelCharts(shot)
            if one.limits is None:
                frozen += self._learn(name, one, shot, x)
            else:
                signals += self._judge(name, one, one.limits, shot, x)
        return frozen, signals

    def rest(self) -> None:
        """Take no step from the shot before to the next: the press stood, or made no part."""
        for one in self.channels.values():
            one.last = None

    def reached(self) -> dict[str, Reached]:
        """Return how far the readings went, by channel, of those whose limits stand."""
        return {
            name: Reached(self._wanted, one.spread, one.n, one.squares, one.far, one.step)
            for name, one in self.channels.items()
            if one.limits is not None and one.n
        }

    @cached_property
    def _joint(self) -> Joint:
        return Joint(self._sisters, self._least, self._judged)

    def _learn(self, name: str, one: ChannelCharts, shot: int, x: float) -> Iterator[Baseline]:
        one.learnt = [*one.learnt, x][-self._wanted :]
        if len(one.learnt) < self._wanted:
            return
        one.spread = spread_of(one.learnt, "mr" if self._plain else "sd")
        if self._plain:
            unit, half, step = one.spread, 3.0 * one.spread, (D2_PAIR + 3.0 * D3_PAIR) * one.spread
            per_100 = plain_per_100(self._wanted, self._judged)
        else:
            unit, half, step = self._joint.limits(name, one.spread, self._wanted)
            per_100 = SIGNALS_PER_100
        if unit == 0.0:
            return
        level = math.fsum(one.learnt) / self._wanted
        one.limits, one.learnt = (level, half, step, unit), []
        names = self._press, self._insert, name
        yield Baseline(*names, one.first, shot, self._wanted, level, unit, level - half, level + half, per_100)

    def _judge(
        self, name: str, one: ChannelCharts, limits: tuple[float, float, float, float], shot: int, x: float
    ) -> Iterator[Signal]:
        level, half, longest, unit = limits
        lower, upper, off = level - half, level + half, x - level
        one.n += 1
        one.squares += off * off
        one.far = max(one.far, abs(off))
        if not lower <= x <= upper:
            rule = "above" if x > upper else "below"
            yield Signal(self._press, shot, "individuals", name, rule, x, level, lower, upper)
        if one.last is not None:
            step = abs(x - one.last)
            one.step = max(one.step, step)
            if step > longest:
                yield Signal(self._press, shot, "mr", name, "above", step, D2_PAIR * unit, 0.0, longest)
        one.last = x
