"""The life distribution against outside fits."""

import csv
from pathlib import Path

import pytest

from shotlog.errors import NotEnoughShots
from shotlog.wear.life.lifetimes import EndedLife, Weibull, fit, hazard
from shotlog.wear.life.pool import Pool

REFERENCE = Path(__file__).parent / "reference"


def lives(name: str) -> list[EndedLife]:
    with (REFERENCE / "life_data.csv").open() as file:
        rows = [
            row for row in csv.DictReader(line for line in file if not line.startswith("#")) if row["dataset"] == name
        ]
    return [EndedLife(int(float(row["time"])), row["event"] == "1") for row in rows]


@pytest.mark.parametrize(
    ("name", "shape", "scale"),
    [("nist_weibull_20", 1.7208, 606.53), ("shock_absorber_38", 3.1605, 27718.7), ("aml_maintained_11", 1.0319, 60.32)],
)
def test_censored_maximum_likelihood_agrees_with_published_and_other_programs(
    name: str, shape: float, scale: float
) -> None:
    found = fit(lives(name), prior=False)
    assert found.shape == pytest.approx(shape, rel=2e-4)
    assert found.scale == pytest.approx(scale, rel=2e-4)


def test_quantile_and_survival_agree() -> None:
    curve = Weibull(90.0, 2.5)
    assert curve.survival(curve.quantile(0.3)) == pytest.approx(0.7)


def test_no_failure_gives_no_curve() -> None:
    with pytest.raises(NotEnoughShots):
        fit([EndedLife(50, False)])


def test_censored_lives_lengthen_the_curve() -> None:
    ended = [EndedLife(60, True), EndedLife(80, True), EndedLife(70, True)]
    assert fit([*ended, EndedLife(150, False)]).quantile(0.5) > fit(ended).quantile(0.5)


def test_an_older_insert_is_likelier_to_go_and_one_whose_sisters_go_early_too() -> None:
    """By hand: one failure at 90 shots and 40 own shots, shape 2.5; half of the inserts break at any age."""
    old = 0.5 * (1.0 / 130.0 + 2.5 * 40.0**1.5 / (90.0**2.5 + 40.0**2.5))
    assert hazard([], 40, 40) == pytest.approx(old)
    assert hazard([], 40, 5) < 0.6 * old
    early = [EndedLife(30, True)] * 4
    assert hazard(early, 10, 10) > 2.0 * hazard([], 10, 10)
    assert hazard([EndedLife(300, False)] * 4, 40, 40) < 0.2 * old


def test_how_long_inserts_stay_sound_and_how_long_they_are_made_to_last_are_two_things() -> None:
    """One that is going off at shot 40 is no surprise to sisters that went off at 30 and came out at 60."""
    pool = Pool()
    for serial in ("A", "B", "C", "D"):
        pool.end("d", EndedLife(30, True, serial, made=60))
    sound, kept = pool.lives("d"), pool.kept("d")
    assert sound is not None
    assert kept is not None
    assert kept.scale == pytest.approx(2.0 * sound.scale)
