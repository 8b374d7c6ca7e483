"""Ageing that sisters share becomes normal, is said with the shots left, and hides no insert that wears faster."""

import json

import numpy as np
import pytest
from made import THREE, life

from shotlog.records import LoggedShot, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.level.ageing import Trend, shared, trend_of, trend_rivals
from shotlog.wear.level.settling import warm_columns
from shotlog.wear.level.sister import N_LEVEL, sister_of, trends_of
from shotlog.wear.level.sisters import pooled_prior
from shotlog.wear.level.whitening import GRID, whitened
from shotlog.wear.monitor import Monitor

AGES = {"cushion": ("ramp", -0.2), "peak_pressure": ("ramp", -0.05)}
LIMIT = 4.5
"""Ten spreads of 0.05 mm below the settled cushion: reached about 50 shots on, a fifth of a spread a shot."""

SHOTS = np.arange(1.0, 61.0)
LEAST = np.array([1.0])


def fitted(values: np.ndarray) -> Trend:
    columns = np.hstack([np.ones((len(SHOTS), 1)), warm_columns(SHOTS)])
    return trend_of(values, trend_rivals(SHOTS), columns, N_LEVEL, GRID.index((0.0, 0.02)), 1.0)


def test_a_trend_is_found_beside_level_and_warm_up_with_what_it_makes_of_them() -> None:
    """Without noise: level 3, a warm-up of 5 over 4 shots, and 0.2 a shot."""
    values = 3.0 + 5.0 * np.exp(-(SHOTS - 1.0) / 4.0) + 0.2 * (SHOTS - 1.0)
    trend = fitted(values)
    assert trend.value == pytest.approx(0.2, abs=1e-3)
    columns = np.hstack([np.ones((len(SHOTS), 1)), warm_columns(SHOTS)])
    _, without, _, _ = whitened(values, columns, GRID.index((0.0, 0.02)))
    np.testing.assert_allclose(without + 0.2 * trend.along, [3.0, 0.0, 5.0, 0.0], atol=0.01)
    assert abs(without[0] - 3.0) > 1.0


@pytest.mark.parametrize(
    ("course", "steady"),
    [
        (0.2 * (SHOTS - 1.0), True),
        (0.4 * np.maximum(SHOTS - 30.0, 0.0), False),
        (-30.0 * np.exp(-(SHOTS - 1.0) / 22.0), False),
    ],
)
def test_a_later_wear_and_a_slow_warm_up_are_told_from_an_ageing(course: np.ndarray, steady: bool) -> None:
    gains = fitted(course).gains
    assert bool(gains[0] > gains[1:].max()) is steady


def seen(values: list[float], error: float = 0.02) -> tuple[np.ndarray, np.ndarray]:
    return np.array(values), np.full(len(values), error**2)


def likelier(sisters: int, by: float = 1.0) -> np.ndarray:
    """Return what a trend adds, 10, and what the one course that looks like it adds."""
    return np.tile([10.0, 10.0 - by], (sisters, 1))


@pytest.mark.parametrize(
    ("trends", "normal"),
    [
        (seen([-0.2, -0.22, -0.18]), True),
        (seen([-0.2, -0.22]), False),  # two lives
        (seen([0.0, 0.01, -0.3]), False),  # one worn among sound ones
        (seen([-0.2, -0.21, 0.0]), False),  # two of three
        (seen([-0.2, -0.21, 0.0, 0.01, -0.19]), False),  # three of five
        (seen([-0.2, -0.22, -0.18, -0.21, -0.2, -0.19, 0.0, -0.2]), True),  # all but one of eight
        (seen([-0.2, -0.22, -0.18], error=0.3), False),  # not known
        (seen([-0.015, -0.016, -0.014], error=0.001), False),  # of no practical size in half a life
    ],
)
def test_only_what_nearly_all_of_three_sisters_share_is_normal(
    trends: tuple[np.ndarray, np.ndarray], normal: bool
) -> None:
    mean, spread = shared([trends], likelier(len(trends[0])), LEAST)
    assert bool(spread[0] > 0.0) is normal
    if normal:
        assert mean[0] == pytest.approx(-0.2, abs=0.02)
        assert 0.02 < spread[0] < 0.08  # a quarter of it from life to life


def test_what_is_likelier_a_later_wear_is_not_normal() -> None:
    assert not shared([seen([-0.2, -0.22, -0.18])], likelier(3, by=-3.0), LEAST)[1].any()


