"""A simulated press with its own noise, settling, digits and habits; it makes lives one after the other."""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from shotlog.records import InForce, LoggedShot
from tests.benchmark.lives.beyond import leave_the_table
from tests.benchmark.lives.faults import CENTRE, CHANNELS, SCALE, Fault, draw

F = NDArray[np.float64]
START = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)


@dataclass(frozen=True)
class Habits:
    """What stays the same on one press and one insert design; spreads in each channel's unit, amplitudes in sigma."""

    sigma: F
    phi: F
    correlation: F
    wander: F
    digits: F
    tau: float
    warm: F
    warm_spread: float
    between: float
    melt: F
    cycle_s: float
    n_channels: int


@dataclass
class Life:
    """One insert life as the monitor sees it, with its truth; `best` holds what the best possible detector may know."""

    serial: str
    shots: list[LoggedShot]
    fault: Fault | None
    carried: Fault | None
    first: int
    number: int
    residual: F = field(repr=False)
    seen: NDArray[np.int64] = field(repr=False)
    habits: Habits = field(repr=False)


def habits(rng: np.random.Generator, n_channels: int) -> Habits:
    """Draw a press."""
    n = len(CHANNELS)
    sigma = SCALE * np.exp(rng.normal(0, 0.35, n))
    correlation = np.eye(n)
    for a, b, r in (("cushion", "part_weight", -0.6), ("peak_pressure", "switchover_pressure", 0.75)):
        i, j = CHANNELS.index(a), CHANNELS.index(b)
        correlation[i, j] = correlation[j, i] = r + rng.uniform(-0.1, 0.1)
    coarse = rng.random() < 0.35
    digits = np.array([0.01, 1.0, 0.001, 1.0, 0.01, 0.1, 0.1, 0.1, 0.001])
    if coarse:
        digits = np.array([0.1, 5.0, 0.01, 5.0, 0.1, 1.0, 1.0, 1.0, 0.01])
    tau = rng.uniform(1.5, 9) if rng.random() < 0.8 else rng.uniform(7, 11)
    warm = np.zeros(n)
    warm[:] = rng.normal(0, 1, n)
    warm[CHANNELS.index("peak_pressure")] = rng.uniform(3, 12)
    warm[CHANNELS.index("switchover_pressure")] = rng.uniform(3, 12)
    warm[CHANNELS.index("cushion")] = rng.uniform(1, 6)
    warm[CHANNELS.index("fill_time")] = rng.normal(0, 0.5)
    warm[CHANNELS.index("insert_temperature")] = -rng.uniform(8, 30)
    warm[CHANNELS.index("part_weight")] = -rng.uniform(1, 8)
    melt = np.zeros(n)
    melt[[1, 3]] = -rng.uniform(0.5, 5)
    melt[0] = -rng.uniform(0, 1.5)
    return Habits(
        sigma,
        rng.uniform(-0.5, 0.45, n),
        correlation,
        rng.uniform(0, 0.45, n) * (rng.random(n) < 0.7),
        digits,
        tau,
        warm,
        rng.uniform(0.05, 0.2),
        rng.uniform(0.3, 2.0),
        melt,
        rng.uniform(40, 160),
        n_channels,
    )


