"""Limits for all charts of a life together: how often sound lives signal, by what is known of sisters."""

import math
from dataclasses import replace

import numpy as np
import pytest
from wear.made import SPREAD
from wear.made import life as made_life

from shotlog.charts.joint import MOST_SISTERS, Joint, Reached, plain_per_100
from shotlog.charts.life_charts import LifeCharts
from shotlog.evaluator import Evaluator
from shotlog.records import Baseline
from shotlog.settings import DesignSettings

LEAST = {"cushion": 0.001, "peak_pressure": 0.001, "fill_time": 0.001}
SETTLING, BASELINE, SHOTS = 10, 12, 80


def charts(sisters: list[dict[str, Reached]], plain: bool = False) -> LifeCharts:
    return LifeCharts(
        "P1", "B-1", baseline=BASELINE, settling=SETTLING, least=LEAST, plain=plain, sisters=sisters[-MOST_SISTERS:]
    )


def run(table: np.ndarray, sisters: list[dict[str, Reached]], plain: bool = False) -> tuple[LifeCharts, int | None]:
    """Play a life of settled shots, shape (n, 3); return its charts and the shot of the first signal, from 0."""
    life, first = charts(sisters, plain), None
    for shot, row in enumerate(table):
        _, signals = life.take(shot, dict(zip(LEAST, row.tolist(), strict=True)))
        if signals and first is None:
            first = shot
    return life, first


def width(sisters: list[dict[str, Reached]]) -> float:
    """Half-width in units, the own level known as in a long life."""
    unit, half, _ = Joint(sisters, LEAST, 68).limits("cushion", 1.0, 12)
    return half / unit / math.sqrt(13 / 12)


def history(rng: np.random.Generator, n: int, tails: str, phi: float, warm: float) -> list[bool]:
    """Say of each of `n` sister lives whether a chart signalled: readings of a press, not of a table."""
    sisters: list[dict[str, Reached]] = []
    signalled = []
    for _ in range(n):
        shocks = rng.standard_normal((SHOTS, 3)) if tails == "normal" else rng.standard_t(4, (SHOTS, 3)) / math.sqrt(2)
        table = shocks.copy()
        for i in range(1, SHOTS):
            table[i] = phi * table[i - 1] + math.sqrt(1 - phi * phi) * shocks[i]
        table += warm * np.exp(-np.arange(SHOTS) / 15.0)[:, None]
        life, first = run(table, sisters)
        sisters.append(life.reached())
        signalled.append(first is not None)
    return signalled


@pytest.mark.parametrize(
    ("tails", "phi", "warm", "most"),
    [("normal", 0.0, 0.0, 0.10), ("normal", 0.5, 1.0, 0.10), ("t4", 0.0, 0.0, 0.18)],
    ids=["normal", "following one another and warming up", "heavy tails"],
)
def test_few_sound_lives_signal_whatever_the_noise(tails: str, phi: float, warm: float, most: float) -> None:
    """Of 400 lives on 40 presses; three standard errors over the aim, for heavy tails over what we have measured."""
    rng = np.random.default_rng(5)
    found = [one for _ in range(40) for one in history(rng, 10, tails, phi, warm)]
    assert np.mean(found) < most + 3.0 * math.sqrt(0.1 * 0.9 / len(found))


@pytest.mark.parametrize("known", [0, 8])
def test_a_change_still_shows(known: int) -> None:
    """A ramp of a fifth of a spread a shot on one channel, from the eighth judged shot on."""
    rng = np.random.default_rng(6)
    seen = []
    for _ in range(40):
        sisters = [run(rng.standard_normal((SHOTS, 3)), [])[0].reached() for _ in range(known)]
        table = rng.standard_normal((SHOTS, 3))
        table[20:, 0] += 0.2 * np.arange(1, SHOTS - 19)
        seen.append(run(table, sisters)[1])
    delays = [shot - 19 for shot in seen if shot is not None and shot >= 20]
    assert len(delays) > 36
    assert float(np.median(delays)) <= (34 if known == 0 else 26)


def test_without_sisters_the_width_is_that_of_the_prior() -> None:
    """By hand: prior 1.32 and 0.25, worth 1.7 lives and 4 degrees of freedom; t of 4 degrees at 0.9: 1.5332."""
    unit, half, step = Joint((), LEAST, 68).limits("cushion", 2.0, 12)
    width = math.exp(1.32 + 1.533206274 * math.sqrt(0.0625 * (1 + 1 / 1.7) + 1 / 22))
    assert unit == 2.0
    assert half == pytest.approx(width * 2.0 * math.sqrt(13 / 12), rel=1e-6)
    assert step == pytest.approx(width * 2.0 * math.sqrt(2.0), rel=1e-6)


