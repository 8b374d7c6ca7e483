"""What headings of columns and printed units mean: in English, German and some French. Pure; tables."""

import re
from collections.abc import Mapping

__all__ = ["UNITS", "channels_named", "unit_in"]

_NAMES: Mapping[str, str] = {
    "cushion": r"cush|polster|coussin|matelas|\bcu\b|\bcsh",
    "peak_pressure": r"p ?max|peak|spitze|max.*(pres|druck|inj)|(pres|druck|inj).*max|\bpm\b|\bpk\b",
    "fill_time": r"fill|f(ü|ue|u)ll|einspritz|inj.*(time|zeit)|t.?inj|\bfi\b|remplis|injection",
    "switchover_pressure": r"xfer|transf|switch|umschalt|\bv/?p\b|\bpx\b|\bc/?o\b|commut|\bsw",
    "switchover_position": r"xfer|transf|switch|umschalt|\bv/?p\b|\bsx\b|\bc/?o\b|commut|\bsw",
    "recovery_time": r"dos|plast|recov|\bdo\b|\brec|screw.*(time|zeit)|metering|charg",
    "cycle_time": r"cyc|zyk|takt|\bcy\b|\btc\b",
    "back_pressure": r"back|stau|\bbp\b|contre",
    "melt_temperature": r"melt|schmelz|masse.?t|nozzle|d(ü|ue|u)se|\btm\b|fondu",
    "insert_temperature": r"mou?ld|insert|werkz|tool|einsatz|moule|\btw\b",
    "clamp_force": r"clamp|schlie|zuhalt|force|kraft|lock|\bcf\b",
    "part_weight": r"weight|wgt|gewicht|\bwt\b|poids|mass\b",
}

UNITS: Mapping[str, str] = {
    "mm": "mm", "cm": "cm", "in": "inch", "inch": "inch", '"': "inch", "um": "micrometer",
    "bar": "bar", "psi": "psi", "mpa": "MPa", "kpa": "kPa", "kg/cm2": "kgf/cm**2",
    "s": "s", "sec": "s", "sek": "s", "ms": "ms", "min": "minute",
    "c": "degC", "°c": "degC", "degc": "degC", "grad": "degC", "f": "degF", "°f": "degF", "degf": "degF", "k": "kelvin",
    "kn": "kN", "t": "metric_ton_force", "to": "metric_ton_force",
    "g": "g", "gr": "g", "mg": "mg", "kg": "kg", "oz": "ounce",
}  # fmt: skip
"""Units as they are printed, in small letters, and what the units library calls them."""


def unit_in(text: str) -> str:
    """Return the unit that a heading, a line of units, or what stands behind a number names; empty where it names none.

    Examples
    --------
    >>> unit_in("FILL s"), unit_in("Umschaltdruck [bar]"), unit_in("mm"), unit_in("NR")
    ('s', 'bar', 'mm', '')
    """
    plain = re.sub(r"[\[\]()]", " ", text.lower()).replace("deg c", "degc").replace("° c", "°c").replace("º", "°")
    words = [word.strip(".:,/=") for word in plain.split()]
    return next((UNITS[word] for word in reversed(words) if word in UNITS), "")


def channels_named(text: str) -> set[str]:
    """Return the channels that a heading or label may name.

    Examples
    --------
    >>> channels_named("PMAX bar"), channels_named("NR")
    ({'peak_pressure'}, set())
    """
    plain = text.lower().replace("_", " ")
    return {channel for channel, words in _NAMES.items() if re.search(words, plain)}
