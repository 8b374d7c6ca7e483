"""What the charts cost: the array form against one plain NumPy pass, one at a time against the length of history.

Of processor time, by turns within one run; nothing is asserted. Run by `make bench`.
"""

import time
from collections.abc import Callable, Iterator

import numpy as np

from shotlog.charts import Individuals, MovingRange
from shotlog.charts.audit import Cusum, Ewma, SelfStartingCusum
from shotlog.charts.base import Chart
from tests.benchmark.bench import Bench
from tests.benchmark.row import Row, by_turns

MADE: dict[str, Callable[[], Chart]] = {
    "individuals": lambda: Individuals(centre=0.0, sigma=1.0),
    "mr": lambda: MovingRange(sigma=1.0),
    "ewma": lambda: Ewma(centre=0.0, sigma=1.0),
    "cusum": lambda: Cusum(centre=0.0, sigma=1.0),
    "self-starting": lambda: SelfStartingCusum(),
}
WHY = {
    "cusum": "two sums that are reset after each signal, which no plain pass gives",
    "self-starting": "a t and a normal quantile a point, of SciPy: the level is learnt from the points themselves",
}


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what every chart costs a point of a long array, and a shot after a long history."""
    yield from whole_array(bench.shots, 7)
    yield one_at_a_time(1_000, bench.shots, 2_000)


def whole_array(n: int, rounds: int) -> Iterator[Row]:
    """Yield a row a chart: all of an array at once, against a plain pass over it."""
    xs = np.random.default_rng(20261125).normal(size=n)
    works: dict[str, Callable[[], object]] = {kind: lambda make=make: make().run(xs) for kind, make in MADE.items()}  # type: ignore[misc]
    took = by_turns({"plain": lambda: np.cumsum(xs), **works}, rounds, time.process_time, n)
    for kind in MADE:
        what = f"chart {kind}, an array of {n}"
        yield Row(what, "s a point", took[kind], took["plain"], "cumsum of NumPy", WHY.get(kind, ""))


def one_at_a_time(short: int, long: int, n: int) -> Row:
    """Return the row of all charts together: a shot after `long` of history, against a shot after `short`."""
    rng = np.random.default_rng(7)
    xs = rng.normal(size=n).tolist()
    charts = {name: [make() for make in MADE.values()] for name in ("short", "long")}
    for name, history in (("short", short), ("long", long)):
        for chart in charts[name]:
            chart.run(rng.normal(size=history))
    works: dict[str, Callable[[], object]] = {
        name: lambda made=made: [chart.update(x) for chart in made for x in xs]  # type: ignore[misc]
        for name, made in charts.items()
    }
    took = by_turns(works, 5, time.process_time, n)
    what = f"these charts, a shot after {long}"
    return Row(what, "s a shot", took["long"], took["short"], f"a shot after {short}", "", goal=1.2)
