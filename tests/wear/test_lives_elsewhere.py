"""Lives that ended on other presses: what they say of an insert here, and what they never do."""

import json
from collections.abc import Iterable
from math import log

import numpy as np
import pytest

from shotlog.life_text import LifeTold, life_text, life_told
from shotlog.records import Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.life.lifetimes import EndedLife, Weibull, fit
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.press_lives import Lived, lives_here
from shotlog.wear.monitor import Monitor
from tests.wear.made import life, sisters


def told(n: int, presses: int = 3, of: int = 60, **more: object) -> list[LifeTold]:
    spread = np.random.default_rng(5).weibull(2.5, n) * of
    made = [(max(int(one), 2), f"P{k % presses}") for k, one in enumerate(spread)]
    plain = [LifeTold(f"X-{k}", "d", one + 5, one, True, press=press) for k, (one, press) in enumerate(made)]
    return [LifeTold(**{**{name: getattr(one, name) for name in one.__slots__}, **more}) for one in plain]


def after(
    shots: int, entries: Iterable[LifeTold], serial: str = "A", **designs: DesignSettings
) -> tuple[Verdict, Pool]:
    """Return the verdict after some shots of a first insert, told of lives before its first, and the pool then."""
    events = {1: tuple(("life", life_text(one)) for one in entries)}
    monitor = Monitor("p", designs)
    verdicts = [monitor.step(shot) for shot in life(3, serial, shots, events=events)]
    return verdicts[-1], monitor._mounted.pool


def test_a_first_insert_has_shots_left_by_lives_on_other_presses() -> None:
    alone, _ = after(25, [])
    verdict, _ = after(25, told(9))
    assert (alone.left_median, alone.left_low) == (None, None)
    assert verdict.left_low is not None
    assert verdict.left_median is not None
    assert verdict.left_high is not None
    assert 0 < verdict.left_low < verdict.left_median < verdict.left_high < 200
    assert verdict.facts is not None
    assert (verdict.facts.lives_here, verdict.facts.lives_elsewhere) == (0, 9)
    assert alone.facts is not None
    assert alone.facts.lives_elsewhere is None


def test_nothing_but_what_lives_say_is_moved_by_lives_elsewhere() -> None:
    """No level, noise, bar or call of a press may hang on what others made of their inserts."""
    events = {1: tuple(("life", life_text(one)) for one in told(9))}
    change = {"cushion": ("ramp", -0.4)}
    one, other = Monitor("p", {}), Monitor("p", {})
    rows = zip(
        sisters(2) + life(3, "A", 50, 121, change=change, onset=20),
        sisters(2) + life(3, "A", 50, 121, change=change, onset=20, events=events),
        strict=True,
    )
    for without, beside in rows:
        a, b = one.step(without), other.step(beside)
        assert (a.statistic, a.threshold, a.cause, a.onset, a.settling) == (
            b.statistic, b.threshold, b.cause, b.onset, b.settling,
        )  # fmt: skip


def test_an_insert_that_was_elsewhere_brings_its_shots_and_not_its_life() -> None:
    verdict, pool = after(10, told(9), serial="X-4")
    made = next(one.made for one in told(9) if one.serial == "X-4")
    assert verdict.shots_on_insert == made + 10
    assert pool.ends("d").n_elsewhere == 8  # its life has not ended after all


def test_an_insert_of_another_log_is_another_one_whatever_its_serial() -> None:
    verdict, pool = after(10, told(9, site="hall-2"), serial="X-4")
    assert verdict.shots_on_insert == 10
    assert pool.ends("d").n_elsewhere == 9
    pool.end("d", EndedLife(10, False, "X-4", made=10))
    assert [len(some) for some in pool.known("d")] == [1, 9]
    pool.hear(LifeTold("X-4", "d", 80, 80, press="P1", site="hall-3"))
    pool.hear(LifeTold("X-4", "d", 0, 0, press="P1", site="hall-2"))
    assert [len(some) for some in pool.known("d")] == [1, 9]


def test_what_is_told_anew_takes_the_place_of_what_was_told() -> None:
    lives = told(6)
    sound = LifeTold("X-0", "d", 65, 65, press="P0")
    _, pool = after(3, [*lives, sound])
    assert [one for one in pool.known("d")[1] if one.serial == "X-0"] == [sound]
    _, pool = after(3, [*lives, LifeTold("X-0", "d", 0, 0, press="P0")])
    assert {one.serial for one in pool.known("d")[1]} == {f"X-{k}" for k in range(1, 6)}


