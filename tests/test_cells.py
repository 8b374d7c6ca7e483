"""What people typed stands in a CSV file as text, never as a formula, and reads back to the letter."""

import csv
import io

from hypothesis import example, given
from hypothesis import strategies as st

from shotlog.cells import FORMULA, as_cell, from_cell

marked = st.lists(st.sampled_from([*FORMULA, "'", "a", "1", " ", '"', ","]), max_size=6).map("".join)


@given(st.one_of(marked, st.text()))
@example("'=1+1")
@example("''")
def test_no_text_is_a_formula_and_each_reads_back(text: str) -> None:
    cell = as_cell(text)
    assert isinstance(cell, str)
    assert cell[:1] not in set(FORMULA)
    assert from_cell(cell) == text


@given(st.lists(marked, unique=True, max_size=20))
def test_two_texts_never_become_one(texts: list[str]) -> None:
    assert len({as_cell(text) for text in texts}) == len(texts)


@given(st.lists(marked, min_size=1, max_size=4))
def test_it_survives_the_file(texts: list[str]) -> None:
    out = io.StringIO(newline="")
    csv.writer(out).writerow([as_cell(text) for text in texts])
    out.seek(0)
    assert [from_cell(cell) for cell in next(csv.reader(out))] == texts


def test_numbers_and_what_is_no_formula_stay_as_they_are() -> None:
    for value in (-1.5, 3, None, "", "'tis", "'", "lot:=7", " =1"):
        assert as_cell(value) == value
