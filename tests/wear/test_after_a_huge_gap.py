"""A press whose counter went on by tens of thousands while nobody read it: its next shot is judged as any other."""

import math
from datetime import UTC, datetime, timedelta

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.evaluator import Evaluator
from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import Bound, DesignSettings

START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
DRIFTS_AT, LAST = 30, 160


def level(name: str) -> float:
    one = CHANNELS[name]
    return one.low + (one.high - one.low) / 3.0


def drifting(shot: int) -> LoggedShot:
    """Return a shot of an insert that drifts slowly, and after the gap is as far as it was before it."""
    drift = 0.05 * max(min(shot, LAST) - DRIFTS_AT, 0)
    values = {
        name: level(name) + CHANNELS[name].least_change * (math.sin((5.0 + nth) * shot * shot) / 2.0 - drift)
        for nth, name in enumerate(ALWAYS_CHARTED)
    }
    return LoggedShot("P25", shot, START + timedelta(minutes=shot), values, {"moving": InForce("B-11", "cap-r2")})


def test_a_change_older_than_any_table_is_judged() -> None:
    limits = {name: Bound(low=level(name) - 100.0 * CHANNELS[name].least_change) for name in ALWAYS_CHARTED}
    evaluator = Evaluator("P25", {"cap-r2": DesignSettings("cap-r2", limits=limits)})
    judged = [one for shot in (*range(1, LAST + 1), 65_000, 65_001) for one in evaluator.step(drifting(shot))]
    assert [one.shot for one in judged if isinstance(one, Verdict)][-2:] == [65_000, 65_001]
