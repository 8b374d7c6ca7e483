"""The rinse manifold (scenario.md, S2): a reused simple half, a complex half that is new with every shot, in plates.

Tables and effects are the sheet's. Assumed where it says nothing: the simple half is the fixed one; pieces and press
add in quadrature to the spread within a plate, and channels go their own ways; the peak reads 2 bar wide beside the
switchover pressure, as in S1; a damp plate widens pressure, cushion and weight by its factor; the simple half cools in
the pause towards its 24 degC with S1's 22 min, and the melt does not mind; plates before the day are sound,
four of them a day, each day begun cold. No costs and no limits are given.
"""

from datetime import UTC, datetime, timedelta
from math import exp

import numpy as np

from shotlog.records import InForce, LoggedShot
from shotlog.settings import DesignSettings
from tests.benchmark.examiner.trials.trial import PRESS, Trial, shown

__all__ = ["N_SHOTS", "PLATE", "WITHIN", "draw", "moves", "simple_half_temperature"]

N_SHOTS, PLATE = 48, 12
SIMPLE, COMPLEX = "manifold-simple", "manifold-complex"
DESIGNS = {SIMPLE: DesignSettings(name=SIMPLE), COMPLEX: DesignSettings(name=COMPLEX)}
_G_PER_MM, _DOSE = 0.1961, 30.0
_BEGAN = datetime(2024, 5, 6, 6, 0, tzinfo=UTC)

_MEAN = {"fill_time": 1.20, "switchover_pressure": 300.0, "cushion": 5.89, "recovery_time": 6.4, "part_weight": 4.60}
WITHIN = {"fill_time": 0.006, "switchover_pressure": 9.0, "cushion": 0.09, "recovery_time": 0.12, "part_weight": 0.06}
BETWEEN = {"switchover_pressure": 6.0, "cushion": 0.05, "part_weight": 0.02}
"""Spread within a plate and between plates, by channel in its unit."""


def simple_half_temperature() -> list[float]:
    """Return the temperature of the simple half at each shot of the day, degC: warm-up, and a pause before shot 31."""
    out, now = [], 24.0
    for n in range(1, N_SHOTS + 1):
        if n == 31:
            now = 24.0 + (now - 24.0) * exp(-26.0 / 22.0)
        now += (46.0 - now) * (1.0 - exp(-1.0 / 10.0))
        out.append(now)
    return out


def moves(n: int) -> dict[str, float]:
    """Return by how much the faults move each channel at shot n of the day: damp plate, crack, parting line."""
    flash = min(0.5, 0.04 * (exp((n - 38) / 6.0) - 1.0)) if n > 38 else 0.0
    damp, cracked = float(25 <= n <= 36), float(n == 19)
    return {
        "switchover_pressure": 18.0 * damp - 35.0 * cracked - 10.0 * flash,
        "cushion": 0.16 * damp - 0.9 * cracked - flash,
        "part_weight": -0.03 * damp - 0.10 * cracked + 0.196 * flash,
    }


def draw(rng: np.random.Generator, *, crack: str, plates: int) -> Trial:
    """Draw the day. `crack`: the kind of entry made of S-19. `plates`: sound ones made before the day, in fours."""
    before = plates * PLATE
    shots: list[LoggedShot] = []
    time = _BEGAN - timedelta(days=plates // 4)
    warm = simple_half_temperature()
    for at in range(before + N_SHOTS):
        n = at - before + 1
        of_day = at % (4 * PLATE) if n < 1 else n - 1
        if at % PLATE == 0:
            plate = {channel: rng.normal(0.0, sigma) for channel, sigma in BETWEEN.items()}
        if of_day == 0:
            time = time.replace(hour=_BEGAN.hour, minute=_BEGAN.minute) + timedelta(days=bool(shots))
        temperature = warm[of_day] if n >= 1 else 46.0 - 22.0 * exp(-(of_day + 1) / 10.0)
        wide = 1.5 if 25 <= n <= 36 else 1.0
        moved = moves(n)
        values = {}
        for channel, mean in _MEAN.items():
            spread = WITHIN[channel] * (wide if channel in BETWEEN else 1.0)
            values[channel] = mean + moved.get(channel, 0.0) + plate.get(channel, 0.0) + rng.normal(0.0, spread)
        values["switchover_pressure"] += 0.8 * (46.0 - temperature)
        values["cushion"] += 0.004 * (46.0 - temperature)
        values["peak_pressure"] = values["switchover_pressure"] + 14.0 + rng.normal(0.0, 2.0)
        values["cycle_time"] = _cycle(rng)
        values["insert_temperature"] = temperature + rng.normal(0.0, 1.0)
        time += timedelta(minutes=26.0 * (n == 31), seconds=round(values["cycle_time"], 1))
        halves = {
            "fixed": InForce("SH-02", SIMPLE),
            "moving": InForce(f"S-{n + before}", COMPLEX, f"PL-{at // PLATE + 1}", single_use=True),
        }
        noted = ((crack, "piece cracked on loading, short"),) if n == 19 else ()
        shots.append(LoggedShot(PRESS, at + 1, time, shown(values, _G_PER_MM, _DOSE), halves, noted))
    return Trial(tuple(shots), DESIGNS, before)


def _cycle(rng: np.random.Generator) -> float:
    """Return a cycle time in s: lognormal, mean 150 and spread 14."""
    narrow = np.log(1.0 + (14.0 / 150.0) ** 2)
    return float(np.exp(rng.normal(np.log(150.0) - narrow / 2.0, np.sqrt(narrow))))