class Press:
    """Makes lives; `clock` and `shot` go on from life to life. `beyond`: share of faults that leave the usual kinds."""

    def __init__(
        self, rng: np.random.Generator, name: str, n_channels: int, design: str = "d1", beyond: float = 0.0
    ) -> None:
        self.beyond, self.rng, self.name, self.design = beyond, rng, name, design
        self.habits = habits(rng, n_channels)
        self.shot, self.time, self.number = int(rng.integers(1, 5000)), START, 0
        self.level = np.zeros(len(CHANNELS))
        self.carried: Fault | None = None

    def life(self, faulty: bool, carry: bool = False) -> Life:
        """Make one life. `carry` lets a press fault of this life outlive the swap."""
        rng, h = self.rng, self.habits
        n = int(rng.integers(60, 121))
        self.number += 1
        first, serial = self.shot + 1, f"{self.design}-{self.number:02d}"
        fault = draw(rng, first - 1 + int(rng.integers(12, n - 24)), h.n_channels) if faulty else None
        if fault is not None and self.beyond and rng.random() < self.beyond:
            fault = leave_the_table(fault, rng)
        position = np.arange(n)
        shots = first + position
        warm, pauses, waited = self._transients(n)
        residual = self._noise(n)
        effect = np.zeros((n, len(CHANNELS)))
        for one in (fault, self.carried):
            if one is not None:
                effect += one.curve(shots)[:, None] * one.direction
                if one.shape == "ring":
                    grown = 0.35 * one.curve(shots)
                    effect[:, 0] -= np.abs(rng.normal(0, 1, n)) * grown
        between = rng.normal(0, h.between, len(CHANNELS)) * (np.array(CHANNELS) != "fill_time")
        sigma_units = self.level + between + warm + residual + effect
        values = CENTRE + h.sigma * sigma_units
        values = np.round(values / h.digits) * h.digits
        keep = np.ones(n, bool)
        if rng.random() < 0.35:
            start = int(rng.integers(5, n - 10))
            keep[start : start + int(rng.integers(1, 7))] = False
            if fault is not None and not keep[fault.onset - first]:
                keep[:] = True
        made = self._records(shots, values, keep, pauses, waited, serial, fault)
        life = Life(serial, made, fault, self.carried, first, self.number, residual, shots[keep], h)
        self.shot = int(shots[-1])
        if fault is not None and fault.kind.group == "material":
            self.level = self.level + fault.curve(shots)[-1] * fault.direction
        self.carried = None
        if carry and fault is not None and fault.kind.group == "press" and fault.shape != "ring":
            self.carried = fault
        return life

    def _transients(self, n: int) -> tuple[F, list[int], list[float]]:
        rng, h = self.rng, self.habits
        k = np.arange(n)[:, None]
        amplitude = h.warm * (1 + rng.normal(0, h.warm_spread)) * (1 + rng.normal(0, 0.05, len(h.warm)))
        warm = amplitude * np.exp(-k / h.tau)
        pauses = sorted({int(p) for p in rng.integers(12, n - 5, rng.choice([0, 1, 2], p=[0.4, 0.4, 0.2]))})
        waited = [float(rng.uniform(4, 40)) for _ in pauses]
        for at, minutes in zip(pauses, waited, strict=True):
            since = np.maximum(k - at, 0)
            cold = amplitude * (1 - np.exp(-minutes / 22)) * 0.9 * np.exp(-since / h.tau)
            melt = h.melt * (1 - np.exp(-minutes / 15)) * 0.6**since
            warm = warm + (k >= at) * (cold + melt)
        return warm, pauses, waited

    def _noise(self, n: int) -> F:
        rng, h = self.rng, self.habits
        root = np.linalg.cholesky(h.correlation)
        noise, slow = np.zeros((n, len(CHANNELS))), np.zeros((n, len(CHANNELS)))
        last, drift = root @ rng.normal(size=len(CHANNELS)), h.wander * rng.normal(size=len(CHANNELS))
        for i in range(n):
            last = h.phi * last + np.sqrt(1 - h.phi**2) * (root @ rng.normal(size=len(CHANNELS)))
            drift = 0.95 * drift + h.wander * np.sqrt(1 - 0.95**2) * rng.normal(size=len(CHANNELS))
            noise[i], slow[i] = last, drift
        return noise + slow

    def _records(
        self,
        shots: NDArray[np.int64],
        values: F,
        keep: NDArray[np.bool_],
        pauses: list[int],
        waited: list[float],
        serial: str,
        fault: Fault | None,
    ) -> list[LoggedShot]:
        rng, h, made = self.rng, self.habits, []
        held = InForce(serial, self.design)
        idle_lot = int(rng.integers(10, len(shots))) if fault is None and rng.random() < 0.2 else -1
        logged_pause = [bool(rng.random() < 0.5) for _ in pauses]
        for i, shot in enumerate(shots):
            self.time += timedelta(seconds=float(h.cycle_s * np.exp(rng.normal(0, 0.06))))
            events: list[tuple[str, str]] = []
            if i in pauses:
                self.time += timedelta(minutes=waited[pauses.index(i)])
                if logged_pause[pauses.index(i)]:
                    events.append(("pause", ""))
            if i == 0:
                self.time += timedelta(minutes=float(rng.uniform(8, 20)))
            if i == idle_lot:
                events.append(("lot", "next bag"))
            if fault is not None and fault.kind.name == "lot" and fault.logged and shot == fault.onset:
                events.append(("lot", "L2"))
            if keep[i]:
                row = {c: float(round(values[i, j], 4)) for j, c in enumerate(CHANNELS[: h.n_channels])}
                made.append(LoggedShot(self.name, int(shot), self.time, row, {"moving": held}, tuple(events)))
        return made
