"""Causes: what a change may come from, how each reacts to events, what to check and what to do.

`CAUSES` is the table; adding a cause is one entry. What makes it likelier when somebody notes it stands with the kinds
of entries (`shotlog.entries`). The weight of a cause is its posterior probability: prior share x
how well its signature explains the shots (see `detector`) x what the log says (an event near the onset, what a swap
did).
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.entries import KINDS

__all__ = [
    "BATCH",
    "BREAK",
    "CAUSES",
    "CHECK_RING",
    "EVENT_FACTORS",
    "FROZEN",
    "GROUPS",
    "NEXT_BATCH",
    "RHYTHM",
    "SENSOR",
    "UNKNOWN",
    "UNKNOWN_MELT",
    "UNKNOWN_UPSTREAM",
    "UNSEEN_MELT",
    "Cause",
    "group_weights",
    "moves",
]

GROUPS = ("insert", "material", "press", "measurement")

BATCH = "print batch of the single-use half"
NEXT_BATCH = "batch"
"""An event that the log itself tells: the single-use halves come from the next print batch from this shot on."""

BREAK = "crack or breakage"
"""A piece is missing: every part since is bad, and no shot mends it."""

RHYTHM = "change of rhythm"
CHECK_RING = "check-ring leak"
"""It shows in a spread that grows: while it is open the noise is not what it was."""

SENSOR = "sensor drift"
FROZEN = "frozen reading"
UNKNOWN = "unknown"
UNKNOWN_MELT = "unknown, in the melt"
UNKNOWN_UPSTREAM = "unknown, upstream of the mould"

UNSEEN_MELT = "melt hotter than shown"
"""Moves what a wider gate moves, and by as much: shots alone never tell them apart."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause. `prior` is its share among changes when nothing else is known (judgement, over all causes about 1).

    `check_noted`: what to check where an entry near the onset answers what `check` asks people for.
    `with_next_batch`: by how much likelier the next print batch makes it, for an onset at the batch's first shot.
    """

    group: str
    signature: str
    prior: float
    check: str
    action: str
    with_next_batch: float = 1.0
    check_noted: str = ""


CAUSES: dict[str, Cause] = {
    "gate erosion": Cause(
        "insert",
        "restriction opens",
        0.13,
        "measure the gate vestige against an early part; if it has not grown, purge and measure the melt",
        "swap the half that holds the gate",
    ),
    "softening or creep": Cause(
        "insert",
        "cavity grows",
        0.07,
        "measure the insert cold against as printed",
        "longer open time or less hold pressure, else swap",
    ),
    "parting-line wear": Cause(
        "insert",
        "parting line opens",
        0.11,
        "look for flash on both halves, then read the clamp force",
        "lower hold pressure or swap the half with flash",
    ),
    BREAK: Cause(
        "insert",
        "volume gained at once",
        0.09,
        "stop and look at both halves for missing pieces",
        "swap; hold every part since the onset",
    ),
    "debris in the cavity": Cause(
        "insert",
        "opening blocked",
        0.02,
        "look at gate and cavity for a lodged piece",
        "clear the cavity; swap if a piece is missing",
    ),
    "vent clogging": Cause(
        "insert", "vents close", 0.07, "wipe the vents and shoot three more", "clean the vents; swap if it comes back"
    ),
    "fill held up in the mould": Cause(
        "insert",
        "fill meets resistance",
        0.015,
        "wipe the vents and shoot three more; look at gate and runner",
        "clean vents and gate; swap if it comes back",
    ),
    "heat build-up": Cause(
        "insert",
        "insert heats up",
        0.02,
        "compare the open time of the last ten shots",
        "even out the cadence, longer cooling",
    ),
    "lot change": Cause(
        "material",
        "viscosity steps",
        0.13,
        "ask when bag or lot was changed; compare recovery time",
        "record the lot; keep the insert",
        check_noted="compare recovery time before and after it",
    ),
    "moisture swing": Cause(
        "material",
        "viscosity drifts",
        0.03,
        "check dryer time and dew point",
        "dry the resin; keep the insert",
    ),
    "barrel temperature drift": Cause(
        "press",
        "melt temperature drifts",
        0.05,
        "compare zone temperatures and heater duty with the set-points",
        "put the zone right; keep the insert",
    ),
    UNSEEN_MELT: Cause(
        "press",
        "restriction opens",
        0.065,
        "purge and measure the melt by hand; measure the gate vestige against an early part",
        "put screw speed, back pressure or zones right; keep the insert",
    ),
    CHECK_RING: Cause(
        "press",
        "melt passes back",
        0.06,
        "hold test: does the screw creep after the gate has sealed",
        "service the check ring; do not blame the insert",
    ),
    "clamp force loss": Cause(
        "press",
        "clamp gives way",
        0.03,
        "read clamp force and mould height",
        "put the clamp right before judging the insert",
    ),
    "short dosing": Cause(
        "press", "dose runs short", 0.03, "look into the hopper and at the throat", "clear the feed; keep the insert"
    ),
    "melt lost at nozzle or sprue": Cause(
        "press",
        "melt lost outside",
        0.02,
        "look at nozzle and sprue bush for melt",
        "seat the nozzle; keep the insert",
    ),
    "set-point or drive": Cause(
        "press",
        "filling speed moves",
        0.02,
        "compare the set-points with the set-up sheet",
        "put the set-point back, or note the new set-up",
        check_noted="see whether it was meant to do this",
    ),
    BATCH: Cause(
        "insert",
        "pieces differ",
        0.0005,
        "weigh and feel the next pieces of this print batch",
        "set the batch aside or dry it; keep the reused half",
        with_next_batch=16000.0,
    ),
    SENSOR: Cause(
        "measurement",
        "",
        0.05,
        "read the idle value of that sensor and its plug",
        "put the sensor right; the shots themselves may be sound",
    ),
    FROZEN: Cause(
        "measurement",
        "",
        0.0,
        "compare the reading with the screen of the press; look at the sensor and its plug",
        "put the sensor right; the channel is left out until its reading moves again",
    ),
    RHYTHM: Cause(
        "press",
        "",
        0.0,
        "compare the open time with what it was; who works at the press",
        "put the rhythm back and keep it even; keep the insert",
    ),
    UNKNOWN: Cause(
        "insert", "", 0.03, "look at the last part and at both halves", "look first; swap if anything is found"
    ),
    UNKNOWN_MELT: Cause(
        "material",
        "",
        0.005,
        "ask for bag, lot and dryer; compare recovery time",
        "note what is found; look at the last part before going on",
        check_noted="look at the dryer; compare recovery time",
    ),
    UNKNOWN_UPSTREAM: Cause(
        "press",
        "",
        0.005,
        "compare the value with its set-point and with the screen of the press",
        "look at the press first",
    ),
}
"""Every cause by name. Some have no signature of their own: of `SENSOR` what one transducer reads moves and
nothing else, of the unknown ones a channel alone or any direction; `FROZEN` and `RHYTHM` are told by `level.still` and
`life.rhythm`."""

EVENT_FACTORS: dict[str, NDArray[np.float64]] = {
    **{
        name: np.array([kind.effect.likelier.get(cause, 1.0) for cause in CAUSES])
        for name, kind in KINDS.items()
        if kind.effect.likelier
    },
    NEXT_BATCH: np.array([one.with_next_batch for one in CAUSES.values()]),
}
"""By kind of logged event: how much likelier it makes each cause, in the order of `CAUSES`."""


def moves(kind: str) -> str:
    """Return the group whose level an event may move at once; empty for one that moves none."""
    return "insert" if kind == NEXT_BATCH else KINDS[kind].effect.moves


def group_weights(weights: Mapping[str, float]) -> dict[str, float]:
    """Return the weight of each group: the sum over its causes."""
    totals = dict.fromkeys(GROUPS, 0.0)
    for cause, weight in weights.items():
        totals[CAUSES[cause].group] += weight
    return totals
