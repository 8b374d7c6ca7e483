"""Control charts: arrays or single readings in, points out; no file, no clock, no plot.

Importing this package does not load SciPy; a chart that needs a quantile loads it when it is built or first asked.
"""

from collections.abc import Mapping
from types import MappingProxyType

from shotlog.charts.base import MISSING, Chart, Point, Run
from shotlog.charts.cusum import Cusum
from shotlog.charts.ewma import Ewma
from shotlog.charts.individuals import Individuals
from shotlog.charts.moving_range import MovingRange

__all__ = ["CHARTS", "MISSING", "Chart", "Cusum", "Ewma", "Individuals", "MovingRange", "Point", "Run"]

CHARTS: Mapping[str, type[Chart]] = MappingProxyType(
    {
        Individuals.kind: Individuals,
        MovingRange.kind: MovingRange,
        Ewma.kind: Ewma,
        Cusum.kind: Cusum,
    }
)
"""Every chart by its kind. A new chart is one file and one line here."""
