"""What people say of a change, as causes: the words of a reason or a finding, and what a swap or a look leaves open.

People name a fault in their own words or not at all. A word of the table names its cause; damage seen on the insert,
without one, says that it was the insert; an insert that is sound, that it was not. A word denied close before it does
not count, as in `parts.ending`.
"""

from shotlog.parts.ending import words_in, words_of
from shotlog.wear.change.causes import BATCH, BREAK, CAUSES, CHECK_RING, SENSOR, UNSEEN_MELT

__all__ = ["INSERT", "NOT_INSERT", "WORDS", "causes_told"]

WORDS: dict[str, tuple[str, ...]] = {
    "gate erosion": (
        "erode",
        "erosion",
        "gate open",
        "gate wear",
        "gate wide",
        "gate worn",
        "vestige",
        "washed",
        "worn gate",
    ),
    "softening or creep": ("creep", "deform", "melted", "soft"),
    "parting-line wear": ("flash", "parting line"),
    BREAK: ("broke", "burst", "chip", "crack", "piece missing", "sheared", "snapped", "torn"),
    "debris in the cavity": ("blocked", "debris", "lodged"),
    "vent clogging": ("burn", "clog", "residue", "vent"),
    "heat build-up": ("heat build", "hot insert", "insert hot", "overheat"),
    "lot change": (
        "bag change",
        "lot change",
        "new bag",
        "new lot",
        "next bag",
        "next lot",
        "other lot",
        "regrind",
        "resin",
        "wrong lot",
    ),
    "moisture swing": ("damp", "dryer", "moist", "wet"),
    "barrel temperature drift": ("barrel", "heater", "melt temperature", "zone"),
    UNSEEN_MELT: ("back pressure", "melt hot", "melt temperature", "screw speed"),
    CHECK_RING: ("check ring", "check valve", "non return", "ring leak"),
    "clamp force loss": ("clamp", "tie bar", "toggle"),
    "short dosing": ("dosing", "feed throat", "feeding", "hopper", "starved"),
    "melt lost at nozzle or sprue": ("drool", "nozzle", "sprue"),
    "set-point or drive": ("hydraulic", "set point", "setpoint", "valve drift"),
    SENSOR: ("sensor", "transducer"),
}
"""Beginnings of words by which people name a cause (own table)."""

_BY_PLAN = ("change of design", "end of shift", "end of trial", "next design", "planned", "precaution", "trial over")
"""An insert that came out by plan: what else is said of that stop was no fault."""

INSERT = tuple(name for name, one in CAUSES.items() if one.group == "insert" and one.prior > 0.0 and name != BATCH)
"""What it may be where it was the insert, and nobody said what of it."""

NOT_INSERT = tuple(name for name, one in CAUSES.items() if one.group != "insert" and one.prior > 0.0)
"""What it may be where it was not."""


def causes_told(text: str) -> tuple[str, ...]:
    """Return the causes that a person's words leave open; none where they tell nothing of it.

    Examples
    --------
    >>> causes_told("flash on the fixed half")
    ('parting-line wear',)
    >>> causes_told("planned, lot 7 used up, nozzle cleaned")
    ()
    """
    kinds = words_in(text)
    seen = any(kind.startswith("seen on") for kind in kinds)
    if not seen and any(word in _BY_PLAN for word in kinds.get("no finding", ())):
        return ()
    named = tuple(words_of(WORDS, text))
    if named:
        return named
    if "seen on the insert" in kinds:
        return INSERT
    return NOT_INSERT if "seen sound" in kinds else ()
