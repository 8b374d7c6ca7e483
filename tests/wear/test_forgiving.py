"""A large change may lie beside its direction in the table; and a step is found freely, channel by channel."""

import numpy as np
import pytest
from made import ALL, SPREAD, knowing, life
from numpy.typing import NDArray
from scipy.stats import multivariate_normal

from shotlog.records import LoggedShot
from shotlog.wear.change.free import free_step
from shotlog.wear.compiled.forgiving import forgive
from shotlog.wear.constants import TABLE_OFF, TABLE_OFF_FROM, TABLE_OFF_LEAST

F = NDArray[np.float64]


def gained(seen: F, info: F, direction: F) -> float:
    """Return what one hypothesis gains where `seen` is what a free fit finds, with `info` behind it."""
    p = len(seen)
    upper = np.triu_indices(p)
    # off the diagonal the sums hold both places of a pair
    sums = np.where(upper[0] == upper[1], info[upper], 2.0 * info[upper])
    score = info @ seen
    watched, spread = np.zeros(0, np.int64), np.zeros((2, 0, 2, 1))
    bank = (np.array([5]), np.ones(1), score[:, None, None], sums[:, None, None], watched, np.zeros((2, 0, 1)), spread)
    pairs = (direction[upper[0]] * direction[upper[1]])[None]
    rows = (np.zeros(1, np.int64), np.zeros(1, np.int64), direction[None], pairs, np.ones(1))
    a, b = np.array([[direction @ score]]), np.array([[direction @ info @ direction]])
    to, screened = np.empty((1, 1)), (np.ones(1), a, b, np.empty((0, 4, 1)), np.empty((0, 1)))
    beside = TABLE_OFF * np.maximum(np.abs(direction), TABLE_OFF_LEAST)
    forgive(bank, rows, screened, beside[None], TABLE_OFF_FROM, to)
    return float(to[0, 0])


@pytest.mark.parametrize("seed", range(5))
def test_the_gain_is_that_of_a_direction_known_within_a_share(seed: int) -> None:
    """Against two densities of what a free fit finds, from scipy: about the direction, and about it and beside it."""
    rng = np.random.default_rng(seed)
    root = rng.standard_normal((4, 4))
    info = 10.0 * (root @ root.T + np.eye(4))
    direction = np.array([-1.0, -0.4, 0.0, 0.8])
    seen = 12.0 * direction + rng.standard_normal(4) * np.array([4.0, 3.0, 3.0, 4.0])
    size = float(direction @ info @ seen / (direction @ info @ direction))
    beside = np.diag((TABLE_OFF * size * np.maximum(np.abs(direction), TABLE_OFF_LEAST)) ** 2)
    noise = np.linalg.inv(info)
    about = multivariate_normal(size * direction, noise).logpdf(seen)
    wider = multivariate_normal(size * direction, noise + beside).logpdf(seen)
    assert gained(seen, info, direction) == pytest.approx(max(float(wider - about), 0.0), rel=1e-9)


def test_what_lies_along_the_direction_or_is_small_gains_nothing() -> None:
    direction, info = np.array([-1.0, -0.4, 0.8]), 10.0 * np.eye(3)
    assert gained(12.0 * direction, info, direction) == 0.0
    assert gained(np.array([-0.8, 0.9, 0.2]), info, direction) == 0.0


def broken(shots: list[LoggedShot], onset: int, sizes: dict[str, float]) -> list[LoggedShot]:
    out = []
    for n, shot in enumerate(shots, 1):
        moved = {
            c: round(v + (sizes.get(c, 0.0) * SPREAD[c] if n >= onset else 0.0), 4) for c, v in shot.values.items()
        }
        out.append(LoggedShot("p", shot.shot, shot.time, moved, shot.halves))
    return out


@pytest.mark.parametrize("seed", range(3))
def test_a_huge_break_is_one_though_the_pressure_falls_more_than_the_table_has_it(seed: int) -> None:
    """Thirty spreads of cushion and 24 of pressure, where a break has 18 at most: five times the noise beside it."""
    monitor = knowing(4, ALL)
    size = {"cushion": -30.0, "peak_pressure": -24.0, "part_weight": 30.0}
    for shot in broken(life(seed, "B", 60, 241, ALL, hours=13), 30, size):
        verdict = monitor.step(shot)
    assert verdict.group == "insert"
    (half,) = monitor._mounted.lives.values()
    filt = half.stretch.filter
    assert filt is not None
    free = free_step(filt.sums(), 30)
    expected = [size.get(c, 0.0) * SPREAD[c] / s for c, s in zip(filt.prior.channels, filt.prior.sigma, strict=True)]
    assert free == pytest.approx(expected, abs=1.0)
    assert verdict.facts is not None
    said = {one.channel: one.size / SPREAD[one.channel] for one in verdict.facts.changes}
    assert said["peak_pressure"] == pytest.approx(-24.0, abs=1.5), "as far as it fell, not as the table has it"
