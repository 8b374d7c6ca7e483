"""Columns of any CSV file as numbers, for ``shotlog chart``."""

import csv
import math
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.errors import RecordingError, UsageError

if TYPE_CHECKING:
    from shotlog.charts.base import Floats

__all__ = ["read_columns"]


def read_columns(path: Path, columns: list[str]) -> "Floats":
    """The columns as an array, shape (n_rows, n_columns); an empty cell is missing, NaN. Blank lines are skipped.

    Raises
    ------
    RecordingError
        The file is empty or no text, or a cell is no finite number: says which line.
    UsageError
        A column the file does not have, or has twice.
    """
    import numpy as np

    try:
        with path.open(newline="", encoding="utf-8-sig") as file:
            rows = list(csv.reader(file))
    except (UnicodeDecodeError, csv.Error) as error:
        raise RecordingError(f"{path}: does not read as CSV: {error}") from error
    if not rows or not any(cell.strip() for cell in rows[0]):
        raise RecordingError(f"{path}: the file is empty, allowed: a row of column names, then rows of values")
    names = [cell.strip() for cell in rows[0]]
    for column in columns:
        if names.count(column) != 1:
            raise UsageError(f"{path}: given column {column!r}, allowed: one of {', '.join(names)}, named once")
    at = [names.index(column) for column in columns]
    table = [
        [_number(path, line, names[i], row[i] if i < len(row) else None) for i in at]
        for line, row in enumerate(rows[1:], start=2)
        if any(cell.strip() for cell in row)
    ]
    return np.array(table, dtype=float).reshape(-1, len(columns))


def _number(path: Path, line: int, column: str, cell: str | None) -> float:
    if cell is None:
        raise RecordingError(f"{path}: line {line} is too short for column {column}, allowed: a cell for every column")
    if not cell.strip():
        return math.nan
    try:
        value = float(cell)
    except ValueError:
        value = math.inf
    if math.isinf(value):
        raise RecordingError(
            f"{path}: line {line}, {column}: given {cell.strip()!r}, allowed: a finite number, or empty"
        )
    return value
