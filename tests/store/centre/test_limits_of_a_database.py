"""What a centre needs, against what PostgreSQL allows at most.

Limits: PostgreSQL 15 documentation, appendix K, "PostgreSQL Limits" (https://www.postgresql.org/docs/15/limits.html).
"""

from datetime import date

from shotlog.store.centre.batch import _ROWS
from shotlog.store.centre.months import part_name
from shotlog.store.centre.tables import AT_CENTRE, BY_MONTH, TABLES

COLUMNS, INDEX_COLUMNS, NAME_BYTES, PARAMETERS = 1600, 32, 63, 65_535
TABLE_BYTES = 32 * 2**40
"""Of a table, hence of one month, with pages of 8 kB."""
ROW_NUMBERS = 2**63
PRESSES, SHOT_S = 1000, 5.0
"""A plant as large as is spoken of, each press with a shot every 5 s all month long."""
ROW_BYTES = 4000
"""Of the widest row with its indexes, a verdict with all its facts: several times what is common."""


def test_tables_columns_indexes_and_names_fit() -> None:
    for table in TABLES.sorted_tables:
        assert len(table.columns) <= COLUMNS / 10
        for index in table.indexes:
            assert len(index.columns) <= INDEX_COLUMNS / 2
            assert len(str(index.name).encode()) <= NAME_BYTES
    for name in BY_MONTH:
        part = part_name(name, date(2026, 12, 1))
        indexes = [index.columns.keys() for index in AT_CENTRE[name].indexes]
        assert all(len(f"{part}_{'_'.join(columns)}_idx".encode()) < 2 * NAME_BYTES for columns in indexes)
        assert len(part.encode()) <= NAME_BYTES


def test_a_month_of_a_large_plant_fits_into_a_table() -> None:
    shots = PRESSES * 31 * 86_400 / SHOT_S
    assert shots * ROW_BYTES < TABLE_BYTES / 10
    assert shots * 12 * 1000 < ROW_NUMBERS / 1e6


def test_a_batch_goes_without_parameters() -> None:
    """Rows are copied; as parameters, a batch would have more than a query takes."""
    assert _ROWS * max(len(table.columns) for table in AT_CENTRE.values()) > PARAMETERS
