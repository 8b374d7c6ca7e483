"""Lines fitted to shots that resemble their neighbours."""

import numpy as np
import pytest

from shotlog.review.drift import drifts_of, fitted_line
from shotlog.settings import Bound
from tests.review.made_up_press import mounting, record, verdict


def test_a_line_without_noise_is_found_exactly() -> None:
    shots = np.arange(10, 30)
    line = fitted_line(shots, 5.0 - 0.01 * shots)
    assert line is not None
    assert (line.slope, line.start, line.end) == pytest.approx((-0.01, 4.9, 4.71))


def test_seven_shots_make_no_line() -> None:
    assert fitted_line(np.arange(7), np.arange(7.0)) is None


@pytest.mark.parametrize("phi", [0.0, 0.5])
def test_the_interval_holds_the_slope_nine_times_in_ten_or_more(phi: float) -> None:
    """Code that took neighbouring shots for independent would hold it about seven times in ten at phi 0.5."""
    rng = np.random.default_rng(11)
    shots, held = np.arange(60), 0
    for _ in range(300):
        noise = rng.normal(size=60)
        for k in range(1, 60):
            noise[k] += phi * noise[k - 1]
        line = fitted_line(shots, 0.02 * shots + noise)
        assert line is not None
        held += line.low <= 0.02 <= line.high
    assert held / 300 >= 0.89


def test_the_share_is_that_of_the_way_to_the_given_limit() -> None:
    press = record(60, lambda shot: 5.0 - 0.005 * shot, [mounting("B-1", 1)], spread=0.001)
    found = drifts_of(press, press.stretches[0], "B-1", {"cushion": Bound(low=4.5)}, None)
    cushion = next(one for one in found if one.channel == "cushion")
    assert cushion.limit_from == "design"
    assert cushion.share == pytest.approx(0.005 * 59 / (4.995 - 4.5), abs=0.02)
    other = next(one for one in found if one.channel == "peak_pressure")
    assert other.limit_from == "level"


def test_a_called_change_is_fitted_since_its_onset_too() -> None:
    said = [verdict(shot, "B-1", "swap", onset=31, onset_low=29, onset_high=33) for shot in range(36, 61)]
    press = record(60, lambda shot: 5.0 - 0.03 * max(0, shot - 30), [mounting("B-1", 1)], verdicts=said)
    called = press.episodes[0]
    found = [d for d in drifts_of(press, press.stretches[0], "B-1", {}, called) if d.channel == "cushion"]
    assert [one.part for one in found] == ["whole", "since onset"]
    assert found[1].first == 31
    assert found[1].line.slope == pytest.approx(-0.03, abs=0.004)
    assert abs(found[0].line.slope) < abs(found[1].line.slope)
