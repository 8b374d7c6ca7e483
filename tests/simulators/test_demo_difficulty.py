"""The demo is as hard as it was published to be: the same simple charts, run over many seeds, flag as often and as
late.

Published figures (own throw-away model, 200 to 300 runs): EWMA 0.2 on switchover pressure with limits of 3 after
skipping 10 and learning 20 shots flags 92 % of inserts before their true onset; skip 25, learn 25, limit 4 flags 6 %,
median delay 10 shots. Check ring: cushion spread 5 to 6 times, balance +0.17 to +0.21 g, cushion with weight from
-0.66 to +0.1. How those charts took their spread is not published; with the standard deviation used here the first
flags about 82 %, with moving ranges 94 %.
"""

import numpy as np
import pytest

from simulators.press import mould
from simulators.story import load

RUNS = 120
ONSET = 59


def _first_flag(values, skip, learn, limit, lam=0.2):
    """Shot at which a two-sided EWMA leaves its limits, or 0."""
    own = values[skip : skip + learn]
    sigma = own.std(ddof=1) * np.sqrt(lam / (2.0 - lam))
    state = centre = own.mean()
    for shot in range(skip + learn, len(values)):
        state += lam * (values[shot] - state)
        if abs(state - centre) > limit * sigma:
            return shot + 1
    return 0


@pytest.fixture(scope="module")
def lives():
    press = load("demo").presses[0]
    return [mould(press, 345, seed) for seed in range(RUNS)]


@pytest.mark.parametrize(
    ("skip", "learn", "limit", "early", "delay"),
    [(10, 20, 3.0, (0.75, 0.98), None), (25, 25, 4.0, (0.01, 0.13), (8, 12))],
)
def test_simple_charts_on_erosion(lives, skip, learn, limit, early, delay):
    flags = [_first_flag(run.channels["switchover_pressure"][:92], skip, learn, limit) for run in lives]
    before = np.mean([0 < flag < ONSET for flag in flags])
    assert early[0] <= before <= early[1]
    late = [flag - ONSET + 1 for flag in flags if flag >= ONSET]
    if delay is not None:
        assert delay[0] <= np.median(late) <= delay[1]


def _residual(run, part):
    machine = run.press.machine
    balance = -machine.g_per_mm * run.channels["cushion"] - run.channels["part_weight"]
    return balance[part]


def test_the_leaking_ring_looks_as_published(lives):
    sound, late, ringing = slice(30, 58), slice(318, 324), slice(318, 345)
    spread = np.mean([run.channels["cushion"][ringing].std() for run in lives])
    assert 4.0 < spread / 0.057 < 6.5
    opened = [_residual(run, late).mean() - _residual(run, sound).mean() for run in lives]
    assert 0.13 < np.mean(opened) < 0.24
    pairs = [np.corrcoef(run.channels["cushion"][ringing], run.channels["part_weight"][ringing])[0, 1] for run in lives]
    assert -0.15 < np.mean(pairs) < 0.35


def test_the_balance_stays_silent_on_insert_faults_and_lots(lives):
    """Mean residual against the settled one of the first insert, in units of its spread (0.02 g) over ten shots."""
    for first, last in ((82, 92), (128, 138), (158, 168), (250, 262)):
        moved = [_residual(run, slice(first, last)).mean() - _residual(run, slice(30, 58)).mean() for run in lives]
        assert abs(np.mean(moved)) < 0.02
