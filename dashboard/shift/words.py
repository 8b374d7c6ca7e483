"""Numbers, times and names as this page and its downloads write them."""

from datetime import datetime

from shotlog.channels import CHANNELS

__all__ = ["clock_time", "interval", "label", "number", "span", "unit"]


def number(given: float | None, decimals: int) -> str:
    """Return a number with so many decimals; a minus is a minus, not a hyphen."""
    return "" if given is None else f"{given:.{decimals}f}".replace("-", "\N{MINUS SIGN}")


def interval(low: float, high: float, decimals: int) -> str:
    """Return an interval."""
    return f"{number(low, decimals)} to {number(high, decimals)}"


def label(channel: str) -> str:
    """Return what a channel is called, with its unit."""
    return f"{CHANNELS[channel].label}, {unit(channel)}"


def unit(channel: str) -> str:
    """Return a channel's unit as it is printed."""
    return {"degC": "\N{DEGREE SIGN}C"}.get(CHANNELS[channel].unit, CHANNELS[channel].unit)


def span(first: int, last: int) -> str:
    """Return a span of shots, both ends included."""
    return f"{first}" if first == last else f"{first} to {last}"


def clock_time(moment: datetime | None) -> str:
    """Return a time as this computer's wall clock shows it; empty where it is not known."""
    return "" if moment is None else f"{moment.astimezone():%Y-%m-%d %H:%M:%S}"
