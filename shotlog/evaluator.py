"""One shot in; baselines, signals and a verdict out: the only way a shot is ever judged, live, replayed or restarted.

Two things look at each shot. The charts are for people and for the record: individuals and moving range of each main
channel about the insert's own level, with limits that few sound lives leave. The monitor (`wear`) makes the call:
whether something has changed, what, and since when. The evaluator owns all state of a press and keeps it bounded;
`save` and `restore` carry it over a restart to the last bit. It does no I/O and reads no clock.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.charts.joint import MOST_SISTERS, Reached
from shotlog.charts.life_charts import ChannelCharts, LifeCharts
from shotlog.entries import KINDS
from shotlog.records import Judged, LoggedShot
from shotlog.settings import DesignSettings
from shotlog.wear.life.lifetimes import EndedLife
from shotlog.wear.monitor import Monitor
from shotlog.wear.plain import from_plain, to_plain
from shotlog.wear.replacing import replaced
from shotlog.wear.verdict.evidence import Evidence

__all__ = ["Evaluator"]


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
        self._sisters: dict[str, list[dict[str, Reached]]] = {}
        self._sound = False
        self._charts = self._begin("", "")
        self._unsettled = 0

    def step(self, shot: LoggedShot) -> list[Judged]:
        """Judge the next shot; returns baselines frozen at it, its signals, and last its verdict."""
        verdict = self._monitor.step(shot)
        effects = [KINDS[kind].effect for kind, _ in shot.events]
        no_part = any(effect.no_part for effect in effects)
        new_setup = any(effect.new_baseline for effect in effects)
        newest, made = self._monitor.newest
        if made == 1 or newest.serial != self._insert or new_setup:
            self._end()
            if any(effect.new_scale for effect in effects):
                self._sisters = {}
            self._charts = self._begin(newest.serial, _design_of(shot, newest.serial))
        elif self._monitor.waited:
            self._unsettled = max(self._unsettled, (self._design.settling_shots + 1) // 2)
            self._charts.rest()
        self._sound = verdict.verdict == "keep" and not verdict.cause and not self._monitor.moved
        if self._unsettled > 0:
            self._unsettled -= not no_part
            self._charts.rest()
            return [verdict if verdict.cause else replaced(verdict, settling=True)]
        if no_part:
            self._charts.rest()
            return [verdict]
        baselines, signals = self._charts.take(shot.shot, shot.values)
        if signals:
            verdict = replaced(verdict, signals=tuple(signal.name for signal in signals))
        return [*baselines, *signals, verdict]

    @property
    def lives(self) -> Mapping[str, Sequence[EndedLife]]:
        """The lives that ended on this press, by design, oldest first, as far as they are kept."""
        return self._monitor.lives

    @property
    def n_ended(self) -> int:
        """A number that goes up whenever one of `lives` ends, or is known otherwise than before."""
        return self._monitor.n_ended

    def evidence(self) -> Evidence:
        """Return the evidence behind the last verdict.

        Raises
        ------
        NotEnoughShots
            There is no verdict, or no baseline, yet.
        """
        return self._monitor.evidence()

    def _begin(self, insert: str, design: str) -> LifeCharts:
        """Return the charts of an insert that begins: settling shots first, then its own level."""
        self._insert = insert
        self._design = known = self._designs.get(design, DesignSettings(name=design))
        self._unsettled = known.settling_shots
        return LifeCharts(
            self.press,
            insert,
            baseline=known.baseline_shots,
            settling=known.settling_shots,
            least={one: known.least_change.get(one, CHANNELS[one].least_change) for one in ALWAYS_CHARTED},
            plain=known.chart_limits == "3-sigma",
            sisters=self._sisters.get(design, ()),
        )

    def _end(self) -> None:
        """Keep how far a life's readings went for its sisters' limits, if nothing stood against it at its end.

        Not of one in which a new lot was taken as the level: its readings went as far as the lot, about the old one.
        """
        if self._sound and (reached := self._charts.reached()):
            kept = self._sisters.get(self._design.name, [])
            self._sisters[self._design.name] = [*kept, reached][-MOST_SISTERS:]

    def save(self) -> list[Any]:
        """Return the whole state, ready for JSON."""
        charts, sisters = to_plain(self._charts.channels), to_plain(self._sisters)
        return [
            self._monitor.save(), self._insert, self._design.name, self._unsettled, self._sound, charts, sisters,
        ]  # fmt: skip

    def restore(self, state: list[Any]) -> None:
        """Take up a state that `save` gave, of an evaluator built with the same parameters."""
        monitor, insert, design, unsettled, sound, charts, sisters = state
        self._sisters = from_plain(dict[str, list[dict[str, Reached]]], sisters)
        self._charts = self._begin(insert, design)
        self._monitor.restore(monitor)
        self._unsettled, self._sound = unsettled, sound
        self._charts.channels = from_plain(dict[str, ChannelCharts], charts)


def _design_of(shot: LoggedShot, serial: str) -> str:
    return next((piece.design for piece in shot.halves.values() if piece.serial == serial), "")
