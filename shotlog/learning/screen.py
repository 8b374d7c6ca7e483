"""What a person read off the press's own screen: figures with their digits, tied to a shot. Pure.

A figure settles more than any statistics: 812 read on the screen at shot 1042 leaves few registers that showed 812,
8120 or 81.2 just then, and a second shot leaves one. How far a figure reaches is in its digits: 5.12 was rounded, or
cut off, at the second decimal.
"""

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from shotlog.channels import CHANNELS
from shotlog.errors import UsageError
from shotlog.learning.usual import USUAL
from shotlog.units import converter

__all__ = ["Figure", "ScreenShot", "figure", "figures_of", "seen_in", "seen_in_file"]

_NUMBER = re.compile(r"([+-]?[0-9][0-9' ]*(?:[.,][0-9]+)?|[+-]?[.,][0-9]+)\s*([^\d\s].*)?")
_SLIP = re.compile(r"[A-Za-z]{1,2}[0-9.,]+.*")
"""What stands behind a number where a letter slipped between its digits, as in 8o9."""

_PAIR = re.compile(r"\s*([A-Za-z_]+)\s*[=:]\s*([^=]*?)\s*")
_SHOT = ("shot", "shot_counter", "counter")


@dataclass(frozen=True, slots=True)
class Figure:
    """A value on the screen, in the channel's unit; it may be off by `within` either way. `typed`: as given."""

    channel: str
    value: float
    within: float
    unit: str
    typed: str

    def fits(self, value: float, coarse: float = 0.0) -> bool:
        """Say whether a press that measured `value` may show this: rounded, or its further digits cut off.

        `coarse`: by how much `value` may be off itself, having been rounded before it was sent.
        """
        slack = coarse + 1e-9 * abs(self.value) + 1e-12
        return abs(value - self.value) <= 2 * self.within + slack and (
            abs(value) >= abs(self.value) - self.within - slack
        )


@dataclass(frozen=True, slots=True)
class ScreenShot:
    """The screen after one shot: its number there, None where nobody gave it, and the figures by channel.

    `counted`: its place among the shots watched, from 0; what ties it where the number is missing.
    """

    shot: int | None
    figures: Mapping[str, Figure] = field(default_factory=dict)
    counted: int | None = None


def figure(channel: str, text: str, unit: str = "") -> Figure:
    """Read one figure: ``5.12``, ``5,12 mm``, ``11780 psi``; without a unit it is in the channel's own.

    Raises
    ------
    UsageError
        It is no number, or its unit does not measure this channel.

    Examples
    --------
    >>> read = figure("cushion", "5,12")
    >>> read.value, round(read.within, 6)
    (5.12, 0.005)
    """
    found = _NUMBER.fullmatch(text.strip())
    if found is None:
        raise _no_number(channel, text)
    digits = re.sub(r"[' ]", "", found[1]).replace(",", ".")
    decimals = len(digits.partition(".")[2])
    own = CHANNELS[channel].unit
    unit = (found[2] or unit or own).strip()
    unit = {"°C": "degC", "C": "degC", "°F": "degF", "F": "degF", '"': "inch", "in": "inch"}.get(unit, unit)
    try:
        convert = converter(unit, own)
    except UsageError:
        if _SLIP.fullmatch(found[2] or ""):
            raise _no_number(channel, text) from None
        raise
    value, half = convert(float(digits)), 0.5 * 10.0**-decimals
    return Figure(channel, value, abs(convert(float(digits) + half) - value), unit, text.strip())


def _no_number(channel: str, text: str) -> UsageError:
    return UsageError(
        f"{channel}: given {text.strip()!r}, which is no number, allowed: a number as the screen shows it, such as 5.12"
    )


def seen_in(text: str) -> ScreenShot:
    """Read ``shot=1042,cushion=5.12,peak_pressure=812 bar``; parted by ``;`` decimal commas may be used.

    Raises
    ------
    UsageError
        A part is no ``name=figure``, or its name is no channel.
    """
    figures: dict[str, Figure] = {}
    shot = None
    for part in text.split(";" if ";" in text else ","):
        if not part.strip():
            continue
        found = _PAIR.fullmatch(part)
        if found is None:
            raise UsageError(f"--seen: given {part.strip()!r}, allowed: NAME=FIGURE, such as cushion=5.12")
        name = found[1]
        if name in _SHOT:
            shot = _shot_of(found[2])
        elif name in USUAL:
            figures[name] = figure(name, found[2])
        else:
            raise UsageError(f"--seen: given {name!r}, allowed: shot, {', '.join(USUAL)}")
    return ScreenShot(shot, figures)


def seen_in_file(text: str) -> list[ScreenShot]:
    """Read a CSV: a header of ``shot`` and channels, each with its unit behind it where it is another, a row a shot.

    Raises
    ------
    UsageError
        A column or a figure cannot be read.
    """
    first = text.lstrip("\ufeff").splitlines()[0] if text.strip() else ""
    delimiter = max(";\t,", key=first.count)
    rows = [row for row in csv.reader(io.StringIO(text.lstrip("\ufeff")), delimiter=delimiter) if any(row)]
    if len(rows) < 2:
        raise UsageError("--screen: given no row, allowed: a header with shot and channels, and a row a shot")
    columns = [_column(cell) for cell in rows[0]]
    return [_row(columns, row) for row in rows[1:]]


def _column(cell: str) -> tuple[str, str]:
    name, _, unit = cell.strip().partition(" ")
    if name not in USUAL and name not in _SHOT:
        raise UsageError(f"--screen: given the column {name!r}, allowed: shot, {', '.join(USUAL)}")
    return name, unit.strip(" ()[]")


def _row(columns: Iterable[tuple[str, str]], row: Iterable[str]) -> ScreenShot:
    figures: dict[str, Figure] = {}
    shot = None
    for (name, unit), cell in zip(columns, row, strict=False):
        if not cell.strip():
            continue
        if name in _SHOT:
            shot = _shot_of(cell)
        else:
            figures[name] = figure(name, cell, unit)
    return ScreenShot(shot, figures)


def _shot_of(text: str) -> int:
    digits = re.sub(r"[' .,]", "", text.strip())
    if not digits.isdecimal():
        raise UsageError(f"shot: given {text.strip()!r}, allowed: the number of the shot as the screen shows it")
    return int(digits)


def figures_of(seen: Iterable[ScreenShot], channel: str) -> list[tuple[ScreenShot, Figure]]:
    """Return what was read of one channel, with the shot it was read at."""
    return [(one, one.figures[channel]) for one in seen if channel in one.figures]
