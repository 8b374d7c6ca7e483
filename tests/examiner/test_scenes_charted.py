"""Faults that a chart on the wall would show are as large as stated, and plain practice is what it is said to be."""

import numpy as np

from tests.benchmark.examiner.cases import charted
from tests.benchmark.examiner.press import draw_press


def test_steps_have_four_to_eight_sigma_after_the_charts_know_their_level() -> None:
    for nth in range(8):
        history = charted.STEP.make(np.random.default_rng([34, nth]))
        change = history.lives[-1].changes[0]
        moved = np.max(np.abs(change.added) / history.press.spread, axis=1)
        assert 28 <= change.onset < 46
        assert not moved[: change.onset].any()
        assert 4.0 <= moved[change.onset] <= 8.0
        assert np.ptp(moved[change.onset :]) < 1e-9


def test_plain_practice_signals_on_one_sound_life_in_ten() -> None:
    signals = []
    for nth in range(300):
        rng = np.random.default_rng([35, nth])
        history = charted.History(draw_press(rng, 3), rng)
        signals.append(charted.plain_signal(history.life(90)) is not None)
    assert 0.05 <= np.mean(signals) <= 0.16
