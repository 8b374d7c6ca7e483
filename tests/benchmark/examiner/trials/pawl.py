"""The latch pawl day (scenario.md, S1): two reused halves, a lot change, a pause, a break, flash and a check ring.

Equations, tables and order within a shot are the sheet's. Assumed where it says nothing: half A is the fixed half and B
the moving one; the weight is that of the whole shot and known with it; the press counts no pause into its cycle time;
zones show the set 285 degC of the last one; sister halves are alike, as the sheet's equations have no difference
between them; costs are those of the worked example in life.md. What flash and the broken blade weigh is 0.4823 g a mm
in full, which the checkpoints of shots 152, 168 and 282 need. No limits are given to the tool. What the operator
enters: the swaps, the lot where told, and the missing window that he notices at 168.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import exp

import numpy as np
from numpy.typing import NDArray

from shotlog.records import InForce, LoggedShot
from shotlog.settings import DesignSettings
from tests.benchmark.examiner.trials.trial import PRESS, Trial, autoregressive, shown

__all__ = ["N_SHOTS", "course", "day", "draw"]

N_SHOTS = 345
A, B = "pawl-simple", "pawl-complex"
DESIGNS = {
    A: DesignSettings(name=A, cost={"part": 2.1, "insert": 31.0, "changeover": 13.0, "late_find": 7.0}),
    B: DesignSettings(name=B, cost={"part": 2.1, "insert": 18.0, "changeover": 11.0, "late_find": 7.0}),
}
_G_PER_MM, _DOSE = 0.4823, 27.0
_BEGAN = datetime(2024, 4, 8, 5, 0, tzinfo=UTC)
_MADE_BY_A07 = 186


@dataclass(frozen=True, slots=True)
class _Planned:
    """One shot: its number on the day (0 and less before it), what is in the mould, and the stop before it.

    `age`: shots of half B up to this one; `younger`: of the half that came in last. `stop`: ``cold``, ``swap``,
    ``pause`` or nothing; `stood_min`: how long it took.
    """

    n: int
    fixed: str
    moving: str
    age: int
    younger: int
    stop: str = ""
    stood_min: float = 0.0


_MOVING = {1: "B-11", 93: "B-12", 169: "B-13", 263: "B-14", 325: "B-15"}
_STOPS = {1: ("cold", 0.0), 93: ("swap", 12.0), 141: ("pause", 34.0), 169: ("swap", 12.0), 263: ("swap", 12.0),
          283: ("swap", 14.0), 325: ("swap", 12.0)}  # fmt: skip


def day() -> list[_Planned]:
    """Return the 345 shots of the day as the sheet's time line has them."""
    planned, came, newest = [], 1, 1
    for n in range(1, N_SHOTS + 1):
        came = n if n in _MOVING else came
        newest = n if n in _MOVING or n == 283 else newest
        fixed = "A-07" if n < 283 else "A-08"
        planned.append(_Planned(n, fixed, _MOVING[came], n - came + 1, n - newest + 1, *_STOPS.get(n, ("", 0.0))))
    return planned


def _earlier(lives: Sequence[int]) -> Iterator[_Planned]:
    """Return the shots of sound B halves before the day, each on a day of its own; A-07 made the last 186 of them."""
    n, first_of_a07 = -sum(lives), 1 - _MADE_BY_A07
    for nth, made in enumerate(lives):
        serial, since_a07 = f"B-{11 - len(lives) + nth:02d}", None
        for age in range(1, made + 1):
            n += 1
            if n == first_of_a07:
                since_a07 = age
            stop = ("cold", 0.0) if age == 1 else ("swap", 14.0) if n == first_of_a07 else ("", 0.0)
            younger = age if since_a07 is None else age - since_a07 + 1
            yield _Planned(n, "A-07" if n >= first_of_a07 else "A-06", serial, age, younger, *stop)


def course(planned: Sequence[_Planned], melt: NDArray[np.float64]) -> list[dict[str, float]]:
    """Return what the equations give for each shot without noise; `melt` is the slow wander in degC, shape (n_shots,).

    Under ``ring``, the spread in mm of what the check ring loses.
    """
    out, insert, wait = [], 28.0, 0.0
    for one, m in zip(planned, melt, strict=True):
        if one.stop == "cold":
            insert, wait = 28.0, 0.0
        elif one.stop:
            insert = 30.0 if one.stop == "swap" else 28.0 + (insert - 28.0) * exp(-one.stood_min / 22.0)
            wait = 0.04 * (1.0 - exp(-one.stood_min / 15.0))
        insert += (64.0 - insert) * (1.0 - exp(-1.0 / 9.0))
        out.append(_shot(one, insert, wait, float(m)))
        wait *= 0.6
    return out


