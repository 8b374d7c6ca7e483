"""Numbers with their units, in the digits of their channel, and spans of shots."""

from math import floor, log10

from shotlog.channels import CHANNELS

__all__ = [
    "change",
    "cost",
    "counted",
    "digits",
    "heading",
    "interval",
    "label",
    "number",
    "plain",
    "shots",
    "shots_named",
    "some",
    "span",
    "unbroken",
    "unit",
    "value",
]

_FIGURES = 3
"""Figures shown of a value whose channel is not in the table, so that nobody knows its decimals (judgement)."""

_UNITS = {"degC": "\N{DEGREE SIGN}C"}


def digits(channel: str, given: float) -> int:
    """Return the decimals of a value: those of its channel, else as many as leave three figures.

    Examples
    --------
    >>> digits("cushion", 512.0), digits("mould_gap", 512.0), digits("mould_gap", 0.0512)
    (2, 0, 4)
    """
    if channel in CHANNELS:
        return CHANNELS[channel].decimals
    return max(0, _FIGURES - 1 - floor(log10(abs(given)))) if given else 0


def number(given: float | None, decimals: int, none: str = "\N{EN DASH}") -> str:
    """Return a number with so many decimals; a minus is a minus, not a hyphen; `none` where there is none."""
    return none if given is None else f"{given:.{decimals}f}".replace("-", "\N{MINUS SIGN}")


def interval(low: float | None, high: float | None, decimals: int) -> str:
    """Return an interval in words."""
    return f"{number(low, decimals)} to {number(high, decimals)}"


def value(channel: str, given: float | None, more: int = 0, none: str = "\N{EN DASH}") -> str:
    """Return a channel's value with its usual decimals, and `more`."""
    return none if given is None else number(given, digits(channel, given) + more)


def plain(channel: str, given: float) -> str:
    """Return a channel's value in plain characters, as a terminal and a line of text have it."""
    return f"{given:.{digits(channel, given)}f}"


def change(channel: str, size: float) -> str:
    """Return the size of a change with the digits of its channel, and its unit; a mean over shots of a few last digits
    has one more.

    Examples
    --------
    >>> change("cushion", 0.5431), change("cushion", -0.0431), change("mould_gap", 0.5431)
    ('0.54 mm', '0.043 mm', '0.543')
    """
    decimals = digits(channel, size)
    if channel not in CHANNELS:
        return f"{abs(size):.{decimals}f}"
    return f"{abs(size):.{decimals + (abs(size) < 10.0 ** (1 - decimals))}f} {CHANNELS[channel].unit}"


def label(channel: str) -> str:
    """Return what a channel is called."""
    return CHANNELS[channel].label if channel in CHANNELS else channel.replace("_", " ")


def unit(channel: str) -> str:
    """Return a channel's unit as it is printed; empty where the channel is not in the table."""
    known = CHANNELS[channel].unit if channel in CHANNELS else ""
    return _UNITS.get(known, known)


def heading(channel: str) -> str:
    """Return what a channel is called, with its unit."""
    return ", ".join(filter(None, (label(channel), unit(channel))))


def shots(first: int, last: int) -> str:
    """Return a span of shots, both ends included."""
    return f"{first}" if first == last else f"{first} to {last}"


def shots_named(first: int, last: int) -> str:
    """Return a span of shots with its noun."""
    return f"{'shot' if first == last else 'shots'} {shots(first, last)}"


def span(first: int, last: int) -> str:
    """Return a span of shots that is not broken over two lines."""
    return unbroken(shots(first, last))


def unbroken(text: str) -> str:
    """Keep a text on one line: no break at a blank or a hyphen."""
    return text.replace(" ", "\u00a0").replace("-", "\u2011")


def cost(given: float | None) -> str:
    """Return a cost; the settings say in what."""
    return number(given, 2)


def counted(n: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    Examples
    --------
    >>> counted(1, "shot"), counted(0, "swap"), counted(2, "life", "lives")
    ('1 shot', 'no swap', '2 lives')
    """
    return some(n, one, many) if n else f"no {one}"


def some(n: int, one: str, many: str = "") -> str:
    """Return a number with its noun, where none is a 0.

    Examples
    --------
    >>> some(1, "part"), some(0, "part")
    ('1 part', '0 parts')
    """
    return f"{n} {one if n == 1 else many or one + 's'}"
