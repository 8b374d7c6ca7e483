"""Shots made for the tests: a press with plain noise, a warm-up curve, and whatever change is asked for."""

import json
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from functools import cache

import numpy as np

from shotlog.records import InForce, LoggedShot
from shotlog.wear.level.baseline import Prior
from shotlog.wear.level.settling import N_PAUSE
from shotlog.wear.level.sister import N_LEVEL
from shotlog.wear.monitor import Monitor

CENTRE = {
    "cushion": 5.0,
    "peak_pressure": 540.0,
    "fill_time": 0.72,
    "recovery_time": 4.6,
    "melt_temperature": 288.0,
    "part_weight": 10.2,
}
SPREAD = {
    "cushion": 0.05,
    "peak_pressure": 4.0,
    "fill_time": 0.004,
    "recovery_time": 0.09,
    "melt_temperature": 0.4,
    "part_weight": 0.015,
}
START = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)
THREE = ("cushion", "peak_pressure", "fill_time")
ALL = tuple(CENTRE)


def life(
    seed: int,
    serial: str,
    n_shots: int,
    first: int = 1,
    channels: Sequence[str] = THREE,
    change: Mapping[str, tuple[str, float]] | None = None,
    onset: int = 10_000,
    warm: float = 6.0,
    events: Mapping[int, tuple[tuple[str, str], ...]] | None = None,
    halves: Mapping[str, InForce] | None = None,
    waits: Mapping[int, float] | None = None,
    hours: float = 0.0,
) -> list[LoggedShot]:
    """Return a life. `change`: by channel its shape (step, ramp, or ring: a ramp whose low tail grows) and size in
    spreads, from shot `onset` of the insert on.

    `warm`: spreads of pressure above the settled value at the first shot. `events`, `waits` (minutes): by shot of the
    insert.
    """
    rng = np.random.default_rng(seed)
    out, time = [], START + timedelta(hours=hours)
    for n in range(1, n_shots + 1):
        time += timedelta(seconds=60 + float(rng.normal(0, 2)), minutes=(waits or {}).get(n, 0.0))
        values = {}
        for name in channels:
            off = float(rng.normal())
            if name in ("peak_pressure", "cushion"):
                off += warm * (1.0 if name == "peak_pressure" else 0.4) * float(np.exp(-(n - 1) / 5.0))
            if change and name in change and n >= onset:
                shape, size = change[name]
                off += size * (1.0 if shape == "step" else n - onset + 1)
                if shape == "ring":
                    off -= abs(float(rng.normal())) * 0.5 * abs(size) * (n - onset + 1)
            values[name] = round(CENTRE[name] + SPREAD[name] * off, 4)
        held = halves if halves is not None else {"moving": InForce(serial, "d")}
        out.append(LoggedShot("p", first + n - 1, time, values, held, (events or {}).get(n, ())))
    return out


def sisters(count: int, channels: Sequence[str] = THREE, n_shots: int = 60) -> list[LoggedShot]:
    """Return healthy lives of one design, one after the other."""
    out: list[LoggedShot] = []
    for k in range(count):
        out += life(1000 + k, f"S-{k}", n_shots, first=k * n_shots + 1, channels=channels, hours=3.0 * k)
    return out


def knowing(count: int, channels: Sequence[str] = THREE, n_shots: int = 60) -> Monitor:
    """Return a monitor that has judged `sisters`: one that goes on, bit for bit, from the state of one that did."""
    monitor = Monitor("p", {})
    monitor.restore(json.loads(_known(count, tuple(channels), n_shots)))
    return monitor


@cache
def _known(count: int, channels: tuple[str, ...], n_shots: int) -> str:
    monitor = Monitor("p", {})
    for shot in sisters(count, channels, n_shots):
        monitor.step(shot)
    return json.dumps(monitor.save())


def prior_of(channels: Sequence[str] = THREE, centre: Mapping[str, float] = CENTRE) -> Prior:
    """Return what an insert of this press is judged by where all of that is known."""
    p, one = len(channels), np.ones(len(channels))
    return Prior(
        tuple(channels),
        np.array([SPREAD[name] for name in channels]),
        0.0 * one,
        0.1 * one,
        np.eye(p),
        np.array([centre[name] for name in channels]),
        np.zeros((p, N_LEVEL)),
        np.tile(np.eye(N_LEVEL), (p, 1, 1)),
        np.zeros((p, N_PAUSE)),
        np.ones((p, N_PAUSE)),
        one,
        100.0,
        5,
        0,
    )