def _shot(one: _Planned, insert: float, wait: float, m: float) -> dict[str, float]:
    n = one.n
    lot = 0.09 * (1.0 - exp(-(n - 117) / 3.0)) if n >= 118 else 0.0
    worn = one.age - 58 if one.moving == "B-11" and one.age > 58 else 0
    broken = one.moving == "B-12" and one.age >= 60
    flash = 0.05 * (exp((n - 205) / 24.0) - 1.0) if one.fixed == "A-07" and n > 205 else 0.0
    visc = (1.0 + lot) * (1.0 - wait) * (1.0 - 0.007 * m)
    r = 0.60 + 0.0011 * worn
    gate = 182.0 * (0.60 / r) ** 2.05
    cold = 64.0 - insert
    seal = min(4.0, 3.2 * (r / 0.60) ** 2)
    bedding = 0.10 * exp(-(one.younger - 1) / 5.0)
    cushion = 4.94 + 0.006 * cold + bedding + 0.72 * lot - 0.43 * wait - 0.011 * m - 0.15 * (seal - 3.2)
    ring = max(0, n - 296)
    switchover = (338.0 + gate) * visc**0.9 + 1.1 * cold - 12.0 * broken - 22.0 * flash - 4.0 * min(1.0, ring / 30.0)
    return {
        "cushion": cushion - 0.455 * broken - flash,
        "peak_pressure": switchover + 22.0,
        "fill_time": 0.720,
        "switchover_pressure": switchover,
        "switchover_position": 9.00,
        "recovery_time": 4.60 - 1.2 * lot,
        "clamp_force": 80.0 - 0.4 * flash,
        "insert_temperature": insert,
        "melt_temperature": 285.0,
        "part_weight": 10.200 - 0.458 * (cushion - 4.94) + _G_PER_MM * (0.455 * broken + flash),
        "ring": min(0.45, 0.02 * ring),
    }


def _noisy(planned: Sequence[_Planned], rng: np.random.Generator) -> list[dict[str, float]]:
    """Return the shots with noise; `cycle_time` comes with it, for that is all its noise."""
    n = len(planned)
    means = course(planned, autoregressive(n, 0.9, 0.25, rng))
    pressure = autoregressive(n, 0.35, 3.6, rng)
    zone = autoregressive(n, 0.9, 0.5 * np.sqrt(1.0 - 0.9**2), rng)
    taken, read = rng.normal(0.0, 0.045, n), rng.normal(0.0, 0.03, n)
    white = {channel: rng.normal(0.0, sigma, n) for channel, sigma in _WHITE.items()}
    lossy, rough, flyer = rng.standard_normal(n), rng.standard_normal(n), rng.random(n)
    out = []
    for at, (one, mean) in enumerate(zip(planned, means, strict=True)):
        values = {channel: mean[channel] + white[channel][at] for channel in _WHITE if channel in mean}
        lost = abs(lossy[at]) * mean["ring"] + (1.0 if one.n >= 306 and flyer[at] < 0.06 else 0.0)
        moved = pressure[at] + (2.5 * rough[at] if mean["ring"] else 0.0)
        values["switchover_pressure"] = mean["switchover_pressure"] + moved
        values["peak_pressure"] += moved
        values["cushion"] = max(0.0, mean["cushion"] + taken[at] + read[at] - lost)
        values["part_weight"] += -0.55 * _G_PER_MM * taken[at] - 0.03 * lost
        values["melt_temperature"] = mean["melt_temperature"] + zone[at]
        values["cycle_time"] = 75.0 + abs(white["cycle_time"][at])
        out.append(values)
    return out


_WHITE = {
    "peak_pressure": 2.0,
    "fill_time": 0.004,
    "switchover_position": 0.02,
    "recovery_time": 0.09,
    "cycle_time": 1.2,
    "clamp_force": 0.25,
    "insert_temperature": 0.8,
    "part_weight": 0.009,
}
"""Spread of the noise that is each channel's own and white."""


def draw(rng: np.random.Generator, *, lot_noted: bool, sisters: int) -> Trial:
    """Draw the day. `lot_noted`: the operator enters the lot at 118. `sisters`: sound B halves that the log knows."""
    lives = [int(made) for made in rng.integers(60, 91, sisters)]
    planned = [*_earlier(lives), *day()]
    before, time = sum(lives), _BEGAN - timedelta(days=len(lives))
    shots: list[LoggedShot] = []
    for one, values in zip(planned, _noisy(planned, rng), strict=True):
        if one.stop == "cold":
            time = time.replace(hour=_BEGAN.hour, minute=_BEGAN.minute) + timedelta(days=bool(shots))
        time += timedelta(minutes=one.stood_min, seconds=round(values["cycle_time"], 1))
        halves = {"fixed": InForce(one.fixed, A), "moving": InForce(one.moving, B)}
        noted: tuple[tuple[str, str], ...] = (("lot", "L2"),) if lot_noted and one.n == 118 else ()
        noted = (("finding", "window missing, core blade broken off"),) if one.n == 168 else noted
        seen = shown(values, _G_PER_MM, _DOSE)
        shots.append(LoggedShot(PRESS, before + one.n, time, seen, halves, noted))
    return Trial(tuple(shots), DESIGNS, before)