def test_one_sister_that_wore_faster_moves_what_is_normal_little() -> None:
    mean, _ = shared([seen([-0.2, -0.22, -0.18, -0.21, -0.6])], likelier(5), LEAST)
    assert mean[0] == pytest.approx(-0.2, abs=0.02)


def test_a_channel_beside_an_ageing_one_may_move_a_little() -> None:
    mean, spread = shared([seen([-0.2, -0.22, -0.18]), seen([-0.03, -0.02, -0.04])], likelier(3), np.ones(2))
    assert -0.03 < mean[1] < -0.01
    assert 0.0 < spread[1] < 0.05


def test_what_lies_upstream_of_the_mould_does_not_age_with_the_insert() -> None:
    values = np.random.default_rng(2).normal(0.0, 1.0, (4, 60, 2)) - 0.3 * SHOTS[:, None]
    sisters = [sister_of(f"S-{k}", ("cushion", "recovery_time"), SHOTS, one, []) for k, one in enumerate(values)]
    prior = pooled_prior(sisters, ("cushion", "recovery_time"), {})
    assert prior is not None
    assert prior.drift_mean[0] * prior.sigma[0] == pytest.approx(-0.3, abs=0.03)
    assert prior.drift_mean[1] == prior.drift_sd[1] == 0.0
    (start, known), (aged, less) = prior.level(1), prior.level(21)
    np.testing.assert_allclose(aged - start, 20 * prior.drift_mean)
    np.testing.assert_allclose(less - known, (20 * prior.drift_sd) ** 2)


def test_too_few_shots_tell_no_trend() -> None:
    assert trends_of(THREE, SHOTS[:5], np.ones((5, 3)), []) == {}


def ageing(count: int, faster: float = 1.0) -> list[LoggedShot]:
    """Lives of 60 shots that age alike from the first shot on, the last one `faster`."""
    out: list[LoggedShot] = []
    for k in range(count):
        by = faster if k == count - 1 else 1.0
        change = {name: (shape, size * by) for name, (shape, size) in AGES.items()}
        out += life(300 + k, f"A-{k}", 60, first=1 + 60 * k, change=change, onset=1, hours=3.0 * k)
    return out


def judged(shots: list[LoggedShot]) -> dict[str, list[Verdict]]:
    monitor = Monitor("p", {"d": DesignSettings("d", limits={"cushion": Bound(low=LIMIT)})})
    said: dict[str, list[Verdict]] = {}
    for shot in shots:
        verdict = monitor.step(shot)
        said.setdefault(verdict.insert, []).append(verdict)
    return said


def test_ageing_is_called_on_the_first_inserts_then_normal_and_said_with_the_shots_left() -> None:
    said = judged(ageing(6))
    assert any(v.group for v in said["A-0"])
    last = said["A-5"]
    assert {v.cause for v in last} == {""}
    half_way = last[24]
    assert half_way.verdict == "keep"
    assert half_way.left_low is not None
    assert half_way.left_median == pytest.approx(26, abs=6)
    assert half_way.left_low < half_way.left_median
    assert half_way.facts is not None
    (cushion,) = [one for one in half_way.facts.ageing if one.channel == "cushion"]
    assert cushion.per_shot == pytest.approx(-0.01, abs=0.003)
    assert cushion.sisters >= 3
    assert cushion.left == half_way.left_median


def test_an_insert_that_wears_clearly_faster_than_its_sisters_age_is_called() -> None:
    called = next(v for v in judged(ageing(6, faster=2.5))["A-5"] if v.cause)
    assert called.group == "insert"
    assert called.shots_on_insert <= 30


def test_sound_sisters_share_no_ageing_and_say_none() -> None:
    shots = [shot for k in range(5) for shot in life(300 + k, f"A-{k}", 60, first=1 + 60 * k, hours=3.0 * k)]
    said = judged(shots)
    assert all(v.facts is None or v.facts.ageing == () for some in said.values() for v in some)
    assert {v.left_median for v in said["A-4"]} == {None}


def test_an_ageing_insert_goes_on_bit_for_bit_after_a_restart_at_any_shot() -> None:
    whole, pieces = Monitor("p", {}), Monitor("p", {})
    for at, shot in enumerate(ageing(5)):
        assert whole.step(shot) == pieces.step(shot)
        if at % 17 == 0 or at >= 280:
            state = json.loads(json.dumps(pieces.save()))
            pieces = Monitor("p", {})
            pieces.restore(state)
            assert json.loads(json.dumps(pieces.save())) == state
