"""Control charts: arrays or single readings in, points out; no file, no clock, no plot.

Here are those that run on every insert beside the press, and what every chart is made of; `audit` has the others and
the table of all. Importing this package does not load SciPy; a chart that needs a quantile loads it when it is built
or first asked.
"""

from shotlog.charts.base import MISSING, Chart, ChartRun, Point, VectorChart
from shotlog.charts.individuals import Individuals
from shotlog.charts.moving_range import MovingRange

__all__ = ["MISSING", "Chart", "ChartRun", "Individuals", "MovingRange", "Point", "VectorChart"]
