"""A press with its mould: level, spread, noise, warm-up and differences between sister inserts, all drawn.

Sizes are those of the trade notes for small presses: peak 200-800 bar with a spread of 0.5-1.5 %; cushion 3-7 mm with
0.03-0.10 mm; fill time 0.3-2 s with 3-10 ms; recovery 2 %; weight 5-15 g with 0.08-0.25 %. A fresh insert starts with
pressure 3-8 % high, cushion 0.1-0.3 mm high, weight 0.5-1.5 % low, and 20-35 K cold.

Two physical links: peak and switchover pressure come from one transducer, cushion and switchover position from one
position sensor, so the reading noise of each pair is shared, and so is whatever ails the sensor.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from tests.benchmark.examiner.noise import Source, covariance_of, series
from tests.benchmark.examiner.warmup import WarmUp, draw_warm_up

__all__ = ["SEVEN", "THREE", "Press", "draw_press"]

THREE = ("cushion", "peak_pressure", "fill_time")
SEVEN = (*THREE, "switchover_pressure", "switchover_position", "recovery_time")
"""What every press with seven channels has; one of `_FURTHER` comes to it."""

_FURTHER = ("cycle_time", "part_weight", "melt_temperature", "insert_temperature", "clamp_force")

_SLOWER = 0.08
"""Spread of an insert's warm-up time about that of its sisters, relative."""


_ANY_LEVEL, _ANY_WARM_UP = 20.0, 1.0
"""How wide level, in sigma, and warm-up, relative, are where no insert of the design was seen."""


