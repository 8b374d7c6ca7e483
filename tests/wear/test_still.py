"""A reading that stands still is told from chance, and from a channel that is mostly rounding."""

import json

import numpy as np
import pytest
from made import ALL, knowing, life

from shotlog.records import LoggedShot
from shotlog.wear.level.still import StillWatch
from shotlog.wear.monitor import Monitor


def watched(values: np.ndarray) -> dict[int, int]:
    """Return at which shot a channel was said to stand still, and since which."""
    watch, said = StillWatch(), {}
    for shot, value in enumerate(values.tolist(), 1):
        for since in watch.take(shot, {"cushion": value}).values():
            said[shot] = since
    return said


def noise(n: int, phi: float, rng: np.random.Generator) -> np.ndarray:
    x = np.zeros(n)
    for i in range(1, n):
        x[i] = phi * x[i - 1] + np.sqrt(1.0 - phi**2) * rng.standard_normal()
    return x


@pytest.mark.parametrize("step", [0.05, 0.3, 1.0, 2.0, 5.0])
@pytest.mark.parametrize("phi", [-0.5, 0.0, 0.6])
def test_a_live_channel_never_stands_still(step: float, phi: float) -> None:
    """Ten presses of 2000 shots, rounded in steps of 0.05 to 5 spreads, their levels anywhere between two steps."""
    rng = np.random.default_rng([int(100 * step), int(10 * phi) + 10])
    for _ in range(10):
        assert not watched(np.round((rng.uniform(0.0, step) + noise(2000, phi, rng)) / step) * step)


@pytest.mark.parametrize(("step", "most"), [(0.05, 8), (0.3, 12), (0.8, 30)])
def test_a_dead_channel_is_said_soon_and_from_the_right_shot(step: float, most: int) -> None:
    """The coarser the rounding the longer it takes: at 0.8 spreads a step every fourth shot repeats the one before."""
    rng = np.random.default_rng(5)
    for _ in range(20):
        values = np.round(noise(160, 0.2, rng) / step) * step
        values[100:] = values[99]
        ((said, since),) = watched(values).items()
        assert said <= 101 + most
        assert 101 - 4 <= since <= 101


def test_what_was_never_seen_to_move_is_not_dead() -> None:
    assert not watched(np.full(5000, 3.0))


def test_a_channel_that_moves_again_is_looked_at_again() -> None:
    rng = np.random.default_rng(6)
    values = np.round(noise(300, 0.0, rng), 2)
    values[100:130] = values[99]
    watch = StillWatch()
    for shot, value in enumerate(values.tolist(), 1):
        watch.take(shot, {"cushion": value})
        assert bool(watch.frozen) == (105 <= shot <= 130), shot


def frozen(shots: list[LoggedShot], channel: str, since: int) -> list[LoggedShot]:
    """Return shots in which a channel repeats what it read before shot `since` of them."""
    value = shots[since - 2].values[channel]
    kept = [dict(one.values) | ({channel: value} if n >= since else {}) for n, one in enumerate(shots, 1)]
    return [LoggedShot("p", o.shot, o.time, v, o.halves) for o, v in zip(shots, kept, strict=True)]


@pytest.mark.parametrize("seed", [0, pytest.param(1, marks=pytest.mark.long)])
def test_a_dead_channel_is_named_left_out_and_carried_over_a_swap(seed: int) -> None:
    """The pressure dies at shot 30 of one insert; on the next the cushion falls from shot 30 on, and that is called."""
    monitor = knowing(4, ALL)
    first = life(seed, "B", 60, 241, ALL, hours=13)
    flash = {"cushion": ("ramp", -0.4), "part_weight": ("ramp", 0.4)}
    second = life(seed + 90, "C", 70, 301, ALL, change=flash, onset=30, hours=15)
    verdicts = []
    for shot in frozen([*first, *second], "peak_pressure", 30):
        state = json.loads(json.dumps(monitor.save()))
        monitor = Monitor("p", {})
        monitor.restore(state)
        verdicts.append(monitor.step(shot))
    named = next(n for n, one in enumerate(verdicts, 1) if one.cause)
    assert 30 < named <= 40
    for one in verdicts[named - 1 : 60]:
        assert (one.verdict, one.group, one.cause, one.onset) == ("watch", "measurement", "frozen reading", 270)
        assert one.facts is not None
        assert [(channel.channel, channel.since) for channel in one.facts.frozen] == [("peak_pressure", 270)]
    assert {one.cause for one in verdicts[60:89]} == {"frozen reading"}
    assert verdicts[-1].group == "insert"
    assert [(one.group, one.cause) for one in verdicts[-1].others] == [("measurement", "frozen reading")]
