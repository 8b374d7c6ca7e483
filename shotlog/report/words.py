"""Numbers, times and spans as the report writes them."""

from datetime import datetime, tzinfo

from shotlog.channels import CHANNELS

__all__ = [
    "MARKS",
    "cost",
    "counted",
    "held_text",
    "interval",
    "label",
    "moment",
    "number",
    "shots",
    "unbroken",
    "unit",
    "value",
]

MARKS = {"keep": "○ keep", "watch": "◐ watch", "swap": "● swap"}
"""Each verdict by shape and word, so that no colour is needed to tell them apart."""

_UNITS = {"degC": "°C"}


def number(given: float | None, decimals: int = 2) -> str:
    """Return a number with so many decimals, a dash where there is none."""
    return "–" if given is None else f"{given:.{decimals}f}".replace("-", "−")


def value(channel: str, given: float | None, more: int = 0) -> str:
    """Return a channel's value with its usual decimals, and `more`."""
    return number(given, CHANNELS[channel].decimals + more)


def interval(low: float | None, high: float | None, decimals: int) -> str:
    """Return an interval in words."""
    return f"{number(low, decimals)} to {number(high, decimals)}"


def label(channel: str) -> str:
    """Return what a channel is called."""
    return CHANNELS[channel].label if channel in CHANNELS else channel.replace("_", " ")


def unit(channel: str) -> str:
    """Return a channel's unit as it is printed."""
    return _UNITS.get(CHANNELS[channel].unit, CHANNELS[channel].unit)


def moment(at: datetime | None, zone: tzinfo) -> str:
    """Return a time of day with the offset of the zone it is told in, to the second."""
    if at is None:
        return "–"
    local = at.astimezone(zone).replace(microsecond=0)
    return f"{local:%Y-%m-%d %H:%M:%S} {local.isoformat()[19:] or '+00:00'}"


def shots(first: int, last: int) -> str:
    """Return a span of shots, both ends included; it is not broken over two lines."""
    return f"{first}" if first == last else f"{first}\u00a0to\u00a0{last}"


def unbroken(serials: str) -> str:
    """Keep serials on one line: no break at a blank or a hyphen."""
    return serials.replace(" ", "\u00a0").replace("-", "\u2011")


def counted(n: int, one: str, many: str = "") -> str:
    """Return a number with its noun.

    Examples
    --------
    >>> counted(1, "shot"), counted(0, "swap"), counted(2, "life", "lives")
    ('1 shot', 'no swap', '2 lives')
    """
    if n == 0:
        return f"no {one}"
    return f"{n} {one if n == 1 else many or one + 's'}"


def cost(given: float | None) -> str:
    """Return a cost; the settings say in what."""
    return number(given, 2)


def held_text(held: int, released: int, scrapped: int, open_: int) -> str:
    """Return how parts stand, in words, leaving out what is none."""
    told = [(held, "held"), (released, "released"), (scrapped, "scrapped"), (open_, "with nothing against them")]
    return ", ".join(f"{n} {word}" for n, word in told if n) or "none"
