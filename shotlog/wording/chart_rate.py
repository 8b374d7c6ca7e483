"""How often the charts signal on lives on which nothing happens, in words."""

from collections.abc import Iterable

__all__ = ["chart_rate"]


def chart_rate(per_100: Iterable[int | None]) -> str:
    """Return the rate of the limits in force, the highest of those given; empty where none is known.

    >>> chart_rate([10, None, 10])
    'of 100 sound inserts about 10 show any signal in 90 shots'
    """
    known = [one for one in per_100 if one is not None]
    return f"of 100 sound inserts about {max(known)} show any signal in 90 shots" if known else ""
