"""The bars of the call, read off simulated lives: for each rate of false calls, the log odds so many lives reach.

`python -m tests.benchmark.set_bars [--presses N] [--seed N] [--channels 3 9] [--healthy] [--lives N]`

Presses of many kinds, unlike what the filter takes them for (`lives/unlike.py`), make seven lives each, half of them
faulty. A healthy
life is judged with the bar at the lowest of the range; where it is called, it is judged again from its start with the
bar at those log odds, until nothing is called: the last bar is the highest value at which the monitor, with all its
other conditions, would have called. Faulty lives are judged once, with the bar as it stands. The tail is smoothed: the
logarithm of the rate falls along a straight line in the bar, fitted over the rates that enough lives tell.
"""

import argparse
import sys
from collections.abc import Iterator
from contextlib import contextmanager

import numpy as np

from shotlog.wear.change import bars as room
from shotlog.wear.monitor import Monitor
from tests.benchmark.lives.press import Life
from tests.benchmark.lives.unlike import UnlikePress

RATES = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0)
LOWEST = -1.0
FAR = 8.0
"""Log odds that no healthy life should reach by chance: above it the model is wrong, not the bar."""

OWN_SEED = 77_000_013
SISTERS = {"0 sisters": (1, 1), "1-2 sisters": (2, 3), "3+ sisters": (4, 99)}


@contextmanager
def bar_at(value: float) -> Iterator[None]:
    """Set the bar of every monitor to `value`, wherever the function that gives it was imported."""
    name = room.log_odds_threshold.__name__
    held = {
        module: getattr(module, name)
        for key, module in list(sys.modules.items())
        if key.startswith("shotlog.wear") and hasattr(module, name)
    }
    try:
        for module in held:
            setattr(module, name, lambda *_, **__: value)
        yield
    finally:
        for module, ours in held.items():
            setattr(module, name, ours)


def highest(press: str, state: list[object], life: Life) -> tuple[float | None, Monitor]:
    """The highest log odds at which a healthy life would have been called, and the monitor after it; None where it is
    called whatever the bar, for a change that is said to have outlived the swap."""
    bar = LOWEST
    while True:
        monitor = Monitor(press, {})
        monitor.restore(state)
        with bar_at(bar):
            called = next((v for v in map(monitor.step, life.shots) if v.verdict != "keep"), None)
        if called is None:
            return bar, monitor
        if called.statistic is None or called.statistic < bar:
            with bar_at(bar):
                for shot in life.shots:
                    if shot.shot > called.shot:
                        monitor.step(shot)
            return None, monitor
        bar = float(np.nextafter(called.statistic, np.inf))


def peaks(seed: int, n_presses: int, n_channels: int, faulty: float, n_lives: int) -> dict[str, list[float]]:
    """By number of sisters, the highest log odds of each healthy life."""
    out: dict[str, list[float]] = {name: [] for name in SISTERS}
    for i in range(n_presses):
        rng = np.random.default_rng([OWN_SEED, seed, n_channels, i])
        press = UnlikePress(rng, f"press-{i}", n_channels)
        monitor = Monitor(press.name, {})
        for _ in range(n_lives):
            life = press.life(bool(rng.random() < faulty), carry=bool(rng.random() < 0.5))
            if life.fault is not None or life.carried is not None:
                for shot in life.shots:
                    monitor.step(shot)
                continue
            peak, monitor = highest(press.name, monitor.save(), life)
            if peak is not None:
                out[next(name for name, (low, high) in SISTERS.items() if low <= life.number <= high)].append(peak)
    return out


def bars(values: list[float]) -> tuple[list[float], list[float]]:
    """The bars at RATES: the quantiles as they are, and smoothed by the straight line of the tail."""
    peak = np.sort(values)
    raw = [float(np.quantile(peak, 1 - rate / 100)) for rate in RATES]
    share = 1 - (np.arange(len(peak)) + 0.5) / len(peak)
    tail = (share <= 0.3) & (share >= min(0.01, 5 / len(peak))) & (peak > LOWEST)
    if tail.sum() < 5:
        return raw, raw
    slope, start = np.polyfit(peak[tail], np.log(100 * share[tail]), 1)
    return raw, [
        float((np.log(rate) - start) / slope) if rate <= 20 else at for rate, at in zip(RATES, raw, strict=True)
    ]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--presses", type=int, default=150)
    parser.add_argument("--channels", type=int, nargs="*", default=[3, 9])
    parser.add_argument("--healthy", action="store_true", help="no faulty lives among those of a press")
    parser.add_argument("--lives", type=int, default=7, help="of each press; 1 for first inserts alone")
    wanted = parser.parse_args()
    print(f"BAR_RATES: {RATES}")
    for n_channels in wanted.channels:
        found = peaks(wanted.seed, wanted.presses, n_channels, 0.0 if wanted.healthy else 0.5, wanted.lives)
        for name, values in found.items():
            if not values:
                continue
            raw, smooth = bars(values)
            far = sum(one > FAR for one in values)
            print(f"# {n_channels} channels, {name}: {len(values)} healthy lives, {far} above {FAR:g}: look at those")
            print(f"#   as they are: {[round(one, 2) for one in raw]}")
            print(f"    {tuple(round(one, 2) for one in smooth)}", flush=True)


if __name__ == "__main__":
    main()
