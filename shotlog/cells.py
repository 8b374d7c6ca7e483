"""Texts as cells of the CSV files that leave: none of them is a formula to a spreadsheet, and each reads back exactly.

A spreadsheet takes a cell that begins with one of `FORMULA` for something to compute, and what stands there may have
been typed by anybody. Such a text gets an apostrophe in front, and so does one that begins with apostrophes and then
one of them; reading takes one away from exactly those. Every other text, and every number, is written as it is.
"""

import re

__all__ = ["FORMULA", "as_cell", "from_cell"]

FORMULA = "=+-@\t\r\n＝＋－＠"
"""The full-width marks are formulas as well where such letters are written."""

_TAKEN_FOR_ONE = re.compile(f"'*[{re.escape(FORMULA)}]")
_FIRST = frozenset(f"'{FORMULA}")
"""What such a text begins with: nearly every text is told by that, at a fraction of the cost."""


def as_cell(value: object) -> object:
    """Return what is written for a value: a text as one that a spreadsheet shows, anything else as it is.

    Examples
    --------
    >>> as_cell("=1+1"), as_cell("'=1+1"), as_cell("'tis"), as_cell(-1.5)
    ("'=1+1", "''=1+1", "'tis", -1.5)
    """
    odd = isinstance(value, str) and value[:1] in _FIRST and _TAKEN_FOR_ONE.match(value)
    return f"'{value}" if odd else value


def from_cell(text: str) -> str:
    """Return the text that `as_cell` wrote.

    Examples
    --------
    >>> from_cell("'=1+1"), from_cell("''=1+1"), from_cell("'tis"), from_cell("-1.5")
    ('=1+1', "'=1+1", "'tis", '-1.5')
    """
    return text[1:] if text.startswith("'") and _TAKEN_FOR_ONE.match(text) else text
