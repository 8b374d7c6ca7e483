"""Set-points as every collector reads them: the table ``setpoints`` of a press, and what came as a value. Pure.

What a press is set to is read with each shot and never written. A kind of collector only says where one is found (a
register, a field, a token, a name); all else is done here, once for all kinds::

    set_points = read_set_points(section, place, texts=True)      # in `options`; `place` reads the keys of the kind
    found, untaken = set_points_of(set_points, raw_of)            # at each shot; `raw_of` tells what came for one
    Shot(..., set_points=found) and [one.fault(press, time, shot) for one in untaken] beside it
    lines += [one.described(where) for one in set_points]         # `describe`, for check
    rows += [one.row(where, shown, raw_of) for one in set_points]  # `probe`

`raw_of` takes a chosen set-point and returns a number or a text, or raises `ValueError` with the reason in words: a
value that cannot be taken is a fault and absent from the shot, never a zero and never a change. A press that tells of a
change by itself says it as a `SetPointChange` under the same names, with values through `taken`.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Context, Decimal, InvalidOperation
from math import isfinite
from typing import Generic, TypeVar

from shotlog.collectors.base import Reading
from shotlog.records import Fault, SetPoint
from shotlog.settings import Section
from shotlog.settings.section import fits_a_cell

__all__ = ["MOST_SET_POINTS", "ChosenSetPoint", "Raw", "Untaken", "read_set_points", "set_points_of"]

MOST_SET_POINTS = 40
"""Set-points of a press: more are no set-up that a person looks through, and make each shot slow to read (own)."""

_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]{0,39}")
_LONGEST_UNIT = 20
_LONGEST_TEXT = 200
_EXACT = Context(prec=120)

Place = TypeVar("Place")

Raw = int | float | Decimal | str
"""What a press sends for a set-point, before scale and offset."""


@dataclass(frozen=True, slots=True)
class ChosenSetPoint(Generic[Place]):
    """One set-point as the configuration gives it: `place` is where its kind of collector finds it.

    Its value is raw x `scale` + `offset`, in `unit`, which is kept as it is written and converted by nothing; `unit` is
    empty where the press tells it, or where there is none. `is_text`: it is a text, such as the name of a program.
    """

    name: str
    place: Place
    unit: str = ""
    scale: Decimal = Decimal(1)
    offset: Decimal = Decimal(0)
    is_text: bool = False

    @property
    def subject(self) -> str:
        """What it is called beside channels."""
        return f"set-point {self.name}"

    def taken(self, raw: Raw, unit: str = "") -> SetPoint:
        """Return the value that came; `unit` is what the press tells, where the configuration gives none.

        Raises
        ------
        ValueError
            It is no number, or not finite; or no text that can be kept.

        Examples
        --------
        >>> ChosenSetPoint("hold_pressure", 40, "bar", Decimal("0.1")).taken(3500)
        SetPoint(value=350.0, unit='bar')
        """
        return SetPoint(_text(raw) if self.is_text else self._number(raw), self.unit or unit)

    def _number(self, raw: Raw) -> float:
        try:
            number = Decimal(repr(raw) if isinstance(raw, float) else raw)
        except InvalidOperation as error:
            raise ValueError(f"{raw!r} is no number; text = true takes it as it is written") from error
        if not number.is_finite() or abs(number) > Decimal("1e300"):
            raise ValueError(f"{raw} is no finite number")
        value = float(_EXACT.add(_EXACT.multiply(number, self.scale), self.offset)) + 0.0
        if not isfinite(value):
            raise ValueError(f"{raw} is no finite number under its scale")
        return value

    def described(self, where: str) -> str:
        """Say what is read from where: for ``check``."""
        return f"{self.subject}: {where}, {self._meaning()}"

    def _meaning(self) -> str:
        if self.is_text:
            return f"text{f' in {self.unit}' if self.unit else ''}"
        factor = "" if self.scale == 1 else f"x {self.scale.normalize():f} "
        shift = "" if self.offset == 0 else f"{'+' if self.offset > 0 else '-'} {abs(self.offset).normalize():f} "
        return f"{factor}{shift}{self.unit or 'in the unit that the press tells'}"

    def row(self, where: str, shown: str, raw_of: "Callable[[ChosenSetPoint[Place]], Raw]", unit: str = "") -> Reading:
        """Return the row of ``probe``: `shown` as it came, and what it is taken for."""
        try:
            said = self.taken(raw_of(self), unit)
        except ValueError as error:
            return Reading(self.subject, where, shown, None, self.unit or unit, f"not taken: {error}")
        return self.shown(where, shown, said)

    def shown(self, where: str, shown: str, said: SetPoint) -> Reading:
        """Return the row of ``probe`` for a value that was taken."""
        if isinstance(said.value, str):
            return Reading(self.subject, where, shown, None, said.unit, f"text {said.value!r}")
        return Reading(self.subject, where, shown, said.value, said.unit)


@dataclass(frozen=True, slots=True)
class Untaken:
    """A set-point whose value could not be taken, and why."""

    name: str
    why: str

    @property
    def subject(self) -> str:
        """What the fault is about, as its kind begins."""
        return f"set-point {self.name}"

    def fault(self, press: str, time: datetime, shot: int | None, raw: bytes = b"") -> Fault:
        """Return the fault to be handed out, beside the shot where it is of one."""
        return Fault(press, time, f"{self.subject} not taken", f"{self.subject}: {self.why}", raw, shot)


def set_points_of(
    chosen: Iterable[ChosenSetPoint[Place]],
    raw_of: Callable[[ChosenSetPoint[Place]], Raw],
    unit_of: Callable[[ChosenSetPoint[Place]], str] = lambda one: "",
) -> tuple[dict[str, SetPoint], list[Untaken]]:
    """Return each set-point that could be taken by its name, and why each other could not.

    Parameters
    ----------
    raw_of
        What came for one; raises `ValueError` where nothing did that can be taken.
    unit_of
        The unit that the press tells of one, empty where it tells none; the configuration wins.
    """
    found: dict[str, SetPoint] = {}
    untaken: list[Untaken] = []
    for one in chosen:
        try:
            found[one.name] = one.taken(raw_of(one), unit_of(one))
        except ValueError as error:
            untaken.append(Untaken(one.name, str(error)))
    return found, untaken


def read_set_points(
    section: Section,
    place: Callable[[str, Section], Place],
    *,
    texts: bool = False,
    tells_units: bool = False,
) -> tuple[ChosenSetPoint[Place], ...]:
    """Read the table ``setpoints`` of a collector; none where there is none.

    Parameters
    ----------
    place
        Reads the keys that say where a set-point of this name is found, from its own table.
    texts
        The kind can read text: ``text = true`` is allowed.
    tells_units
        The press tells its units: ``unit`` may be left out.

    Raises
    ------
    SettingsError
        There are too many, a name is given twice or cannot be one, or a key is missing, wrong or unknown.
    """
    parent = section.section("setpoints", optional=True)
    if len(parent.keys()) > MOST_SET_POINTS:
        raise section.wrong("setpoints", f"up to {MOST_SET_POINTS}, given {len(parent.keys())}")
    found: dict[str, ChosenSetPoint[Place]] = {}
    for name, table in parent.items():
        if not _NAME.fullmatch(name):
            raise parent.wrong(name, "a name of up to 40 letters, digits and _, a letter first")
        if name.lower() in found:
            raise parent.wrong(name, f"another name: {found[name.lower()].name} is the same but for capital letters")
        found[name.lower()] = _read_one(name, table, place(name, table), texts, tells_units)
        table.finish()
    return tuple(found.values())


def _read_one(name: str, table: Section, place: Place, texts: bool, tells_units: bool) -> ChosenSetPoint[Place]:
    is_text = texts and table.flag("text", False)
    unit = table.text("unit", "" if is_text or tells_units else None)
    if unit and (len(unit) > _LONGEST_UNIT or not fits_a_cell(unit, ";")):
        raise table.wrong("unit", f"a unit as it is written, up to {_LONGEST_UNIT} characters, without ;")
    if is_text:
        return ChosenSetPoint(name, place, unit, is_text=True)
    scale = table.number("scale", -1e9, 1e9, 1.0, nonzero=True)
    offset = table.number("offset", -1e9, 1e9, 0.0)
    return ChosenSetPoint(name, place, unit, Decimal(str(scale)), Decimal(str(offset)))


def _text(raw: Raw) -> str:
    """Return a text in one line, as it can be kept."""
    text = " ".join(str(raw).split())
    if not text:
        raise ValueError("nothing is written there")
    if not text.isprintable() or len(text) > _LONGEST_TEXT:
        raise ValueError(f"{text[:_LONGEST_TEXT]!r} is no text of up to {_LONGEST_TEXT} printable characters")
    return text
