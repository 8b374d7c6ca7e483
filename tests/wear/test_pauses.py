"""What pauses teach: the time constant of cooling and what a waiting melt does are found again from made-up pauses."""

import numpy as np
import pytest

from shotlog.wear.level.pauses import ANY_COOLING, cooled_share, cooling_of, melt_coefficients, melt_share
from shotlog.wear.level.settling import N_WARM, pause_columns, warm_columns

WARM = np.array([0.0, 6.0, 2.0])
AFTER = np.arange(20.0)


def seen(cooling_min: float, melt: float, seed: int, count: int = 8) -> list[tuple[float | None, np.ndarray, ...]]:
    """Return pauses of 4 to 40 minutes as the fit of a life gives them: coefficients of two plain columns."""
    rng = np.random.default_rng(seed)
    columns = pause_columns(AFTER)
    inverse = np.linalg.inv(columns.T @ columns)
    out = []
    for _ in range(count):
        wait = float(rng.uniform(4, 40))
        cooled = 0.95 * (1 - np.exp(-wait / cooling_min))
        curve = cooled * (warm_columns(AFTER + 1.0) @ WARM) + melt * melt_share(wait) * columns[:, 0]
        readings = curve + rng.normal(0, 1, len(AFTER))
        out.append((wait, inverse @ columns.T @ readings, inverse, WARM))
    return out


@pytest.mark.parametrize("cooling_min", [7.0, 20.0, 60.0])
def test_the_share_cooled_is_learnt_from_pauses(cooling_min: float) -> None:
    weights = cooling_of([one for seed in range(3) for one in seen(cooling_min, -3.0, seed)])
    assert weights.sum() == pytest.approx(1.0)
    share, off = cooled_share(weights, 15.0)
    assert share == pytest.approx(0.95 * (1 - np.exp(-15.0 / cooling_min)), abs=0.12)
    assert off < cooled_share(ANY_COOLING, 15.0)[1]


def test_what_a_waiting_melt_does_is_learnt_from_pauses() -> None:
    pauses = [one for seed in range(3) for one in seen(20.0, -3.0, seed)]
    mean, spread = melt_coefficients(pauses, cooling_of(pauses))
    assert mean == pytest.approx(-3.0, abs=0.8)
    assert 0.3 < spread < 1.5


def test_nothing_seen_and_nothing_known_say_so() -> None:
    assert cooling_of([]) == pytest.approx(ANY_COOLING)
    assert cooling_of([(None, np.zeros(2), np.eye(2), WARM), (10.0, np.zeros(2), np.eye(2), np.zeros(N_WARM))]) == (
        pytest.approx(ANY_COOLING)
    )
    assert melt_coefficients([], ANY_COOLING)[1] > 2.0
    assert cooled_share(ANY_COOLING, None)[1] > cooled_share(ANY_COOLING, 15.0)[1]
