"""What sisters on other presses are worth to a press, by simulated plants: ``python -m tests.benchmark.bench_sisters``.

Lives are Weibull (trade notes: shape 2 to 3), a quarter of them taken out sound before; presses differ in the scale by
a log-normal of the spread said. Each plant has a press of its own design life, its lives told as entries are and taken
in by the pool; asked is what a sound insert is said to have left, at its first shot and at half of the median life,
against how long it lives. A second table plays whole lives with a wear through the monitor, told how fast it goes
elsewhere. Seeds are fixed; the columns: share of lives in the 80 % interval, its width (log of high over low end of the
whole life), error of the median (log, mean of what is off), and in how many plants anything was said at all.
"""

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log

import numpy as np

from shotlog.life_text import LifeTold, life_text
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.life.lifetimes import EndedLife
from shotlog.wear.life.pool import Pool
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.shots_left import lives_left
from tests.wear.made import CENTRE, SPREAD, life

__all__ = ["Row", "foretold", "play"]

MEDIAN, SOUND = 90.0, 0.25
PRESSES, EACH = 8, 6


@dataclass(frozen=True, slots=True)
class Row:
    """What was said over many plants."""

    coverage: float
    width: float
    error: float
    said: float


def some_lives(rng: np.random.Generator, scale: float, shape: float, n: int) -> list[tuple[int, bool]]:
    """Return shots of some lives, and whether each had gone off then."""
    made = exp(scale) * rng.weibull(shape, n)
    sound = rng.random(n) < SOUND
    made = np.where(sound, made * rng.uniform(0.3, 1.0, n), made)
    return [(max(int(one), 1), not bool(out)) for one, out in zip(made, sound, strict=True)]


def foretold(
    plants: int, apart: float, own: int, *, elsewhere: bool, times: float = 1.0, at: float = 0.0,
    presses: int = PRESSES, seed: int = 1,
) -> Row:  # fmt: skip
    """Return how well the rest of a life is foretold on a press with `own` ended lives, after `at` of a median life.

    `apart`: spread between presses, log. `times`: how many times as long lives elsewhere are beside that.
    """
    inside, widths, errors = [], [], []
    for plant in range(plants):
        rng = np.random.default_rng([seed, plant])
        mean, shape = log(MEDIAN) + rng.normal(0.0, 0.5), rng.uniform(2.0, 3.0)
        pool = Pool()
        for press in range(presses):
            lives = some_lives(rng, mean + log(times) + rng.normal(0.0, apart), shape, EACH)
            for k, (n, gone) in enumerate(lives):
                if elsewhere:
                    pool.hear(LifeTold(f"{press}-{k}", "d", n, n, gone, press=f"P{press}"))
        scale = mean + rng.normal(0.0, apart)
        for k, (n, gone) in enumerate(some_lives(rng, scale, shape, own)):
            pool.end("d", EndedLife(n, gone, f"own-{k}", made=n))
        lived = (exp(scale) * rng.weibull(shape, 4000)).astype(int)
        made = int(at * exp(scale) * log(2.0) ** (1.0 / shape))
        ahead = lived[lived >= made]
        truth, middle = int(ahead[0]), float(np.median(ahead))
        left = lives_left(pool.ends("d").lives, made)
        if left.low is None or left.median is None:
            continue
        high = inf if left.high is None else left.high
        inside.append(left.low <= truth - made <= high)
        widths.append(log((made + min(high, 300.0)) / (made + max(left.low, 1.0))))
        errors.append(abs(log((made + left.median) / max(middle, 1.0))))
    return Row(
        *(float(np.mean(one)) if one else float("nan") for one in (inside, widths, errors)), len(inside) / plants
    )


