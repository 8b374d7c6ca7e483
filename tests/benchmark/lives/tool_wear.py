"""The open tool-wear records as insert lives: 13 turning tools and 3 milling cutters, each worn out in one go.

Forces and a vibration stand in for three channels of a press; what is asked is only whether and when a change is
called, for the causes are those of moulds. Nothing is steady here but the plateau of the milling cutters: a turning
tool wears from its first second.
Sources: Vicomtech, dataset-machine-tool-wear (CC BY-SA 4.0); Katulu GmbH, uniwear dataset (CC BY 4.0); see the READMEs
beside the data.
"""

import csv
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.monitor import Monitor
from tests.benchmark.lives.real_trials import SHARED, raised

TURNING = SHARED / "datasets" / "turning_wear_13_tools" / "data.csv"
MILLING = SHARED / "datasets" / "milling_wear_3_cutters" / "data.csv"

F = NDArray[np.float64]
START = datetime(2024, 1, 1, 6, 0, tzinfo=UTC)
LEVEL = {"peak_pressure": 540.0, "cushion": 5.0, "fill_time": 0.72}
SPREAD = {"peak_pressure": 4.2, "cushion": 0.055, "fill_time": 0.005}
PLATEAU = slice(20, 70)
"""Blocks of a milling cutter after it has run in, by the README of the data."""


@dataclass(frozen=True)
class Tool:
    """One tool: channels over shots, and its flank wear (um turning, mm milling) at each."""

    name: str
    channels: dict[str, F]
    wear: F


@dataclass(frozen=True)
class Judged:
    """A tool and the calls made of it."""

    tool: Tool
    calls: tuple[Verdict, ...]

    @property
    def at(self) -> int | None:
        """Shot of the tool at which the first call came."""
        return self.calls[0].shots_on_insert if self.calls else None


def _by_tool(path: str, key: str) -> dict[str, list[dict[str, str]]]:
    out: dict[str, list[dict[str, str]]] = {}
    for row in csv.DictReader(path.splitlines()):
        out.setdefault(row[key], []).append(row)
    return out


def turning() -> list[Tool]:
    """Forces in shares of their level over the first five seconds, on the level of a moulding channel."""
    columns = {"peak_pressure": "radial_force_mean", "cushion": "feed_force_mean", "fill_time": "cutting_force_mean"}
    out = []
    for name, rows in _by_tool(TURNING.read_text("utf-8"), "tool").items():
        made = {}
        for ours, theirs in columns.items():
            x = np.array([float(row[theirs]) for row in rows])
            made[ours] = LEVEL[ours] * x / x[:5].mean()
        out.append(Tool(name, made, np.array([float(row["flank_wear_um"]) for row in rows])))
    return out


TURNING_SETTINGS = DesignSettings("tool", least_change={name: 0.05 * level for name, level in LEVEL.items()})
"""A change of 5 % of a force matters."""


def milling() -> list[Tool]:
    """Force and vibration in spreads of the plateau, on level and spread of a moulding channel."""
    columns = {"peak_pressure": "force_z_max", "cushion": "force_z_mean", "fill_time": "vibration_x_max"}
    out = []
    for name, rows in _by_tool(MILLING.read_text("utf-8"), "cutter").items():
        made = {}
        for ours, theirs in columns.items():
            x = np.array([float(row[theirs]) for row in rows])
            made[ours] = LEVEL[ours] + SPREAD[ours] * (x - x[PLATEAU].mean()) / x[PLATEAU].std()
        out.append(Tool(name, made, np.array([float(row["flank_wear_mm"]) for row in rows])))
    return out


def judge(tools: list[Tool], settings: DesignSettings, together: bool, start: int = 0) -> list[Judged]:
    """Judge each tool from its shot `start` on as one insert, with the tools before it as sisters or alone."""
    out, monitor, first = [], Monitor("lathe", {"tool": settings}), 0
    for k, tool in enumerate(tools):
        if not together:
            monitor = Monitor("lathe", {"tool": settings})
        held = {"moving": InForce(f"T-{k + 1}", "tool")}
        verdicts = []
        for i in range(start, len(tool.wear)):
            first += 1
            values = {name: round(float(x[i]), 4) for name, x in tool.channels.items()}
            verdicts.append(monitor.step(LoggedShot("lathe", first, START + timedelta(minutes=first), values, held)))
        out.append(Judged(tool, raised(verdicts)))
    return out


def order(rows: list[Judged], risen: float = 1.2) -> float:
    """Rank correlation over tools of the first call with the shot at which the second channel has `risen` so far."""
    rose = [
        int(np.argmax(one.tool.channels["cushion"] > risen * one.tool.channels["cushion"][:5].mean())) for one in rows
    ]
    at = [len(one.tool.wear) if one.at is None else one.at for one in rows]
    ranks = [np.argsort(np.argsort(values)) for values in (rose, at)]
    return float(np.corrcoef(*ranks)[0, 1])
