"""A picture of a scenario: the strips of each press over its shots, with what was true and what the operator logged."""

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from shotlog.channels import CHANNELS
from simulators.machine import ScenarioError
from simulators.operator import acts
from simulators.press import PressRun
from simulators.recording import truth
from simulators.story import Scenario

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["draw"]

_STRIPS = ("cushion", "peak_pressure", "fill_time", "recovery_time", "insert_temperature", "part_weight")


def draw(scenario: Scenario, made: list[PressRun], path: Path) -> None:
    """Draw the runs into a PNG file: a column for each press, a strip for each channel.

    Shaded: a cause acts; solid line: a swap; dotted line: a note of the operator.

    Raises
    ------
    ScenarioError
        The plotting library is not installed.
    """
    try:
        from matplotlib.figure import Figure
    except ImportError as error:
        raise ScenarioError(
            '--png: matplotlib not installed here, allowed after: pip install "shotlog[pictures]"'
        ) from error

    figure = Figure(figsize=(7.0 * len(made), 11.0), layout="constrained")
    axes = figure.subplots(len(_STRIPS), len(made), squeeze=False, sharex="col")
    figure.suptitle(f"{scenario.name}: {scenario.title}", fontsize=10, wrap=True)
    for column, run in enumerate(made):
        for row, name in enumerate(_STRIPS):
            _strip(axes[row][column], run, name)
            _mark(axes[row][column], run)
        causes = "; ".join(f"{row[1]} from {row[5]}" for row in truth(run)[:6])
        axes[0][column].set_title(f"{run.press.name}   {causes or 'nothing is wrong'}", fontsize=8, wrap=True)
        axes[-1][column].set_xlabel("shot", fontsize=8)
    figure.savefig(path, dpi=110, metadata={"Software": None})


def _strip(place: "Axes", run: PressRun, name: str) -> None:
    """One channel; the half per cent at each end may lie outside, so that a flyer does not flatten the rest."""
    values = run.channels[name]
    low, high = np.quantile(values, [0.005, 0.995])
    margin = 0.15 * float(high - low) or 1.0
    place.plot(run.line.shot + run.press.first_count, values, ".", markersize=2.5, color="#1f3b57")
    place.set_ylim(low - margin, high + margin)
    place.set_ylabel(f"{CHANNELS[name].label}\n{CHANNELS[name].unit}", fontsize=8)
    place.tick_params(labelsize=7)


def _mark(place: "Axes", run: PressRun) -> None:
    for row in truth(run):
        place.axvspan(int(str(row[5])) - 0.5, int(str(row[6])) + 0.5, color="#c8702a", alpha=0.12, linewidth=0)
    for _, act in acts(run.press, len(run)):
        at_shot = int(str(act["at_shot"])) + run.press.first_count
        if act["do"] == "mount" and not act["single_use"]:
            place.axvline(at_shot - 0.5, color="black", linewidth=0.6)
        elif act["do"] == "note":
            place.axvline(at_shot - 0.5, color="black", linewidth=0.6, linestyle=":")
