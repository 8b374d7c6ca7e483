"""What the columns of a frame may hold, so that their types are the same however many rows there are, none included."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["COUNT", "NUMBER", "TEXT", "TIME", "WHOLE", "YES_NO", "Columns", "column", "frame_of"]

TEXT = "object"
"""Text, empty where there is none."""
COUNT = "int64"
"""A whole number that is always there."""
WHOLE = "Int64"
"""A whole number that may be missing: NA."""
NUMBER = "float64"
"""A number, NaN where there is none."""
YES_NO = "bool"
TIME = "datetime64[ns, UTC]"
"""A time in UTC, NaT where there is none."""

Columns = Mapping[str, str]
"""The kind of each column, in order."""


def frame_of(
    rows: Iterable[Mapping[str, Any]], columns: Columns, units: Mapping[str, str] | None = None
) -> "pd.DataFrame":
    """Return rows as a frame of these columns, each of its kind, with the units in its attrs."""
    import pandas as pd

    held = list(rows)
    frame = pd.DataFrame({name: column((row[name] for row in held), kind) for name, kind in columns.items()})
    frame.attrs["units"] = dict(units or {})
    return frame


def column(values: Iterable[Any], kind: str) -> "pd.Series[Any]":
    """Return values as a column of a kind; None is where there is none."""
    import pandas as pd

    if kind == TIME:
        return pd.to_datetime(pd.Series(list(values), dtype="object"), utc=True)
    if kind == TEXT:
        return pd.Series(["" if value is None else value for value in values], dtype=TEXT)
    return pd.Series(list(values), dtype=kind)
