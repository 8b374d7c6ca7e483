"""Presses with ways of their own: one fault of theirs moves the channels as no table has it, the same way every time.

Each press makes sound inserts first, then some on which that fault came and people said what it was when they took them
out, then one more. Drawn without a look at any table of directions: a direction is any point of the cube, its largest
part 1.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np

from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.wear.monitor import Monitor

__all__ = ["CHANNELS", "LABELS", "OwnWay", "last_call", "lives_of"]

CHANNELS = (
    "cushion", "peak_pressure", "fill_time", "switchover_pressure", "recovery_time", "melt_temperature", "part_weight",
)  # fmt: skip
_MIDDLE = np.array([6.2, 612.0, 0.91, 575.0, 5.3, 241.0, 14.8])
_SPREAD = np.array([0.048, 3.1, 0.006, 2.7, 0.11, 0.35, 0.019])

LABELS = (
    ("insert", "flash all round"),
    ("insert", "gate worn"),
    ("insert", "vents clogged"),
    ("press", "check ring leaking"),
    ("press", "heater of zone 2"),
    ("material", "other lot of resin"),
)
"""Groups with what people say of a fault of theirs."""


@dataclass(frozen=True)
class OwnWay:
    """A press with its fault: `group`, what people `say`, and the `direction` over its channels, in spreads."""

    group: str
    say: str
    direction: np.ndarray
    n_channels: int

    @classmethod
    def draw(cls, rng: np.random.Generator, n_channels: int) -> "OwnWay":
        """Draw a press."""
        group, say = LABELS[int(rng.integers(len(LABELS)))]
        direction = rng.uniform(-1.0, 1.0, n_channels)
        return cls(group, say, direction / np.abs(direction).max(), n_channels)


def lives_of(press: OwnWay, rng: np.random.Generator, said: Sequence[str], sound: int = 4) -> list[list[LoggedShot]]:
    """Return the shots of each life: `sound` ones, one a label `said` (empty: nobody said anything), and a last one.

    The fault differs from time to time by a tenth of its largest part in every channel.
    """
    out: list[list[LoggedShot]] = []
    shot, time, reason = 0, datetime(2025, 5, 5, 5, 0, tzinfo=UTC), ""
    for nth in range(sound + len(said) + 1):
        n = int(rng.integers(55, 85))
        start = rng.normal(0.0, 0.8, press.n_channels)
        onset = int(rng.integers(20, 40)) if nth >= sound else n
        direction = press.direction + rng.normal(0.0, 0.1, press.n_channels)
        rate = rng.uniform(0.15, 0.4)
        made = []
        for k in range(n):
            shot, time = shot + 1, time + timedelta(seconds=55.0, minutes=0.0 if k else 12.0)
            off = start + 5.0 * np.exp(-k / 4.0) + rng.normal(0.0, 1.0, press.n_channels)
            off = off + max(k - onset + 1, 0) * rate * direction
            values = _MIDDLE[: press.n_channels] + _SPREAD[: press.n_channels] * off
            shown = {name: round(float(v), 4) for name, v in zip(CHANNELS, values, strict=False)}
            held = {"moving": InForce(f"W-{nth:02d}", "own")}
            removed = ((f"W-{nth - 1:02d}", reason),) if reason and k == 0 else ()
            made.append(LoggedShot("press-w", shot, time, shown, held, (), removed))
        reason = said[nth - sound] if 0 <= nth - sound < len(said) else ""
        out.append(made)
    return out


def last_call(lives: Sequence[Sequence[LoggedShot]]) -> Verdict | None:
    """Judge all lives in order; return the last verdict of the last one that calls something, None where none does."""
    monitor = Monitor("press-w", {})
    for life in lives:
        verdicts = [monitor.step(shot) for shot in life]
    return next((one for one in reversed(verdicts) if one.cause), None)
