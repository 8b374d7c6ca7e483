"""What a plan assumes where the shop has no figure of its own yet: common practice, no source.

Each is named wherever it is used, and gives way to the shop's own history, or to a figure that a person gives.
"""

import re
from collections.abc import Mapping

from shotlog.review.plan_lives import Assumed
from shotlog.review.plan_run import Share

__all__ = ["BREAKAGE", "CHANGEOVER_MIN", "COSTS", "CYCLE_S", "LATE", "SCRAP", "assumed_life"]

SCRAP = Share(0.05, 1.0, 20.0)
"""Of parts made on a sound, settled insert: as if 1 of 20 had been found bad."""

BREAKAGE = Share(0.03, 0.6, 20.0)
"""Of single-use pieces that break in handling before they make a part: 3 of 100, known as well as by 20 pieces."""

LATE = 10
"""Bad shots made on an insert that has gone off until it is out (mean lag of a watched press)."""

CYCLE_S, CHANGEOVER_MIN = 90.0, 10.0
"""Printed inserts run at 45 to 180 s; a complex half is changed in 5 to 15 min."""

COSTS: Mapping[str, float] = {"part": 2.1, "insert": 18.0, "changeover": 11.0, "late_find": 7.0}
"""The worked example of trade practice; no currency."""

_FAMILIES = (("ceramic", 2), ("high-temperature", 1), ("high temperature", 1))
_LIVES: tuple[tuple[str, tuple[float, float, float]], ...] = (
    ("TPE", (150, 250, 300)),
    ("PP", (100, 200, 300)),
    ("POM", (40, 90, 130)),
    ("PC", (20, 60, 90)),
    ("PA66?|PA6?-GF[0-9]*", (20, 70, 110)),
    ("PPS", (8, 35, 70)),
    ("PEEK|PAEK|PEK", (2, 12, 30)),
    ("LSR", (60, 120, 150)),
)
"""Shots that half of the inserts reach, of unfilled, high-temperature and ceramic-filled photopolymer."""

_SPREAD = 0.75
"""The level of one design about such a figure: half to double of it in two cases of three (from the ranges given)."""

_UNKNOWN = Assumed(40.0, _SPREAD)


def assumed_life(moulded: str, family: str) -> tuple[Assumed, bool]:
    """Return the life assumed for a moulded resin and an insert's resin family, and whether it is of these alone.

    Examples
    --------
    >>> assumed_life("PA66-GF30, black", "high-temperature photopolymer")
    (Assumed(median=70, spread=0.75), True)
    >>> assumed_life("", "")[0].median
    40.0
    """
    column = next((at for word, at in _FAMILIES if word in family.lower()), 0)
    for name, medians in _LIVES:
        if re.search(rf"(?<![A-Za-z0-9])(?:{name})(?![A-Za-z0-9])", moulded, re.IGNORECASE):
            return Assumed(medians[column], _SPREAD), True
    return _UNKNOWN, False
