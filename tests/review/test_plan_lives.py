"""How long the next inserts live: against published lives, a product-limit curve, the same integral done plainly."""

import csv
from collections import defaultdict
from math import exp, log
from pathlib import Path

import numpy as np
import pytest

from shotlog.review.plan_assumed import assumed_life
from shotlog.review.plan_lives import Assumed, LifeBelief, given_lives, learnt_lives

REFERENCE = Path(__file__).parents[1] / "reference"
ANY = Assumed(40.0, 0.75)


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8") as file:
        file.readline()
        return list(csv.DictReader(file))


def published() -> dict[str, tuple[list[float], list[bool]]]:
    found: dict[str, tuple[list[float], list[bool]]] = defaultdict(lambda: ([], []))
    for row in rows("life_data.csv"):
        found[row["dataset"]][0].append(float(row["time"]))
        found[row["dataset"]][1].append(row["event"] == "1")
    return found


LIVES = published()
CURVES = [row for row in rows("life_kaplan_meier.csv") if row["dataset"] in ("nist_weibull_20", "nist_km_20")]


@pytest.mark.parametrize("row", CURVES, ids=lambda row: f"{row['dataset']} at {row['time']}")
def test_the_next_life_lies_within_the_product_limit_interval_of_the_handbook(row: dict[str, str]) -> None:
    """NIST/SEMATECH e-Handbook 8.2.1.5 and 8.4.1.3: 20 units each, 6 and 10 of them failed; interval log-log, 95 %."""
    times, failed = LIVES[row["dataset"]]
    reached = learnt_lives(times, failed, ANY).reached(np.array(float(row["time"])))
    assert float(row["loglog_lower95_r"]) <= reached <= float(row["loglog_upper95_r"])


@pytest.mark.parametrize("fit", rows("life_weibull_fits.csv"), ids=lambda fit: fit["dataset"])
def test_from_many_lives_the_level_is_that_of_maximum_likelihood(fit: dict[str, str]) -> None:
    """The median of the next life, within its standard error of the published fit: lives of the log alone count."""
    belief = learnt_lives(*LIVES[fit["dataset"]], ANY)
    assert abs(log(belief.quantile(0.5) / float(fit["b50"]))) < float(fit["se_mu"])


def plainly(sound: list[int], off: list[bool], at: list[float], spread: float = 1.0) -> list[float]:
    """Return the chance to reach `at`: likelihood times prior summed over a grid of ln shape and ln scale."""
    lived = [s + 0.5 * o for s, o in zip(sound, off, strict=True)]
    total, reached = 0.0, [0.0] * len(at)
    for u in np.arange(log(0.4), log(16.0), 0.02):
        shape = exp(u)
        for v in np.arange(-1.0, 12.0, 0.02):
            scale = exp(v)
            weight = -0.5 * ((u - log(2.5)) / spread) ** 2
            for t, o in zip(lived, off, strict=True):
                weight -= (t / scale) ** shape
                weight += log(shape / scale) + (shape - 1.0) * log(t / scale) if o else 0.0
            if weight > -80.0:
                total += exp(weight)
                reached = [r + exp(weight - (t / scale) ** shape) for r, t in zip(reached, at, strict=True)]
    return [r / total for r in reached]


@pytest.mark.parametrize(
    ("sound", "off"),
    [
        ([57, 59, 20, 94, 21], [True, True, True, False, False]),
        ([30, 31, 33, 40], [True] * 4),
        ([5, 60, 9], [True] * 3),
    ],
)
def test_it_is_the_integral_over_what_shape_and_scale_may_be(sound: list[int], off: list[bool]) -> None:
    at = [10.0, 30.0, 60.0, 120.0]
    assert learnt_lives(sound, off, ANY).reached(np.array(at)) == pytest.approx(plainly(sound, off, at), abs=0.004)


def test_with_shape_one_it_is_the_textbook_prediction(monkeypatch: pytest.MonkeyPatch) -> None:
    """Exponential lives of unknown mean: P(next > t) = (1 + t / total) ** -r (Aitchison and Dunsmore 1975)."""
    monkeypatch.setattr("shotlog.review.plan_lives._SHAPES", np.array([1.0]))
    belief = learnt_lives([10, 20, 39], [True, True, True], ANY)
    for t in (5.0, 40.0, 150.0):
        assert belief.reached(np.array(t)) == pytest.approx((1.0 + t / 70.5) ** -3, abs=0.005)


def spread(belief: LifeBelief) -> float:
    return belief.quantile(0.9) / belief.quantile(0.1)


def test_the_fewer_lives_the_wider() -> None:
    lives = [40, 50, 60, 70, 80]
    few, many = (learnt_lives(lives * n, [True] * 5 * n, ANY) for n in (1, 8))
    assert spread(few) > spread(many) > 1.5


def test_a_life_that_was_still_sound_counts_as_longer() -> None:
    off, sound = (learnt_lives([50, 60, 70, 80], [True] * 3 + [last], ANY).quantile(0.5) for last in (True, False))
    assert sound > 1.05 * off


def test_from_three_gone_off_on_what_was_assumed_counts_no_more() -> None:
    two, three = ([50, 60], [True] * 2), ([50, 60, 70], [True] * 3)
    low, high = Assumed(5.0, 0.75), Assumed(500.0, 0.75)
    assert learnt_lives(*two, low).quantile(0.5) < 0.9 * learnt_lives(*two, high).quantile(0.5)
    assert learnt_lives(*three, low).quantile(0.5) == learnt_lives(*three, high).quantile(0.5)


@pytest.mark.parametrize(
    "lives", [([0, 0, 0], [True] * 3), ([60] * 9, [True] * 9), ([0], [False]), ([1, 400], [True, False])]
)
def test_odd_lives_give_a_set_that_can_be_drawn_from(lives: tuple[list[int], list[bool]]) -> None:
    belief = learnt_lives(*lives, ANY)
    assert belief.weights.sum() == pytest.approx(1.0)
    assert 0.0 < belief.quantile(0.1) < belief.quantile(0.9) < 1e6


def test_what_is_assumed_is_what_the_trade_says_of_it() -> None:
    assert learnt_lives((), (), Assumed(20.0, 0.75)).quantile(0.5) == pytest.approx(20.0, rel=0.1)
    assert given_lives(60.0).quantile(0.5) == pytest.approx(60.0)
    for moulded, family, median in (
        ("PA66-GF30, black", "high-temperature photopolymer", 70),
        ("PPS-GF40", "ceramic-filled photopolymer", 70),
        ("PP (MFR 20)", "acrylate photopolymer", 100),
        ("PC", "", 20),
        ("ABS", "ceramic-filled photopolymer", 40),
    ):
        assert assumed_life(moulded, family)[0].median == median


def test_drawn_lives_are_whole_and_spread_as_believed() -> None:
    belief = learnt_lives([57, 59, 20, 94, 21], [True, True, True, False, False], ANY)
    n = 1 << 14
    chances = (np.arange(n) + 0.5) / n
    drawn = belief.lives(belief.nodes(chances), np.random.default_rng(1).random(n))
    assert (drawn == np.floor(drawn)).all()
    for shots in (20.0, 60.0, 150.0):
        # A life of n sound shots outlives n and ends before n + 1.
        assert (drawn >= shots).mean() == pytest.approx(float(belief.reached(np.array(shots))), abs=0.015)
