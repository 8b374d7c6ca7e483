"""One line of a bench balance as a reading. Pure.

Balances send a line per key press, or ten a second; an optional mark that says whether the weight is steady, a sign
that may stand apart, a number with point or comma, a unit. No dialect is assumed: what does not read is said.
"""

import re
from dataclasses import dataclass

from shotlog.errors import UsageError
from shotlog.units import converter

__all__ = ["BalanceReading", "Refused", "read_line"]

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*(?P<number>\d{1,9}(?:[.,]\d{0,6})?|[.,]\d{1,6})\s*(?P<unit>[A-Za-z%]*)", re.ASCII
)
_STEADY = re.compile(r"(?:^|[\s,;])(?:ST|S|=)(?=$|[\s,;])", re.IGNORECASE)
_MOVING = re.compile(r"(?:^|[\s,;])(?:US|SD|D|~|\?)(?=$|[\s,;])", re.IGNORECASE)
_BEYOND = re.compile(r"-{3,}|_{3,}|\^{3,}|\+{3,}|over|under|\b(?:OL|UL|HH+|LL+|ERR?)\b", re.IGNORECASE)
_UNITS = {"g": "g", "mg": "mg", "kg": "kg", "oz": "oz", "ct": "carat"}
"""Units taken, as the units library names them; the avoirdupois ounce."""


@dataclass(frozen=True, slots=True)
class BalanceReading:
    """What a line shows: g, and whether it is steady (None where the line has no mark)."""

    grams: float
    steady: bool | None


@dataclass(frozen=True, slots=True)
class Refused:
    """A line that is no weight: `kind` is one short word for counting, `detail` says why."""

    kind: str
    detail: str


def read_line(text: str, unit: str) -> BalanceReading | Refused | None:
    """Read one line; None for a blank one.

    Parameters
    ----------
    unit
        What a number without a unit is in.

    Examples
    --------
    >>> read_line("W +10.203 g =", "g")
    BalanceReading(grams=10.203, steady=True)
    >>> read_line("W  10,21 g ~", "g")
    BalanceReading(grams=10.21, steady=False)
    >>> read_line("W ---- g !", "g").kind
    'overload'
    >>> read_line("- 12 mg", "g")
    BalanceReading(grams=-0.012, steady=None)
    """
    if not text.strip():
        return None
    if _BEYOND.search(text):
        return Refused("overload", f"the balance shows {text.strip()!r}: over or under its range")
    found = list(_NUMBER.finditer(text))
    if len(found) != 1:
        return Refused("no weight", f"{text.strip()!r} holds {len(found)} numbers, allowed: one")
    shown = found[0]["unit"].lower() or unit
    if shown not in _UNITS:
        return Refused("unit", f"{text.strip()!r} is in {found[0]['unit']}, allowed: {', '.join(_UNITS)}")
    value = float(found[0]["number"].replace(",", ".")) * (-1.0 if found[0]["sign"] == "-" else 1.0)
    try:
        grams = converter(_UNITS[shown], "g")(value)
    except UsageError as error:
        return Refused("unit", str(error))
    rest = text[: found[0].start()] + " " + text[found[0].end() :]
    steady = False if _MOVING.search(rest) else True if _STEADY.search(rest) else None
    return BalanceReading(round(grams, 9), steady)
