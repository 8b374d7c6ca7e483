"""What happened, as the page *After the shift* shows it: which view is asked for, read from the log, as tables."""

from dashboard.shift.query import Query
from dashboard.shift.whole import Shift, ShiftReader

__all__ = ["Query", "Shift", "ShiftReader"]
