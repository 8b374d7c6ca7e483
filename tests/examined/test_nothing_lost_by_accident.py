"""It keeps running and loses nothing: what was done to a logger once, done again to a real one, from outside.

The whole table is played by ``make soak`` (`tests/faults/table`); here stand those rows that are quick and that no
other test plays with a real process from end to end.
"""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.faults.table import rows, typed
from tests.faults.table.bed import Play

PLAYED = (
    typed.order_of_the_log,
    *(pytest.param(row, marks=pytest.mark.file) for row in (rows.file_deleted, rows.unreadable)),
)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="plays presses on pseudo-terminals, as Linux has them")
@pytest.mark.parametrize("row", PLAYED, ids=lambda row: row.__name__)
def test_row(row: Callable[[Path], Play], tmp_path: Path) -> None:
    play = row(tmp_path)
    assert play.tried
    assert not play.lost
    assert not play.doubled
    assert not play.wrong, play.said


def test_every_row_of_the_table_is_played() -> None:
    text = "".join((row.__doc__ or "")[:3] for row in (*rows.ROWS, *typed.TYPED))
    assert {n for n in range(1, 21) if f"{n}:" in text or f"{n} " in text} == set(range(1, 21))
