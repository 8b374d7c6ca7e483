"""How often the charts signal on lives on which nothing happens, in words."""

from collections.abc import Iterable

__all__ = ["chart_rate"]


def chart_rate(per_100: Iterable[int | None], limits: str = "") -> str:
    """Return the rate of the limits in force, the highest of those given; empty where none is known.

    `limits`: how the configuration has them set, where that is known.

    >>> chart_rate([10, None, 10])
    'of 100 sound inserts about 10 show any signal in 90 shots'
    >>> chart_rate([63], "3-sigma")
    '3-sigma, as configured; of 100 sound inserts about 63 show any signal in 90 shots'
    """
    known = [one for one in per_100 if one is not None]
    rate = f"of 100 sound inserts about {max(known)} show any signal in 90 shots" if known else ""
    configured = "3-sigma, as configured" if limits == "3-sigma" and rate else ""
    return "; ".join(filter(None, (configured, rate)))