def test_many_alike_sisters_decide_the_width() -> None:
    """Every one of them went to four units: the next is expected to go little farther."""
    life = dict.fromkeys(LEAST, Reached(12, 1.0, 68, 68.0 * 13 / 12, 4.0 * math.sqrt(13 / 12), 1.0))
    assert width([life] * 24) == pytest.approx(4.6, abs=0.2)


def test_a_short_sister_counts_as_if_she_had_lived_on() -> None:
    def life(n: int, far: float) -> dict[str, Reached]:
        return dict.fromkeys(LEAST, Reached(12, 1.0, n, n * 13 / 12, far, 1.0))

    assert width([life(8, 3.0)] * 6) > 1.1 * width([life(68, 3.0)] * 6)


def test_readings_without_spread_have_limits_at_the_least_change() -> None:
    flat = dict.fromkeys(LEAST, Reached(12, 0.0, 68, 0.0, 0.0, 0.0))
    _, half, step = Joint([flat] * 3, {"cushion": 0.05, "peak_pressure": 3.0, "fill_time": 0.008}, 68).limits(
        "cushion", 0.0, 12
    )
    assert 0.05 <= half <= 0.10
    assert step >= 0.10


def test_plain_limits_are_three_sigma_from_moving_ranges_and_own_up_to_their_rate() -> None:
    table = np.random.default_rng(8).standard_normal((SHOTS, 3))
    life = charts([], plain=True)
    frozen = [one for shot, row in enumerate(table) for one in life.take(shot, dict(zip(LEAST, row, strict=True)))[0]]
    spread = np.abs(np.diff(table[:12, 0])).mean() * math.sqrt(math.pi) / 2
    assert frozen[0].upper - frozen[0].centre == pytest.approx(3.0 * spread)
    assert frozen[0].per_100 == plain_per_100(12, 68)
    assert 80 <= plain_per_100(12, 68) <= 95


def test_plain_limits_wait_for_two_readings_that_differ() -> None:
    life = charts([], plain=True)
    for shot in range(30):
        assert life.take(shot, {"cushion": 5.0}) == ([], [])
    frozen, _ = life.take(30, {"cushion": 5.01})
    assert [one.last for one in frozen] == [30]


def test_no_step_is_taken_across_a_stop_or_a_missing_value() -> None:
    rng = np.random.default_rng(9)
    for stop in (lambda life: life.rest(), lambda life: life.take(40, {})):
        life = charts([])
        for shot, row in enumerate(rng.standard_normal((40, 3))):
            life.take(shot, dict(zip(LEAST, row.tolist(), strict=True)))
        stop(life)
        _, signals = life.take(41, {"cushion": 40.0})
        assert [one.name for one in signals] == ["individuals:cushion:above"]


def test_a_stop_is_one_where_no_shot_settles_after_it() -> None:
    shots = made_life(3, "A", 40, warm=0.0, waits={31: 40.0})
    shots = [replace(one, values={**one.values, "cushion": 9.0}) if one.shot > 30 else one for one in shots]
    evaluator = Evaluator("p", {"d": DesignSettings("d", settling_shots=0)})
    signals = [evaluator.step(one)[-1].signals for one in shots]
    assert signals[30] == ("individuals:cushion:above",)


def test_a_lot_taken_as_the_level_does_not_widen_the_limits_of_the_next() -> None:
    """It did, from 5 spreads to 23, and for as long as the life was kept."""
    evaluator, wide = Evaluator("p", {"d": DesignSettings("d")}), []
    for k in range(8):
        lot = {"peak_pressure": ("step", 10.0)} if k >= 6 else None
        onset, events = (30, {30: (("lot", "new bag"),)}) if k == 6 else (1, None)
        for shot in made_life(
            100 + k, f"S-{k}", 90, first=90 * k + 1, hours=3.0 * k, change=lot, onset=onset, events=events
        ):
            found = evaluator.step(shot)
            wide += [
                one.upper - one.centre for one in found if isinstance(one, Baseline) and one.channel == "peak_pressure"
            ]
        if k == 6:
            assert found[-1].verdict == "keep"
    assert wide[7] / SPREAD["peak_pressure"] < 6.0
