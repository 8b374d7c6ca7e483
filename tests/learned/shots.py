"""Plausible shots for the odd presses, from the scenarios of the simulators, and units by a table of their own."""

from collections.abc import Mapping
from functools import cache

from simulators.press import mould
from simulators.story import load

__all__ = ["in_unit", "made"]

_SETTLED = 35
"""Shots after which a press has warmed up."""

_UNITS = {
    "bar": 1.0,
    "MPa": 10.0,
    "kPa": 0.01,
    "psi": 0.0689475729,
    "mm": 1.0,
    "um": 0.001,
    "inch": 25.4,
    "s": 1.0,
    "ms": 0.001,
    "kN": 1.0,
    "g": 1.0,
    "degC": 1.0,
}


def in_unit(value: float, unit: str) -> float:
    """Return a value in the channel's own unit as one in `unit`."""
    return value * 1.8 + 32.0 if unit == "degF" else value / _UNITS.get(unit, 1.0)


@cache
def made(scenario: str, press: str, seed: int, shots: int = 400) -> tuple[Mapping[str, float], ...]:
    """Return what the press reports of each shot: channels, and what else its registers hold."""
    named = next(each for each in load(scenario).presses if each.name == press)
    run = mould(named, _SETTLED + shots, seed)
    columns = {**run.channels, **run.more}
    return tuple({name: float(column[n]) for name, column in columns.items()} for n in range(_SETTLED, len(run)))
