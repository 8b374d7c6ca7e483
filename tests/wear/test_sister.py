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