@dataclass(frozen=True, slots=True)
class Press:
    """One press and mould, as known to whoever built it. Arrays have shape (n_channels,) in each channel's unit.

    `level`: settled mean. `spread`: shot-to-shot standard deviation. `resolution`: step the press rounds to.
    `sisters`: shape (n_factors, n_channels), how inserts of the design differ, each row a standard deviation. `cold`:
    what shot 1 reads above the settled level; `cold_spread`: its relative spread between inserts. `area_mm2`: of the
    screw. `g_per_mm`: melt per mm of screw. `cycle_s`: mean cycle. `bar_per_k`, `mm_per_k`: rise for a colder insert.
    """

    channels: tuple[str, ...]
    level: NDArray[np.float64]
    spread: NDArray[np.float64]
    resolution: NDArray[np.float64]
    sources: tuple[Source, ...]
    sisters: NDArray[np.float64]
    warm_up: WarmUp
    cold: NDArray[np.float64]
    cold_spread: float
    area_mm2: float
    g_per_mm: float
    cycle_s: float
    bar_per_k: float
    mm_per_k: float

    @property
    def tails(self) -> str:
        """The tails of its noise, those that are not normal first."""
        kinds = {source.tails for source in self.sources if source.course == "short"}
        return next(kind for kind in ("t4", "skewed", "gauss") if kind in kinds)

    def at(self, channel: str) -> int | None:
        """Return the place of a channel, None where this press does not report it."""
        return self.channels.index(channel) if channel in self.channels else None

    def mean_of(self, channel: str) -> float:
        """Return the settled level of a channel."""
        return float(self.level[self.channels.index(channel)])

    def vector(self, effect: dict[str, float]) -> NDArray[np.float64]:
        """Return an effect given by channel as shape (n_channels,); what is not reported is left out."""
        return np.array([effect.get(channel, 0.0) for channel in self.channels])

    def strange(self) -> "Press":
        """Return the press as known to one who has seen no insert of the design: level and warm-up may be anything."""
        return replace(self, sisters=np.diag(_ANY_LEVEL * self.spread), cold_spread=_ANY_WARM_UP)

    def mean_life(self, n_shots: int) -> NDArray[np.float64]:
        """Return what an average insert reads without noise, shape (n_shots, n_channels)."""
        return self.level + self.warm_up.curve(n_shots)[:, None] * self.cold

    def insert(self, n_shots: int, rng: np.random.Generator) -> NDArray[np.float64]:
        """Return what one insert drawn from its sisters reads without noise, shape (n_shots, n_channels)."""
        own = rng.standard_normal(len(self.sisters)) @ self.sisters
        amplitude = 1.0 + self.cold_spread * rng.standard_normal()
        curve = self.warm_up.curve(n_shots, float(np.exp(_SLOWER * rng.standard_normal())))
        return np.asarray(self.level + own + amplitude * curve[:, None] * self.cold)

    def noise(self, n_shots: int, rng: np.random.Generator) -> NDArray[np.float64]:
        """Return noise and wander, shape (n_shots, n_channels)."""
        drawn = [series(source, n_shots, rng)[:, None] * source.load for source in self.sources]
        return np.asarray(np.sum(drawn, axis=0))

    def life(self, n_shots: int, rng: np.random.Generator) -> NDArray[np.float64]:
        """Return the shots of one healthy insert before rounding, shape (n_shots, n_channels)."""
        return self.insert(n_shots, rng) + self.noise(n_shots, rng)

    def rounded(self, values: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return values as the press shows them."""
        return np.asarray(np.round(values / self.resolution) * self.resolution)

    def covariance(self, n_shots: int) -> NDArray[np.float64]:
        """Return that of a healthy life about `mean_life`, shape (n_shots * n_channels,) twice, shots outermost."""
        curve = self.warm_up.curve(n_shots)
        slower = (self.warm_up.curve(n_shots, 1.0 + _SLOWER) - self.warm_up.curve(n_shots, 1.0 - _SLOWER)) / 2.0
        warm = self.cold_spread**2 * np.outer(curve, curve) + np.outer(slower, slower)
        total = np.kron(warm, np.outer(self.cold, self.cold))
        total += np.kron(np.ones((n_shots, n_shots)), self.sisters.T @ self.sisters)
        for source in self.sources:
            total += np.kron(covariance_of(source, n_shots), np.outer(source.load, source.load))
        # rounding errs anew each shot where noise is wider than a step, and alike all life long where it is not
        rounding = np.diag(self.resolution**2 / 12.0)
        return np.asarray(total + np.kron(np.eye(n_shots) + np.ones((n_shots, n_shots)), rounding))


_STEPS: dict[str, tuple[float, ...]] = {
    "cushion": (0.01, 0.01, 0.02),
    "peak_pressure": (0.1, 1.0, 2.0),
    "fill_time": (0.001, 0.001, 0.005),
    "switchover_pressure": (0.1, 1.0, 2.0),
    "switchover_position": (0.01, 0.01, 0.02),
    "recovery_time": (0.01, 0.01, 0.05),
    "cycle_time": (0.1,),
    "part_weight": (0.001, 0.005),
    "melt_temperature": (0.1, 0.5),
    "insert_temperature": (0.1, 0.5),
    "clamp_force": (0.1, 0.5),
}
"""The steps in which presses round, in each channel's unit (a press of few digits shows 0.01 mm and whole bar)."""


def _channels_of(n: int, rng: np.random.Generator, must: Sequence[str]) -> tuple[str, ...]:
    if n == 3:
        return THREE
    free = [channel for channel in _FURTHER if channel not in must]
    chosen = [*must, *rng.permutation(free)[: n - len(SEVEN) - len(must)]]
    return tuple(channel for channel in CHANNELS if channel in SEVEN or channel in chosen)


def draw_press(
    rng: np.random.Generator,
    n_channels: int = 7,
    *,
    must: Sequence[str] = (),
    tails: str = "",
    heater: bool = False,
    warm_up: str = "",
) -> Press:
    """Draw a press of 3 or 7 channels.

    `must`: further channels it has to have. `tails`: those of every source, where given. `heater`: one slow cycle of
    half to one sigma that all channels share. `warm_up`: kind of curve, where given.
    """
    channels = _channels_of(n_channels, rng, must)
    area = float(np.pi / 4.0 * rng.choice((14, 16, 18, 20, 22, 25, 28, 30)) ** 2)
    g_per_mm = area * rng.uniform(0.75, 1.45) / 1000.0
    pressure, weight = rng.uniform(250.0, 750.0), rng.uniform(5.0, 15.0)
    mean = {
        "cushion": rng.uniform(3.0, 7.0),
        "switchover_pressure": pressure,
        "peak_pressure": pressure + rng.uniform(8.0, 40.0),
        "fill_time": rng.uniform(0.3, 2.0),
        "switchover_position": rng.uniform(7.0, 12.0),
        "recovery_time": rng.uniform(3.0, 8.0),
        "cycle_time": rng.uniform(50.0, 110.0),
        "part_weight": weight,
        "melt_temperature": rng.uniform(200.0, 380.0),
        "insert_temperature": rng.uniform(50.0, 90.0),
        "clamp_force": rng.uniform(50.0, 200.0),
    }
    spread = {
        "cushion": rng.uniform(0.03, 0.10),
        "switchover_pressure": pressure * rng.uniform(0.005, 0.015),
        "fill_time": rng.uniform(0.003, 0.010),
        "switchover_position": rng.uniform(0.012, 0.03),
        "recovery_time": mean["recovery_time"] * rng.uniform(0.012, 0.03),
        "cycle_time": rng.uniform(0.5, 2.5),
        "part_weight": weight * rng.uniform(0.0008, 0.0025),
        "melt_temperature": rng.uniform(0.3, 0.8),
        "insert_temperature": rng.uniform(0.5, 1.5),
        "clamp_force": rng.uniform(0.2, 0.6),
    }
    spread["peak_pressure"] = spread["switchover_pressure"] * rng.uniform(1.0, 1.25)
    sources = _sources(channels, spread, rng, tails, heater)
    high = pressure * rng.uniform(0.02, 0.08)
    cold = {
        "cushion": rng.uniform(0.05, 0.3),
        "switchover_pressure": high,
        "peak_pressure": high * rng.uniform(0.9, 1.1),
        "fill_time": rng.choice((0.0, 1.0)) * spread["fill_time"] * rng.normal(),
        "part_weight": -weight * rng.uniform(0.005, 0.015),
        "insert_temperature": -rng.uniform(20.0, 35.0),
        "melt_temperature": rng.choice((0.0, 1.0)) * rng.uniform(-2.0, 2.0),
    }
    press = Press(
        channels=channels,
        level=np.array([mean[channel] for channel in channels]),
        spread=np.array([spread[channel] for channel in channels]),
        resolution=np.array([rng.choice(_STEPS[channel]) for channel in channels]),
        sources=sources,
        sisters=np.empty((0, len(channels))),
        warm_up=draw_warm_up(rng, warm_up),
        cold=np.zeros(len(channels)),
        cold_spread=rng.uniform(0.05, 0.2),
        area_mm2=area,
        g_per_mm=g_per_mm,
        cycle_s=mean["cycle_time"],
        bar_per_k=pressure * rng.uniform(0.0012, 0.003),
        mm_per_k=rng.uniform(0.002, 0.008),
    )
    return replace(press, cold=press.vector(cold), sisters=_sisters(press, spread, rng))


def _sources(
    channels: tuple[str, ...], spread: dict[str, float], rng: np.random.Generator, tails: str, heater: bool
) -> tuple[Source, ...]:
    """Draw what makes the shot-to-shot spread: each channel's variance is shared out among the sources it has."""
    bar, peak, mm, position = (
        spread[name] for name in ("switchover_pressure", "peak_pressure", "cushion", "switchover_position")
    )
    common, shared = rng.uniform(0.1, 0.7), rng.uniform(0.2, 0.6)
    # a heavy common factor moves everything that melt moves; seen in one press in five
    heavy = rng.uniform(0.4, 0.8) if rng.random() < 0.2 else 0.0
    follows = rng.choice((-1.0, 1.0))
    own = np.sqrt(1.0 - common**2)
    drawn: list[tuple[dict[str, float], float, str]] = [
        (
            {
                "switchover_pressure": common * bar,
                "peak_pressure": common * bar,
                "recovery_time": follows * rng.uniform(0.0, 0.5) * spread["recovery_time"],
                "cushion": rng.uniform(0.0, 0.2) * mm + heavy * 0.4 * mm,
                "fill_time": heavy * 0.6 * spread["fill_time"],
                "part_weight": -heavy * 0.3 * spread["part_weight"],
            },
            rng.uniform(0.0, 0.5),
            "",
        ),
        ({"switchover_pressure": own * bar, "peak_pressure": own * bar}, rng.uniform(-0.4, 0.5), ""),
        ({"peak_pressure": np.sqrt(max(peak**2 - bar**2, (0.15 * peak) ** 2))}, 0.0, ""),
        ({"cushion": 0.75 * mm, "part_weight": -0.6 * spread["part_weight"]}, rng.uniform(-0.4, 0.4), "skewed low"),
        ({"cushion": shared * mm, "switchover_position": min(shared * mm, 0.7 * position)}, 0.0, ""),
        ({"switchover_position": 0.75 * position}, rng.uniform(-0.3, 0.3), ""),
        ({"fill_time": (0.8 if heavy else 1.0) * spread["fill_time"]}, rng.uniform(-0.3, 0.4), "skewed high"),
        ({"recovery_time": 0.9 * spread["recovery_time"]}, rng.uniform(-0.4, 0.4), ""),
        ({"cycle_time": spread["cycle_time"]}, rng.uniform(-0.2, 0.3), "skewed high"),
        ({"part_weight": 0.75 * spread["part_weight"]}, rng.uniform(-0.2, 0.2), ""),
        ({"melt_temperature": spread["melt_temperature"]}, rng.uniform(0.3, 0.8), ""),
        ({"insert_temperature": spread["insert_temperature"]}, rng.uniform(0.0, 0.5), ""),
        ({"clamp_force": spread["clamp_force"]}, rng.uniform(-0.2, 0.4), ""),
    ]
    usual = tails or str(rng.choice(("gauss", "gauss", "gauss", "skewed", "t4")))
    sources = []
    for loads, phi, lean in drawn:
        load = np.array([loads.get(channel, 0.0) for channel in channels])
        if not load.any():
            continue
        kind = tails or usual
        if kind == "skewed":
            kind, load = ("skewed", -load if lean.endswith("low") else load) if lean else ("gauss", load)
        sources.append(Source(load, "short", phi, kind))
    sources += _wander(channels, spread, rng, heater)
    return tuple(sources)


def _wander(
    channels: tuple[str, ...], spread: dict[str, float], rng: np.random.Generator, heater: bool
) -> list[Source]:
    """Draw the slow part: melt that wanders on every press, a walk on one in three, a heater cycle where wanted."""
    scale = np.array([spread[channel] for channel in channels])
    melt = {
        "switchover_pressure": 1.0,
        "peak_pressure": 1.0,
        "cushion": rng.uniform(0.0, 0.3),
        "recovery_time": rng.uniform(-0.5, 0.5),
        "part_weight": -rng.uniform(0.0, 0.3),
    }
    along = np.array([melt.get(channel, 0.0) for channel in channels])
    out = [Source(rng.uniform(0.0, 0.5) * along * scale, "short", 0.9)]
    if rng.random() < 1.0 / 3.0:
        out.append(Source(rng.uniform(0.0, 0.025) * along * scale, "walk"))
    if heater:
        out.append(Source(rng.uniform(0.5, 1.0, len(channels)) * rng.choice((-1, 1), len(channels)) * scale, "heater"))
    return out


def _sisters(press: Press, spread: dict[str, float], rng: np.random.Generator) -> NDArray[np.float64]:
    """Draw how inserts differ: gate (pressures together), volume (cushion against weight), and each channel alone."""
    wide = rng.uniform(0.3, 2.0)
    gate = wide * spread["switchover_pressure"]
    volume = rng.uniform(0.3, 1.5) * spread["cushion"]
    rows = [
        press.vector({"switchover_pressure": gate, "peak_pressure": gate, "cushion": 0.2 * spread["cushion"]}),
        press.vector({"cushion": volume, "part_weight": -0.95 * press.g_per_mm * volume}),
    ]
    alone = rng.uniform(0.05, 0.3) * press.spread
    return np.vstack([*rows, np.diag(alone)])
