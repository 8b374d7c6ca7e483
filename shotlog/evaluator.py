"""One shot in, signals and a verdict out: the only way a shot is ever judged, live, replayed or after a restart.

The evaluator owns all state of a press and keeps it bounded; `save` and `restore` carry it over a restart to the last
bit. It does no I/O and reads no clock.
"""

from collections import deque
from collections.abc import Callable, Iterator, Mapping
from statistics import median
from typing import Any

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.charts import Chart, Individuals, MovingRange
from shotlog.records import Baseline, LoggedShot, Signal, Verdict
from shotlog.settings import DesignSettings

__all__ = ["Evaluator", "judged_half"]

Judged = Baseline | Signal | Verdict

_PAUSE_FACTOR = 3.0
"""A shot this many usual cycles after the one before came after a pause (common practice, no source)."""

_CYCLES_KEPT = 15
_RECENT = 4
"""Judged shots looked at for a change that stays: outside limits on three of the last four is no single odd shot."""


def _individuals(baseline: int, least: float) -> Chart:
    return Individuals(baseline=baseline, estimate="sd", width=None, least=least)


def _moving_range(baseline: int, least: float) -> Chart:
    return MovingRange(baseline=baseline, width=None, least=2.0 * least)


_RUN: dict[str, Callable[[int, float], Chart]] = {Individuals.kind: _individuals, MovingRange.kind: _moving_range}
"""The charts run on each channel of each insert, with limits from its own baseline."""


def judged_half(shot: LoggedShot, since: Mapping[str, int]) -> str | None:
    """Return the half whose insert is judged: the reused one changed last; moving before core before fixed on a tie.

    A single-use half is judged only where no reused one is mounted. `since` is the shot each half's insert came in at.
    """
    order = ("fixed", "core", "moving")
    reused = [half for half in order if half in shot.halves and not shot.halves[half].single_use]
    candidates = reused or [half for half in order if half in shot.halves]
    return max(candidates, key=lambda half: (since.get(half, 0), order.index(half)), default=None)


