"""The recording: shots with what was in force, as CSV. What `export` writes and `replay` reads.

Columns: ``press,shot,time``, then ``fixed,moving,core`` (serials in force), ``design``, ``event`` (``KIND:TEXT``,
``;``-separated, ``KIND@HALF:TEXT`` where a half was named; why an insert was taken out is ``removed:SERIAL:REASON`` at
the first shot made without it), the optional ``single_use`` (halves that take a new piece every shot) and
``print_batch`` (``HALF:BATCH``, ``;``-separated), then a column a channel, in its unit. An empty cell is not known.

Numbers are written with as many digits as it takes to read the same number back; texts as `cells` says.
"""

from shotlog.recording.attribution import event_cell, halves_cells, one_line
from shotlog.recording.heading import FIXED_COLUMNS, OF_HALVES, OPTIONAL_COLUMNS
from shotlog.recording.line import NUMBER
from shotlog.recording.reading import read
from shotlog.recording.writing import Columns, write

__all__ = [
    "FIXED_COLUMNS",
    "NUMBER",
    "OF_HALVES",
    "OPTIONAL_COLUMNS",
    "Columns",
    "event_cell",
    "halves_cells",
    "one_line",
    "read",
    "write",
]
