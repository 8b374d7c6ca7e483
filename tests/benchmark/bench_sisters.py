"""What sisters on other presses are worth to a press, by simulated plants: ``python -m tests.benchmark.bench_sisters``.

Lives are Weibull (trade notes: shape 2 to 3), a quarter of them taken out sound before; presses differ in the scale by
a log-normal of the spread said. Each plant has a press of its own design life, its lives told as entries are and taken
in by the pool; asked is what a sound insert is said to have left, at its first shot and at half of the median life,
against how long it lives. The last row plays sound lives through the monitor, with lives elsewhere and without, shot
for shot alike: what is called must be the same. Seeds are fixed; the columns: share of lives in the 80 % interval, its
width (log of high over low end of the whole life), error of the median (log, mean of what is off), and in how many
plants anything was said at all.
"""

import argparse
from dataclasses import dataclass
from math import exp, inf, log

import numpy as np

from shotlog.life_text import LifeTold, life_text
from shotlog.wear.life.lifetimes import EndedLife
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.worn import COURSES
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.shots_left import lives_left
from tests.wear.made import life

__all__ = ["Call", "Row", "foretold", "sound_lives_called"]

MEDIAN, SOUND = 90.0, 0.25
PRESSES, EACH = 8, 6

Call = tuple[int, int, str | None, int | None]
"""Press, shot, cause and onset."""


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


def sound_lives_called(presses: int, lives: int, *, elsewhere: bool, seed: int = 7) -> list[Call]:
    """Return the calls on sound lives, `lives` of up to 90 shots one after the other on each press; the same shots
    whether 18 lives elsewhere are told at the first and one more with every life here, or none.
    """
    calls = []
    for press in range(presses):
        rng, first, monitor = np.random.default_rng([seed, press]), 1, Monitor("p", {})
        for k in range(lives):
            n = int(rng.integers(40, 91))
            told = [_told_of(rng, f"X{k}-{j}", f"P{j % 6}") for j in range(1 if k else 18)]
            events = {1: tuple(("life", life_text(one)) for one in told)} if elsewhere else {}
            rows = life(int(rng.integers(2**31)), f"A{k}", n, first, hours=3.0 * k, events=events)
            verdicts = [monitor.step(shot) for shot in rows]
            calls += [(press, v.shot, v.cause, v.onset) for v in verdicts if v.cause][:1]
            first += n
    return calls


def _told_of(rng: np.random.Generator, serial: str, press: str) -> LifeTold:
    made, gone = int(rng.integers(20, 200)), bool(rng.random() < 0.7)
    course = tuple(float(one) for one in rng.dirichlet(np.ones(len(COURSES)))) if gone else ()
    return LifeTold(serial, "d", made, made, gone, gone and course[0] > 0.5, press=press, course=course)


def _line(name: str, without: Row, beside: Row) -> str:
    def cells(row: Row) -> str:
        return f"{row.said:5.2f} {row.coverage:6.3f} {row.width:6.2f} {row.error:6.3f}"

    return f"{name:<58} {cells(without)}   {cells(beside)}"


def _rows(plants: int, sound: int) -> None:
    head = f"{'':<58} {'without elsewhere':<27}  {'with':<27}\n{'':<58} {' said in 80%  width  error' * 2}"
    print(f"{plants} plants a row, {EACH} lives a press, a quarter taken out sound\n{head}")
    for n in (1, PRESSES):
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
    alone, beside = (sound_lives_called(sound, 20, elsewhere=one) for one in (False, True))
    same = "the same" if alone == beside else "OTHER ONES"
    print(f"\nsound lives {20 * sound}, called without lives elsewhere {len(alone)}, with {len(beside)}: {same}")


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--plants", type=int, default=600)
    parser.add_argument("--presses", type=int, default=100)
    given = parser.parse_args()
    _rows(given.plants, given.presses)


if __name__ == "__main__":
    main()
