"""What a life leaves behind for its sisters."""

import numpy as np

from shotlog.wear.level.pauses import Pause
from shotlog.wear.level.sister import sister_of


def test_sisters_learn_from_the_last_pauses_of_a_life() -> None:
    """A life with many pauses left none of them to its sisters, and no test counted."""
    rng = np.random.default_rng(3)
    n = np.arange(1.0, 121.0)
    values = np.column_stack([5.0 + rng.normal(0.0, 0.03, 120), 540.0 + rng.normal(0.0, 3.0, 120)])
    pauses = [Pause(shot, wait) for shot, wait in ((20, 30.0), (40, None), (60, 12.0), (80, 45.0), (100, 8.0))]
    for made, left in ((pauses, (12.0, 45.0, 8.0)), (pauses[:2], (30.0, -1.0)), ([], ())):
        sister = sister_of("B-1", ("cushion", "peak_pressure"), n, values, made)
        assert sister.waits == left
        assert [len(one.pauses) for one in sister.channels.values()] == [len(left)] * 2


def test_a_swap_of_the_other_half_is_no_noise_and_its_wait_teaches_nothing() -> None:
    rng = np.random.default_rng(4)
    n = np.arange(1.0, 81.0)
    after = (n >= 41)[:, None]
    quiet = np.column_stack([5.0 + rng.normal(0.0, 0.03, 80), 540.0 + rng.normal(0.0, 3.0, 80)])
    swapped = quiet + after * np.array([0.12, 9.0]) * (1.0 + np.exp(-np.maximum(n - 41, 0) / 5.0))[:, None]
    names, pauses = ("cushion", "peak_pressure"), [Pause(20, 12.0)]
    alone = sister_of("B-1", names, n, quiet, pauses)
    beside = sister_of("B-1", names, n, swapped, [*pauses, Pause(41, 14.0, swap=True)])
    unsaid = sister_of("B-1", names, n, swapped, pauses)
    assert beside.waits == (12.0,)
    for name, moved in (("cushion", 0.12), ("peak_pressure", 9.0)):
        still, mine, other = (one.channels[name] for one in (alone, beside, unsaid))
        assert mine.noise.squares.min() < 1.3 * still.noise.squares.min()
        assert other.noise.squares.min() > 2.0 * still.noise.squares.min()
        # the level is that over both halves it was mounted with
        assert abs(mine.beta[0] - still.beta[0] - moved / 2.0) < moved / 4.0
        assert mine.shift == 0.0
