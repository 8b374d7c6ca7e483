"""What the charts cost: the array form against one plain NumPy pass, one at a time against the length of history.

Ratios are taken within one run, as medians of interleaved repeats; nothing is asserted. Run by `make bench`.
"""

import argparse
import statistics
import time
from collections.abc import Callable

import numpy as np

from shotlog.charts import Individuals, MovingRange
from shotlog.charts.audit import Cusum, Ewma, SelfStartingCusum
from shotlog.charts.base import Chart

MADE: dict[str, Callable[[], Chart]] = {
    "individuals": lambda: Individuals(centre=0.0, sigma=1.0),
    "mr": lambda: MovingRange(sigma=1.0),
    "ewma": lambda: Ewma(centre=0.0, sigma=1.0),
    "cusum": lambda: Cusum(centre=0.0, sigma=1.0),
    "self-starting": lambda: SelfStartingCusum(),
}


def timed(work: Callable[[], object]) -> float:
    """Return the seconds one call takes."""
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def whole_array(n: int, repeats: int) -> None:
    xs = np.random.default_rng(20261125).normal(size=n)
    passes: list[float] = []
    costs: dict[str, list[float]] = {kind: [] for kind in MADE}
    for _ in range(repeats):
        passes.append(timed(lambda: np.cumsum(xs)))
        for kind, make in MADE.items():
            chart = make()
            costs[kind].append(timed(lambda chart=chart: chart.run(xs)))  # type: ignore[misc]
    plain = statistics.median(passes)
    print(f"whole array, {n} points; a plain NumPy pass (cumsum) takes {plain / n * 1e9:.2f} ns a point")
    for kind, seconds in costs.items():
        cost = statistics.median(seconds)
        print(f"  {kind:<14} {cost / n * 1e9:8.1f} ns a point   {cost / plain:6.1f} x the plain pass")


def one_at_a_time(short: int, long: int, n: int) -> None:
    print(f"one at a time, {n} shots each, after {short} and after {long} shots of history")
    for kind, make in MADE.items():
        chart = make()
        rng = np.random.default_rng(7)
        chart.run(rng.normal(size=short))
        xs = rng.normal(size=n).tolist()
        early = timed(lambda chart=chart, xs=xs: [chart.update(x) for x in xs])  # type: ignore[misc]
        chart.run(rng.normal(size=long - short - n))
        late = timed(lambda chart=chart, xs=xs: [chart.update(x) for x in xs])  # type: ignore[misc]
        print(f"  {kind:<14} {early / n * 1e6:6.2f} us and {late / n * 1e6:6.2f} us a shot   ratio {late / early:.2f}")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--points", type=int, default=1_000_000)
    parser.add_argument("--repeats", type=int, default=7)
    options = parser.parse_args()
    whole_array(options.points, options.repeats)
    one_at_a_time(100, options.points, 2000)
