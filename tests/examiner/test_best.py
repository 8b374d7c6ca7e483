"""The best possible detector calls healthy lives at the rate stated, and finds what is there."""

import numpy as np
import pytest

from tests.benchmark.examiner.best import BestDetector, threshold_of
from tests.benchmark.examiner.faults import FAULTS, draw_change
from tests.benchmark.examiner.press import draw_press


def _detectors(n_presses: int) -> list[tuple[BestDetector, object, np.random.Generator]]:
    out = []
    for seed in range(n_presses):
        rng = np.random.default_rng([15, seed])
        press = draw_press(rng, 3, tails="gauss")
        out.append((BestDetector(press, 40, rng), press, rng))
    return out


@pytest.mark.long
def test_healthy_lives_that_set_no_threshold_are_called_at_the_stated_rate() -> None:
    set_by, called = [], []
    for detector, press, rng in _detectors(10):
        seen = [detector.watch(press.rounded(press.life(40, rng)), n_healthy=1) for _ in range(40)]  # type: ignore[attr-defined]
        set_by += seen[:20]
        called += [life.log_ratio.max() for life in seen[20:]]
    rate = np.mean(np.array(called) > threshold_of(set_by, 0.10)["gauss"])
    assert 0.04 < rate < 0.17  # 200 lives at 0.10, threshold of 200


def test_the_mixture_ratio_has_mean_one_in_control_so_it_seldom_passes_a_large_value() -> None:
    peaks = [detector.watch(press.life(40, rng), n_healthy=20).healthy for detector, press, rng in _detectors(10)]  # type: ignore[attr-defined]
    assert np.mean(np.concatenate(peaks) > np.log(10.0)) <= 0.10


def test_a_plain_break_is_called_at_once_at_its_onset_as_the_insert() -> None:
    rng = np.random.default_rng(16)
    press = draw_press(rng, 7, tails="gauss", must=("part_weight",))
    change = draw_change(press, FAULTS["parting line"], 40, 21, rng, size=12.0, shape="step")
    life = BestDetector(press, 40, rng).watch(press.rounded(press.life(40, rng) + change.added))
    age = life.called({"gauss": np.log(20.0)})
    assert age is not None
    assert 21 <= age <= 22
    assert abs(int(life.onset[30]) - 21) <= 3
    assert life.group[30] == "insert"


def test_who_has_seen_no_insert_of_the_design_takes_no_level_for_a_change_and_still_finds_one() -> None:
    rng = np.random.default_rng(26)
    press = draw_press(rng, 3, tails="gauss")
    detector = BestDetector(press.strange(), 40, rng)
    values = press.rounded(press.life(40, rng) + 10.0 * press.spread)
    at = [detector.watch(values, n_healthy=0).log_ratio.max(), 0.0]
    change = draw_change(press, FAULTS["parting line"], 40, 21, rng, size=8.0, shape="step")
    at[1] = detector.watch(press.rounded(values + change.added), n_healthy=0).log_ratio.max()
    assert at[0] < np.log(20.0) < at[1]
