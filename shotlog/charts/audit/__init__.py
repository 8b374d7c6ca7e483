"""The charts that only `shotlog chart` runs, on any column of numbers, and the table of every chart there is.

What runs beside the press on each insert lies one room up.
"""

from collections.abc import Mapping
from types import MappingProxyType

from shotlog.charts.audit.changepoint import ChangePoint
from shotlog.charts.audit.cusum import Cusum
from shotlog.charts.audit.deviation import DeviationFromStart
from shotlog.charts.audit.ewma import Ewma
from shotlog.charts.audit.hotelling import HotellingT2
from shotlog.charts.audit.mewma import Mewma
from shotlog.charts.audit.prediction import Prediction
from shotlog.charts.audit.q import QChart
from shotlog.charts.audit.residual import Residual
from shotlog.charts.audit.self_starting_cusum import SelfStartingCusum
from shotlog.charts.audit.self_starting_ewma import SelfStartingEwma
from shotlog.charts.audit.trend import Trend
from shotlog.charts.base import Chart, VectorChart
from shotlog.charts.individuals import Individuals
from shotlog.charts.moving_range import MovingRange

__all__ = [
    "CHARTS",
    "ChangePoint",
    "Cusum",
    "DeviationFromStart",
    "Ewma",
    "HotellingT2",
    "Mewma",
    "Prediction",
    "QChart",
    "Residual",
    "SelfStartingCusum",
    "SelfStartingEwma",
    "Trend",
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