def test_neither_its_own_lives_nor_those_of_another_material_count_as_elsewhere() -> None:
    own = [LifeTold("A-0", "d", 50, 40, True), LifeTold("A-1", "d", 50, 40, True, press="p")]
    known = DesignSettings(resin_family="ceramic-filled")
    assert after(3, own)[1].known("d")[1] == []
    assert after(3, told(3, material="acrylate"), d=known)[1].known("d")[1] == []
    assert len(after(3, told(3, material="ceramic-filled"), d=known)[1].known("d")[1]) == 3
    assert len(after(3, told(3), d=known)[1].known("d")[1]) == 3


def test_of_an_insert_that_ended_on_two_presses_the_longer_life_counts() -> None:
    pool = Pool()
    pool.end("d", EndedLife(50, False, "S", made=50))
    pool.hear(LifeTold("S", "d", 90, 80, True, press="P2"))
    assert [len(some) for some in pool.known("d")] == [0, 1]
    pool.hear(LifeTold("S", "d", 20, 20, press="P2"))
    assert [len(some) for some in pool.known("d")] == [1, 0]


def test_a_state_with_lives_elsewhere_goes_on_to_the_last_bit() -> None:
    events = {1: tuple(("life", life_text(one)) for one in told(5, course=(0.2,) * 6))}
    rows = life(3, "A", 30, events=events)
    whole, cut = Monitor("p", {}), Monitor("p", {})
    for shot in rows[:12]:
        assert whole.step(shot) == cut.step(shot)
    again = Monitor("p", {})
    again.restore(json.loads(json.dumps(cut.save())))
    assert [whole.step(shot) for shot in rows[12:]] == [again.step(shot) for shot in rows[12:]]


def test_lives_here_outweigh_any_number_elsewhere() -> None:
    """Lives elsewhere are three times as long: with 12 here the median is off by less than a fifth."""
    rng = np.random.default_rng(1)
    there = [[(float(one), True) for one in rng.weibull(2.5, 12) * 240.0] for _ in range(5)]
    here: list[Lived] = [(float(one), True) for one in rng.weibull(2.5, 12) * 80.0]
    alone = fit([EndedLife(int(shots), gone) for shots, gone in here]).quantile(0.5)
    assert abs(log(lives_here(here, there).quantile(0.5) / alone)) < 0.2
    assert lives_here([], there).quantile(0.5) > 2.0 * alone


def test_one_press_elsewhere_says_less_than_many() -> None:
    """Twelve lives of one press leave open how that one differs; twelve of six do not."""
    lives = [(one.sound, True) for one in told(12)]
    one = lives_here([], [lives]).as_one()
    six = lives_here([], [lives[k::6] for k in range(6)]).as_one()
    assert isinstance(one, Weibull)
    assert one.shape < six.shape


@pytest.mark.parametrize(
    "text", ["", "[]", "{}", '{"serial":"A","design":"d"}', '{"serial":"A","design":"d","made":5,"sound":9}',
             '{"serial":"A","design":"d","made":true}', '{"serial":"A","design":"d","made":5,"x":1}',
             '{"serial":" ","design":"d","made":5}', '{"serial":"A","design":"d","made":5,"course":[NaN]}',
             f'{{"serial":"A","design":"d","made":5,"course":[{"9" * 400}]}}', f'{{"made":{"9" * 5000}}}',
             "[" * 100_000],
    ids=range(12),
)  # fmt: skip
def test_a_text_that_tells_of_no_life_is_none(text: str) -> None:
    assert life_told(text) is None


def test_how_fast_it_wore_is_read_over_where_it_was_told_once() -> None:
    assert life_told('{"serial":"A","design":"d","made":5,"wore":{"cushion":-0.1}}') == LifeTold("A", "d", 5, 5)


def test_what_is_told_of_a_life_is_read_back() -> None:
    one = LifeTold("B;1", "ä", 92, 88, True, True, "P 15", "hall-2", "x", (0.1, 0.9))
    assert life_told(life_text(one)) == one
    assert one.where == "hall-2/P 15"
