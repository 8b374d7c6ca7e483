"""The sampled trace of a shot says what the press reports for it, at every rate and for odd shots too."""

import io
import os
from pathlib import Path

import numpy as np
import pytest

from simulators.press import mould
from simulators.story import load
from simulators.trace import PHASES, trace, write_trace

SHARED = Path(os.environ.get("SHOTLOG_SHARED", Path(__file__).parents[3] / "shared"))
REAL = SHARED / "datasets" / "moulding_traces_2_shots" / "data.csv"


def _odd_shots():
    demo = load("demo").presses[0]
    yield "settled", mould(demo, 60, 3), 57
    yield "leaking ring", mould(demo, 345, 3), 340
    limited = mould(load("pressure_limited").presses[0], 100, 3)
    yield "limited", limited, int(np.argmax(limited.filling.need_bar))
    slugs = mould(load("drool_and_slugs").presses[1], 220, 3)
    yield "cold slug", slugs, int(np.argmax(slugs.states.spike_bar))
    yield "by pressure", mould(load("pressure_switchover").presses[0], 80, 3), 70
    yield "short dose", mould(load("feed_bridging").presses[0], 106, 3), 104


SHOTS = {name: (run, index) for name, run, index in _odd_shots()}


SHOTS = {name: (run, index) for name, run, index in _odd_shots()}


@pytest.mark.parametrize("rate", [100, 500, 1000])
@pytest.mark.parametrize("shot", list(SHOTS))
def test_features_of_the_trace_are_the_reported_values(shot, rate):
    run, index = SHOTS[shot]
    sampled = trace(run, index, rate, noise_bar=0.0, noise_mm=0.0)
    reported = {channel: float(values[index]) for channel, values in run.channels.items()}
    in_fill = sampled.phase == PHASES.index("fill")
    step = 1.0 / rate
    assert in_fill.sum() * step == pytest.approx(reported["fill_time"], abs=1.01 * step)
    switch = sampled.position_mm[in_fill][-1]
    speed = float(run.line.set["speed_mm_s"][index])
    assert switch == pytest.approx(reported["switchover_position"], abs=1.3 * speed * step)
    assert sampled.pressure_bar.max() == pytest.approx(reported["peak_pressure"], abs=0.5 + 5000.0 * step**1.3)
    assert sampled.pressure_bar.max() <= reported["peak_pressure"] + 1e-6
    assert sampled.position_mm.min() == pytest.approx(reported["cushion"], abs=0.05)
    dosing = (sampled.phase == PHASES.index("dosing")).sum() * step
    assert dosing == pytest.approx(reported["recovery_time"], abs=2 * step)


def test_a_leaking_ring_creeps_through_hold_and_a_sound_one_stands():
    demo = load("demo").presses[0]
    sound, leaking = mould(demo, 60, 3), mould(demo, 345, 3)
    worst = 296 + int(np.argmax(leaking.states.creep_mm[296:]))
    for run, index, creeps in ((sound, 57, False), (leaking, worst, True)):
        sampled = trace(run, index, 500, noise_mm=0.0)
        hold = sampled.position_mm[sampled.phase == 1]
        last_second = hold[-500] - hold[-1]
        assert (last_second > 0.1) == creeps


def test_a_trace_is_the_same_every_time_and_noisy():
    run = mould(load("demo").presses[0], 10, 3)
    one, two, calm = trace(run, 4), trace(run, 4), trace(run, 4, noise_bar=0.0, noise_mm=0.0)
    np.testing.assert_array_equal(one.pressure_bar, two.pressure_bar)
    assert (one.pressure_bar - calm.pressure_bar).std() == pytest.approx(0.5, rel=0.1)


def test_a_written_trace_reads_back():
    run = mould(load("demo").presses[0], 3, 3)
    sampled, out = trace(run, 1, 200), io.StringIO()
    write_trace(sampled, out)
    back = np.genfromtxt(io.StringIO(out.getvalue()), delimiter=",", names=True)
    assert back.dtype.names == ("time_s", "pressure_bar", "position_mm", "phase")
    np.testing.assert_allclose(back["pressure_bar"], sampled.pressure_bar, atol=0.051)


def _order(time, pressure, position):
    """When things happen: peak, end of fast forward travel, foremost position, in s; and hold pressure over peak."""
    foremost = int(np.argmin(position))
    forward = -np.gradient(position[: foremost + 1], time[: foremost + 1])
    fast = np.flatnonzero(forward > 0.3 * np.median(forward[forward > 0.3 * forward.max()]))
    peak = int(np.argmax(pressure))
    middle = (time > time[peak] + 1.5) & (time < time[foremost] - 0.2)
    return time[peak], time[fast[-1]], time[foremost], float(np.median(pressure[middle]) / pressure[peak])


@pytest.mark.skipif(not REAL.exists(), reason="the open moulding traces are not beside this checkout")
def test_events_come_in_the_order_of_a_real_trace():
    """Trace A of two open shots: peak within 0.15 s of the end of fast travel, foremost position at the end of hold,
    hold below peak.
    """
    rows = [line.split(",") for line in REAL.read_text("utf-8").splitlines()[1:] if line.startswith("A,")]
    real = np.array([[float(row[1]), float(row[3]), float(row[4])] for row in rows])
    run = mould(load("demo").presses[0], 60, 3)
    sampled = trace(run, 57, 100)
    for time, pressure, position in (real.T, (sampled.time_s, sampled.pressure_bar, sampled.position_mm)):
        peak, switch, foremost, ratio = _order(time, pressure, position)
        assert abs(peak - switch) < 0.15
        assert foremost - switch > 2.0
        assert 0.3 < ratio < 0.95
        assert pressure.min() < 0.0
