"""A stretch run again from its saved shots and marks goes on as the one that never stopped."""

from dataclasses import replace

import numpy as np

from shotlog.wear.life.marks import Drifting, StretchShot
from shotlog.wear.life.stretch import Stretch
from shotlog.wear.plain import from_plain, to_plain
from tests.wear.test_detector import AGEING

ODD_SHOT = 16


def rows() -> list[StretchShot]:
    values = np.random.default_rng(4).normal(0, 1.0, 30)
    values[ODD_SHOT - 1] = 30.0
    return [
        StretchShot(n, {"cushion": float(value)}, "pause" if n == 9 else "", 12.0 if n == 9 else None)
        for n, value in enumerate(values, 1)
    ]


def restored(stretch: Stretch) -> Stretch:
    again = from_plain(Stretch, to_plain(stretch))
    again.run_again()
    return again


def assert_same(one: Stretch, other: Stretch) -> None:
    assert one.filter is not None
    assert other.filter is not None
    assert one.filter.log_likelihood == other.filter.log_likelihood
    for mine, its in zip(one.filter.sums(), other.filter.sums(), strict=True):
        np.testing.assert_array_equal(mine, its)


def let_go(n: int) -> Drifting:
    """Return a drift of 0.3 spreads a shot, give or take 0.2, from shot `n` on."""
    return Drifting(n, AGEING.named(np.array([0.3])), AGEING.named(np.array([0.2])))


def test_a_drift_let_go_is_heeded_again_after_a_restart_at_any_shot() -> None:
    live = Stretch(prior=AGEING)
    live.run_again()
    for row in rows():
        if row.n == ODD_SHOT:  # the first to drift is held back, and the mark must count once all the same
            live.drifting.append(let_go(row.n))
        live.take(row)
        assert_same(live, restored(live))
    assert live.odd == [ODD_SHOT]


def drifts(stretch: Stretch) -> tuple[float, float]:
    assert stretch.filter is not None
    mean, variance = stretch.filter.drift()
    return float(mean[0]), float(variance[0])


def test_what_may_drift_is_kept_in_the_channels_own_unit() -> None:
    stretch = Stretch(prior=AGEING)
    stretch.run_again()
    for row in rows()[:10]:
        stretch.take(row)
    stretch.drifting.append(let_go(11))
    stretch.judge_by(replace(AGEING, sigma=2.0 * AGEING.sigma))
    mean, variance = drifts(stretch)
    stretch.take(StretchShot(11, {}))  # a dry shot: the mark is heeded, nothing is learnt
    after = drifts(stretch)
    np.testing.assert_allclose([after[0] - mean, after[1] - variance], [0.3 / 2.0, (0.2 / 2.0) ** 2])
