"""Writing a recording, column by column."""

import csv
from collections.abc import Iterable, Mapping, Sequence
from itertools import repeat
from pathlib import Path

from shotlog.cells import as_cell
from shotlog.outputs import written_aside
from shotlog.recording.heading import FIXED_COLUMNS, OF_HALVES, OPTIONAL_COLUMNS

__all__ = ["Columns", "write"]

Columns = Mapping[str, Sequence[object]]
"""Shots as columns by name: all of `FIXED_COLUMNS` and `OPTIONAL_COLUMNS`, and of channels those there are. A time is
written as it should stand, a value that was not measured is None."""

_TYPED = ("press", *OF_HALVES, "event")
"""Columns with texts that anybody may have typed."""


def write(path: Path, blocks: Iterable[Columns], channels: Iterable[str], optional: bool) -> int:
    """Write shots, given as columns some at a time, as a recording; return how many they were.

    Parameters
    ----------
    channels
        The channels that get a column, in order.
    optional
        Whether the optional columns are written.
    """
    names = [*FIXED_COLUMNS, *(OPTIONAL_COLUMNS if optional else ()), *channels]
    n = 0
    with written_aside(path) as aside, aside.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(names)
        for block in blocks:
            n_shots = len(block["shot"])
            columns = [_cells(name, block[name]) if name in block else repeat(None, n_shots) for name in names]
            writer.writerows(zip(*columns, strict=True))
            n += n_shots
    return n


def _cells(name: str, column: Sequence[object]) -> Sequence[object]:
    """Return a column as it is written: few texts differ, and hardly any needs another form."""
    if name not in _TYPED or all(as_cell(text) == text for text in set(column)):
        return column
    return [as_cell(text) for text in column]