def play(lives: int, apart: float, *, elsewhere: bool, sooner: float = 1.0, seed: int = 3) -> Row:
    """Return how well the shots until a limit are foretold of a first insert whose wear is followed, 4 shots after the
    call; `sooner`: how many times as fast wear goes elsewhere.
    """
    inside, widths, errors = [], [], []
    room = 10.0 * SPREAD["cushion"]
    design = DesignSettings(limits={"cushion": Bound(CENTRE["cushion"] - room, None)})
    for k in range(lives):
        rng = np.random.default_rng([seed, k])
        usual = log(0.3) + rng.normal(0.0, 0.6)
        rate, onset = exp(usual + rng.normal(0.0, apart) + rng.normal(0.0, 0.3)), 25 + int(rng.integers(0, 15))
        events = {}
        if elsewhere:
            told = []
            for j in range(18):
                there = exp(usual + log(sooner) + rng.normal(0.0, apart if j % 6 == 0 else 0.0) + rng.normal(0.0, 0.3))
                by = -there * 30.0 * SPREAD["cushion"] / CENTRE["cushion"]
                n = int(30 + 10.0 / there)
                told.append(LifeTold(f"X{j}", "d", n, n, True, press=f"P{j // 6}", wore={"cushion": by}))
            events = {1: tuple(("life", life_text(one)) for one in told)}
        monitor, called, said = Monitor("p", {"d": design}), None, None
        ends = onset + 10.0 / rate
        for shot in life(k, "A", int(min(ends, 150)), change={"cushion": ("ramp", -rate)}, onset=onset, events=events):
            verdict = monitor.step(shot)
            called = called or (shot.shot if verdict.cause else None)
            if called is not None and shot.shot == called + 4:
                said = verdict
                break
        if said is None or said.left_median is None or said.left_low is None:
            continue
        truth, high = ends - said.shot, inf if said.left_high is None else said.left_high
        inside.append(said.left_low - 0.5 <= truth <= high + 0.5)
        widths.append(log((min(high, 300.0) + 1.0) / (said.left_low + 1.0)))
        errors.append(abs(log((said.left_median + 1.0) / (truth + 1.0))))
    return Row(*(float(np.mean(one)) if one else float("nan") for one in (inside, widths, errors)), len(inside) / lives)


def _line(name: str, without: Row, beside: Row) -> str:
    def cells(row: Row) -> str:
        return f"{row.said:5.2f} {row.coverage:6.3f} {row.width:6.2f} {row.error:6.3f}"

    return f"{name:<58} {cells(without)}   {cells(beside)}"


def _rows(plants: int, wears: int, presses: Sequence[int]) -> None:
    head = f"{'':<58} {'without elsewhere':<27}  {'with':<27}\n{'':<58} {' said in 80%  width  error' * 2}"
    print(f"{plants} plants a row, {EACH} lives a press, a quarter taken out sound\n{head}")
    for n in presses:
        for apart in (0.0, 0.2, 0.5):
            for own in (0, 3, 6, 12):
                for at in (0.0, 0.5):
                    both = [
                        foretold(plants, log(1.0 + apart), own, elsewhere=one, at=at, presses=n)
                        for one in (False, True)
                    ]
                    print(
                        _line(f"{n} presses apart by {apart:.0%}, {own:>2} here, at {at:.1f} lives", *both), flush=True
                    )
    for times in (3.0, 1.0 / 3.0):
        for own in (0, 1, 2, 3, 4, 6, 9, 12):
            both = [foretold(plants, 0.18, own, elsewhere=one, times=times) for one in (False, True)]
            print(_line(f"lives elsewhere {times:.2f} times as long, {own:>2} here", *both), flush=True)
    print(f"\nwear followed on a first insert, {wears} lives a row")
    for apart in (0.0, 0.2, 0.5):
        both = [play(wears, log(1.0 + apart), elsewhere=one) for one in (False, True)]
        print(_line(f"rates apart by {apart:.0%}", *both), flush=True)
    for sooner in (3.0, 1.0 / 3.0):
        both = [play(wears, 0.18, elsewhere=one, sooner=sooner) for one in (False, True)]
        print(_line(f"wear elsewhere {sooner:.2f} times as fast", *both), flush=True)


def main() -> None:
    """Print both tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--plants", type=int, default=600)
    parser.add_argument("--wears", type=int, default=120)
    given = parser.parse_args()
    _rows(given.plants, given.wears, (1, PRESSES))


if __name__ == "__main__":
    main()
