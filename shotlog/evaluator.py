"""One shot in; baselines, signals and a verdict out: the only way a shot is ever judged, live, replayed or restarted.

Two things look at each shot. The charts are for people and for the record: individuals and moving range of each main
channel, with limits from the insert's own settled shots. The monitor (`wear`) makes the call: whether something has
changed, what, and since when. The evaluator owns all state of a press and keeps it bounded; `save` and `restore`
carry it over a restart to the last bit. It does no I/O and reads no clock.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.charts import Chart, Individuals, MovingRange
from shotlog.entries import KINDS
from shotlog.records import Baseline, Judged, LoggedShot, Signal
from shotlog.settings import DesignSettings
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.evidence import Evidence

__all__ = ["Evaluator"]


def _individuals(baseline: int, least: float) -> Chart:
    return Individuals(baseline=baseline, estimate="sd", width=None, least=least)


def _moving_range(baseline: int, least: float) -> Chart:
    return MovingRange(baseline=baseline, width=None, least=2.0 * least)


_RUN: dict[str, Callable[[int, float], Chart]] = {Individuals.kind: _individuals, MovingRange.kind: _moving_range}
"""The charts run on each channel of each insert, with limits from its own baseline."""


class Evaluator:
    """Judges the shots of one press, in order.

    Parameters
    ----------
    press
        Its name.
    designs
        What is known of insert designs, by name; others get the defaults of `DesignSettings`.
    false_calls
        False calls in 100 sound insert lives, as stated in the configuration; None where they are not.
    """

    def __init__(self, press: str, designs: Mapping[str, DesignSettings], false_calls: float | None = None) -> None:
        self.press = press
        self._designs = designs
        self._monitor = Monitor(press, designs, false_calls)
        self._begin("", "")
        self._unsettled = 0

    def step(self, shot: LoggedShot) -> list[Judged]:
        """Judge the next shot; returns baselines frozen at it, its signals, and last its verdict."""
        verdict = self._monitor.step(shot)
        effects = [KINDS[kind].effect for kind, _ in shot.events]
        no_part = any(effect.no_part for effect in effects)
        new_setup = any(effect.new_baseline for effect in effects)
        newest, made = self._monitor.newest
        if made == 1 or newest.serial != self._insert or new_setup:
            self._begin(newest.serial, _design_of(shot, newest.serial))
        elif self._monitor.waited:
            self._unsettled = max(self._unsettled, (self._design.settling_shots + 1) // 2)
        if self._unsettled > 0:
            self._unsettled -= not no_part
            return [verdict if verdict.cause else replace(verdict, settling=True)]
        if no_part:
            return [verdict]
        signals: list[Signal] = []
        baselines = [one for channel in ALWAYS_CHARTED for one in self._chart(shot, channel, signals)]
        return [*baselines, *signals, replace(verdict, signals=tuple(signal.name for signal in signals))]

    def evidence(self) -> Evidence:
        """Return the evidence behind the last verdict.

        Raises
        ------
        NotEnoughShots
            There is no verdict, or no baseline, yet.
        """
        return self._monitor.evidence()

    def _begin(self, insert: str, design: str) -> None:
        """Start the charts of an insert: settling shots first, then its own level."""
        self._insert = insert
        self._design = self._designs.get(design, DesignSettings(name=design))
        self._unsettled = self._design.settling_shots
        self._first_used: dict[str, int] = {}
        self._charts = {channel: self._new_charts(channel) for channel in ALWAYS_CHARTED}

    def _new_charts(self, channel: str) -> dict[str, Chart]:
        least = self._design.least_change.get(channel, CHANNELS[channel].least_change)
        return {kind: build(self._design.baseline_shots, least) for kind, build in _RUN.items()}

    def _chart(self, shot: LoggedShot, channel: str, signals: list[Signal]) -> Iterator[Baseline]:
        if channel not in shot.values:
            return
        self._first_used.setdefault(channel, shot.shot)
        for kind, chart in self._charts[channel].items():
            learning = not chart.ready
            point = chart.update(shot.values[channel])
            if learning and isinstance(chart, Individuals) and chart.limits is not None:
                centre, lower, upper, sigma, n = chart.limits
                first = self._first_used[channel]
                yield Baseline(self.press, self._insert, channel, first, shot.shot, n, centre, sigma, lower, upper)
            signals.extend(
                Signal(self.press, shot.shot, kind, channel, rule, point.value, point.centre, point.lower, point.upper)
                for rule in point.rules
            )

    def save(self) -> list[Any]:
        """Return the whole state, ready for JSON."""
        charts = {name: {kind: chart.save() for kind, chart in kinds.items()} for name, kinds in self._charts.items()}
        return [
            self._monitor.save(), self._insert, self._design.name, self._unsettled,
            self._first_used, charts,
        ]  # fmt: skip

    def restore(self, state: list[Any]) -> None:
        """Take up a state that `save` gave, of an evaluator built with the same parameters."""
        monitor, insert, design, unsettled, first_used, charts = state
        self._begin(insert, design)
        self._monitor.restore(monitor)
        self._unsettled, self._first_used = unsettled, dict(first_used)
        for channel, kinds in charts.items():
            for kind, saved in kinds.items():
                self._charts[channel][kind].restore(saved)


def _design_of(shot: LoggedShot, serial: str) -> str:
    return next((piece.design for piece in shot.halves.values() if piece.serial == serial), "")
