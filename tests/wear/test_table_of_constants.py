"""The table of constants: each has a unit and a source, goes by one name, and is used."""

import re
from pathlib import Path

import pytest

from shotlog.wear import constants
from shotlog.wear.constants import TABLE
from tests.benchmark.bench_constants import DOCUMENT, shown

ROOM = Path(constants.__file__).parent
CODE = "\n".join(path.read_text(encoding="utf-8") for path in ROOM.rglob("*.py") if path.name != "constants.py")
SOURCES = ("own", "convention", "judgement", "structure")


@pytest.mark.parametrize("name", TABLE)
def test_a_constant_goes_by_its_name_and_says_where_it_comes_from(name: str) -> None:
    row = TABLE[name]
    assert getattr(constants, name) == row.value
    assert row.unit
    assert row.source.startswith(SOURCES)
    assert re.search(rf"\b{name}\b", CODE), "a constant that nothing uses"


def test_no_other_file_keeps_constants_of_its_own() -> None:
    """Numbers at the head of a file belong into the table; what is left names a form or counts columns."""
    kept = re.findall(r"^(_?[A-Z][A-Z_0-9]*)(?:: \w+)? = [-(]*\d+[.\d]*", CODE, re.MULTILINE)
    assert sorted(kept) == ["GRADUAL", "N_LEVEL", "SHAPE_COUNT", "STATE", "STAYS"]


def test_the_document_holds_the_table_as_it_is() -> None:
    """After a change: `python -m tests.benchmark.bench_constants NAME`, and its line into `constants.md`."""
    lines = DOCUMENT.read_text(encoding="utf-8").splitlines()
    rows = {cells[1]: cells[2:5] for line in lines if len(cells := [one.strip() for one in line.split("|")]) == 8}
    for name, row in TABLE.items():
        assert rows.get(name) == [shown(row.value), row.unit, row.source], name
