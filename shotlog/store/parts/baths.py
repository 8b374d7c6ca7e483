"""The caustic bath that removes single-use halves from their parts: its fillings and the checks of them.

A bath is a filling: made up at some time, with the ranges of concentration and temperature it must keep. What went into
it and came out is in `soaks`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.parts.bath import OutOfRange, out_of_range
from shotlog.settings import Bound
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction

__all__ = ["Bath", "BathCheck", "baths", "check_bath", "filling", "make_up", "not_later", "shown"]


@dataclass(frozen=True, slots=True)
class BathCheck:
    """One check of a bath: concentration in mol/l, temperature in degC, None where not measured."""

    entry_id: int
    checked: datetime
    concentration: float | None
    temperature: float | None
    wrong: tuple[OutOfRange, ...]
    initials: str


@dataclass(frozen=True, slots=True)
class Bath:
    """A filling of a bath, with its checks; ranges in mol/l and degC. `old`: a later filling has taken its place."""

    bath_id: int
    name: str
    made_up: datetime
    concentration: Bound
    temperature: Bound
    checks: tuple[BathCheck, ...]
    old: bool


def make_up(
    log: Log,
    name: str,
    time: datetime,
    *,
    made_up: datetime | None = None,
    concentration: Bound | None = None,
    temperature: Bound | None = None,
    initials: str = "",
) -> int:
    """Enter that a bath was filled anew; returns the number of the filling. Ranges in mol/l and degC.

    Raises
    ------
    UsageError
        The name is empty, a range is upside down, or the time lies in the future.
    """
    if not name.strip():
        raise UsageError("bath: given no name, allowed: a name such as B1")
    molar, warm = concentration or Bound(), temperature or Bound()
    for what, ends in (("concentration", molar), ("temperature", warm)):
        if ends.low is not None and ends.high is not None and ends.low >= ends.high:
            raise UsageError(f"{what}: given {ends.low:g} to {ends.high:g}, allowed: low below high")
    row = {"concentration_low": molar.low, "concentration_high": molar.high}
    row |= {"temperature_low": warm.low, "temperature_high": warm.high}
    filled = not_later(made_up or time, time, "made up")
    with log.transaction() as work:
        return work.add(schema.baths, name=name.strip(), made_up=filled, initials=initials, time=iso_utc(time), **row)


def check_bath(
    log: Log,
    name: str,
    time: datetime,
    *,
    concentration: float | None = None,
    temperature: float | None = None,
    checked: datetime | None = None,
    initials: str = "",
) -> BathCheck:
    """Enter a check of the bath's present filling; the result tells what is outside its range.

    Raises
    ------
    UsageError
        There is no such bath, nothing was measured, or a value cannot be.
    """
    if concentration is None and temperature is None:
        raise UsageError(f"bath {name}: given no value, allowed: a concentration, a temperature or both")
    if concentration is not None and not 0 <= concentration < 20:
        raise UsageError(f"concentration: given {concentration:g} mol/l, allowed: 0 to 20 mol/l")
    if temperature is not None and not -10 <= temperature <= 110:
        raise UsageError(f"temperature: given {temperature:g} degC, allowed: -10 to 110 degC")
    with log.transaction() as work:
        bath_id = filling(work, name, checked)
        row = {"concentration": concentration, "temperature": temperature, "initials": initials}
        when = not_later(checked or time, time, "checked")
        entry_id = work.add(schema.bath_checks, bath_id=bath_id, checked=when, time=iso_utc(time), **row)
        bath = work.connection.execute(select(schema.baths).where(schema.baths.c.id == bath_id)).mappings().one()
    return _check({"id": entry_id, "checked": when, **row}, *_ranges(bath))


def baths(log: Log) -> list[Bath]:
    """Return every filling of every bath, in the order they were entered."""
    table, tests = schema.baths, schema.bath_checks
    with log.reading() as connection:
        rows = connection.execute(select(table).order_by(table.c.id)).mappings().all()
        checks = connection.execute(select(tests).where(standing(tests)).order_by(tests.c.id)).mappings().all()
    newest = {row["name"]: row["id"] for row in rows}
    return [_bath(row, [check for check in checks if check["bath_id"] == row["id"]], newest) for row in rows]


def _bath(row: Mapping[Any, Any], checks: Iterable[Mapping[Any, Any]], newest: Mapping[str, int]) -> Bath:
    molar, warm = _ranges(row)
    made = tuple(_check(check, molar, warm) for check in checks)
    return Bath(row["id"], row["name"], parse_utc(row["made_up"]), molar, warm, made, newest[row["name"]] != row["id"])


def _ranges(row: Mapping[Any, Any]) -> tuple[Bound, Bound]:
    """Return the ranges of concentration and temperature that a filling must keep."""
    return (
        Bound(row["concentration_low"], row["concentration_high"]),
        Bound(row["temperature_low"], row["temperature_high"]),
    )


def _check(row: Mapping[Any, Any], molar: Bound, warm: Bound) -> BathCheck:
    wrong = (
        *out_of_range("concentration", row["concentration"], molar, "mol/l"),
        *out_of_range("temperature", row["temperature"], warm, "degC"),
    )
    checked = parse_utc(row["checked"])
    return BathCheck(row["id"], checked, row["concentration"], row["temperature"], wrong, row["initials"])


def filling(work: Transaction, name: str, at: datetime | None) -> int:
    """Return the number of the filling a bath had at a time somebody gave, within a transaction; None for the present
    one, which is the one that was entered last whatever the clocks said.
    """
    table = schema.baths
    fillings = work.connection.execute(select(table.c.id, table.c.made_up).where(table.c.name == name)).all()
    if not fillings:
        known = sorted(set(work.connection.execute(select(table.c.name)).scalars()))
        raise UsageError(f"bath: given {name!r}, allowed: {', '.join(known) or 'none yet, make one up first'}")
    if at is None:
        return max(int(row.id) for row in fillings)
    filled = [(row.made_up, row.id) for row in fillings if parse_utc(row.made_up) <= at]
    if not filled:
        first = shown(min(parse_utc(row.made_up) for row in fillings))
        raise UsageError(f"bath {name}: given {shown(at)}, allowed: not before it was made up, {first}")
    return int(max(filled)[1])


def not_later(moment: datetime, now: datetime, what: str) -> str:
    """Return a time as it is stored; refuse one that lies in the future."""
    if moment > now:
        raise UsageError(f"{what}: given {shown(moment)}, allowed: not after now, {shown(now)}")
    return iso_utc(moment)


def shown(moment: datetime) -> str:
    """Return a time as a person reads it."""
    return f"{moment:%Y-%m-%d %H:%M} UTC"
