"""Control charts: arrays or single readings in, points out; no file, no clock, no plot.

Importing this package does not load SciPy; a chart that needs a quantile loads it when it is built or first asked.
"""

from collections.abc import Mapping
from types import MappingProxyType

from shotlog.charts.base import MISSING, Chart, Point, Run, VectorChart
from shotlog.charts.changepoint import ChangePoint
from shotlog.charts.cusum import Cusum
from shotlog.charts.deviation import DeviationFromStart
from shotlog.charts.ewma import Ewma
from shotlog.charts.hotelling import HotellingT2
from shotlog.charts.individuals import Individuals
from shotlog.charts.mewma import Mewma
from shotlog.charts.moving_range import MovingRange
from shotlog.charts.prediction import Prediction
from shotlog.charts.q import QChart
from shotlog.charts.residual import Residual
from shotlog.charts.self_starting_cusum import SelfStartingCusum
from shotlog.charts.self_starting_ewma import SelfStartingEwma
from shotlog.charts.trend import Trend

__all__ = [
    "CHARTS",
    "MISSING",
    "ChangePoint",
    "Chart",
    "Cusum",
    "DeviationFromStart",
    "Ewma",
    "HotellingT2",
    "Individuals",
    "Mewma",
    "MovingRange",
    "Point",
    "Prediction",
    "QChart",
    "Residual",
    "Run",
    "SelfStartingCusum",
    "SelfStartingEwma",
    "Trend",
    "VectorChart",
]

CHARTS: Mapping[str, type[Chart] | type[VectorChart]] = MappingProxyType(
    {
        "individuals": Individuals,
        "mr": MovingRange,
        "ewma": Ewma,
        "cusum": Cusum,
        "t2": HotellingT2,
        "mewma": Mewma,
        "q": QChart,
        "self-starting": SelfStartingCusum,
        "self-starting-ewma": SelfStartingEwma,
        "prediction": Prediction,
        "deviation": DeviationFromStart,
        "changepoint": ChangePoint,
        "trend": Trend,
        "residual": Residual,
    }
)
"""Every chart by its kind. A new chart is one file and one line here."""
