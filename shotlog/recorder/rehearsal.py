"""A rehearsal of the call: made-up shots, judged and thrown away, so that no real one waits for the compiler.

The inner loops of the call are compiled, or fetched from what is kept on the machine, when each is first needed: for
seconds, in front of a shot. A short trial in which an insert drifts, is swapped, and its sister drifts likewise needs
them all.
"""

import math
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from functools import cache

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.evaluator import Evaluator
from shotlog.records import InForce, LoggedShot
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.compiled.compiler import compiles

__all__ = ["rehearse"]

_LIFE, _DRIFTS_AT, _PAUSE_AT = 26, 16, 12
_LIVES = 6


@cache
def rehearse() -> None:
    """Judge a made-up trial, once a process; nothing where nothing is compiled."""
    if not compiles():
        return
    limits = {name: Bound(low=_level(name) - 60.0 * CHANNELS[name].least_change) for name in ALWAYS_CHARTED}
    evaluator = Evaluator("rehearsal", {"design": DesignSettings("design", limits=limits)})
    for shot in _shots():
        evaluator.step(shot)


def _level(name: str) -> float:
    channel = CHANNELS[name]
    return channel.low + (channel.high - channel.low) / 3.0


def _shots() -> Iterator[LoggedShot]:
    time = datetime(2026, 1, 1, tzinfo=UTC)
    for n in range(_LIVES * _LIFE):
        life, age = divmod(n, _LIFE)
        time += timedelta(minutes=20 if age == _PAUSE_AT else 1)
        drift = max(age - _DRIFTS_AT, 0) if life >= _LIVES - 2 else 0
        values = {
            name: _level(name) + CHANNELS[name].least_change * (math.sin((5.0 + nth) * n * n) / 2.0 - drift)
            for nth, name in enumerate(ALWAYS_CHARTED)
        }
        yield LoggedShot("rehearsal", n + 1, time, values, {"moving": InForce(f"I-{life}", "design")})