class Evaluator:
    """Judges the shots of one press, in order.

    Parameters
    ----------
    press
        Its name.
    designs
        What is known of insert designs, by name; others get the defaults of `DesignSettings`.
    """

    def __init__(self, press: str, designs: Mapping[str, DesignSettings]) -> None:
        self.press = press
        self._designs = designs
        self._serials: dict[str, str] = {}
        self._since: dict[str, int] = {}
        self._start_shot: int | None = None
        self._last: tuple[int, float] | None = None
        self._cycles: deque[float] = deque(maxlen=_CYCLES_KEPT)
        self._insert = ""
        self._unsettled = 0
        self._begin("")

    def step(self, shot: LoggedShot) -> list[Judged]:
        """Judge the next shot; returns baselines frozen at it, its signals, and last its verdict."""
        self._note_halves(shot)
        self._note_stops(shot)
        settling = self._unsettled > 0
        found: list[Judged] = []
        signals: list[Signal] = []
        if settling:
            self._unsettled -= 1
        else:
            for channel in ALWAYS_CHARTED:
                if channel in shot.values:
                    found.extend(self._chart(shot, channel, signals))
            self._recent.append(sorted({signal.name for signal in signals}))
        verdict = self._verdict(shot, settling, signals)
        return [*found, *signals, verdict]

    def _note_halves(self, shot: LoggedShot) -> None:
        """See swaps: a reused half with another serial than before starts a new baseline."""
        serials = {half: piece.serial for half, piece in shot.halves.items() if not piece.single_use}
        for half, piece in shot.halves.items():
            changed_here = not piece.single_use and self._serials.get(half) != piece.serial
            if half not in self._since or changed_here:
                self._since[half] = shot.shot
        for half in list(self._since):
            if half not in shot.halves:
                del self._since[half]
        if serials != self._serials or self._start_shot is None:
            self._serials, self._start_shot = serials, shot.shot
            judged = shot.halves.get(judged_half(shot, self._since) or "")
            self._insert = judged.serial if judged else ""
            self._begin(judged.design if judged else "")

    def _note_stops(self, shot: LoggedShot) -> None:
        """See pauses by the time between shots, and what a person noted."""
        now = shot.time.timestamp()
        if self._last is not None:
            cycle = (now - self._last[1]) / max(1, shot.shot - self._last[0])
            if len(self._cycles) >= 3 and cycle > _PAUSE_FACTOR * median(self._cycles):
                self._settle_again()
            else:
                self._cycles.append(cycle)
        self._last = (shot.shot, now)
        for kind, _ in shot.events:
            if kind == "setup":
                self._begin(self._design.name)
            elif kind in ("pause", "purge"):
                self._settle_again()

    def _settle_again(self) -> None:
        self._unsettled = max(self._unsettled, (self._design.settling_shots + 1) // 2)

    def _begin(self, design: str) -> None:
        """Start a new baseline: settling shots first, then the insert's own level."""
        self._design = self._designs.get(design, DesignSettings(name=design))
        self._unsettled = self._design.settling_shots
        self._first_used: dict[str, int] = {}
        self._charts = {channel: self._new_charts(channel) for channel in ALWAYS_CHARTED}
        self._recent: deque[list[str]] = deque(maxlen=_RECENT)
        self._call = "keep"
        self._episode: int | None = None

    def _new_charts(self, channel: str) -> dict[str, Chart]:
        least = self._design.least_change.get(channel, CHANNELS[channel].least_change)
        return {kind: build(self._design.baseline_shots, least) for kind, build in _RUN.items()}

    def _chart(self, shot: LoggedShot, channel: str, signals: list[Signal]) -> Iterator[Baseline]:
        self._first_used.setdefault(channel, shot.shot)
        value = shot.values[channel]
        for kind, chart in self._charts[channel].items():
            learning = not chart.ready
            point = chart.update(value)
            if learning and isinstance(chart, Individuals) and chart.limits is not None:
                centre, lower, upper, sigma, n = chart.limits
                first = self._first_used[channel]
                yield Baseline(self.press, self._insert, channel, first, shot.shot, n, centre, sigma, lower, upper)
            signals.extend(
                Signal(self.press, shot.shot, kind, channel, rule, point.value, point.centre, point.lower, point.upper)
                for rule in point.rules
            )

    def _verdict(self, shot: LoggedShot, settling: bool, signals: list[Signal]) -> Verdict:
        if signals and self._episode is None:
            self._episode = shot.shot
        lasting = self._lasting()
        if lasting:
            self._call = "swap"
        elif self._call != "swap":
            self._call = "watch" if any(self._recent) else "keep"
            if self._call == "keep":
                self._episode = None
        start = shot.shot if self._start_shot is None else self._start_shot
        return Verdict(
            press=self.press,
            shot=shot.shot,
            insert=self._insert,
            shots_on_insert=shot.shot - start + 1,
            settling=settling,
            verdict=self._call,
            sentence=self._sentence(shot, settling, signals),
            signals=tuple(signal.name for signal in signals),
            onset=self._episode,
        )

    def _lasting(self) -> list[str]:
        counts: dict[str, int] = {}
        for names in self._recent:
            for name in names:
                counts[name] = counts.get(name, 0) + 1
        return [name for name, n in counts.items() if n >= _RECENT - 1]

    def _sentence(self, shot: LoggedShot, settling: bool, signals: list[Signal]) -> str:
        name = self._insert or "this insert"
        if self._call == "swap":
            return (
                f"The values of {name} left their limits at shot {self._episode} and stayed out: "
                f"look at both halves, and hold the parts since shot {self._episode}."
            )
        if settling:
            return f"Settling: {self._unsettled} more shots before {name} is judged again."
        if signals:
            worst = signals[0]
            channel = CHANNELS[worst.channel]
            return (
                f"{channel.label} {worst.value:.{channel.decimals}f} {channel.unit} is {worst.rule} its limits "
                f"({worst.lower:.{channel.decimals}f} to {worst.upper:.{channel.decimals}f}): look at the last part."
            )
        if self._call == "watch":
            return f"Back inside the limits since shot {self._episode}; see whether it stays."
        learning = [channel for channel in ALWAYS_CHARTED if not self._charts[channel][Individuals.kind].ready]
        if learning:
            names = ", ".join(CHANNELS[channel].label.lower() for channel in learning)
            return f"Learning the level of {name} on {names}."
        return f"No change seen in these values since shot {min(self._first_used.values(), default=shot.shot)}."

    def save(self) -> list[Any]:
        """Return the whole state, ready for JSON."""
        return [
            self._serials, self._since, self._insert, self._start_shot, self._last, list(self._cycles),
            self._design.name, self._unsettled, self._first_used,
            {name: {kind: chart.save() for kind, chart in charts.items()} for name, charts in self._charts.items()},
            list(self._recent), self._call, self._episode,
        ]  # fmt: skip

    def restore(self, state: list[Any]) -> None:
        """Take up a state that `save` gave, of an evaluator built with the same parameters."""
        (serials, since, insert, start, last, cycles, design, unsettled, used, charts, recent, call, episode) = state
        self._begin(design)
        self._serials, self._since, self._insert = dict(serials), dict(since), insert
        self._start_shot, self._last = start, None if last is None else (last[0], last[1])
        self._cycles.extend(cycles)
        self._unsettled, self._first_used = unsettled, dict(used)
        for channel, kinds in charts.items():
            for kind, saved in kinds.items():
                self._charts[channel][kind].restore(saved)
        self._recent.extend(recent)
        self._call, self._episode = call, episode
