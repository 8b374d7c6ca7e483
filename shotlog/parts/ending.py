"""Did the insert go off, or was it taken out sound? Decided from the words people gave, a part found bad, and the call.

A life that did not end by failure is censored: it says only that the insert would have lived longer. Taking such a
life for a failure makes inserts look short-lived, taking a failure for sound makes them look long-lived, so every
decision is shown with its ground. Reasons are free text; the tables below are the words looked for. A word denied
close before it ("no flash", "not worn") does not count.
"""

import re
from dataclasses import dataclass

__all__ = ["GROUNDS", "WORDS", "Ending", "decide", "words_in"]

WORDS: dict[str, tuple[str, ...]] = {
    "seen on the insert": (
        "broke", "burst", "chip", "crack", "deform", "delamin", "erode", "erosion", "melt", "sheared", "snapped",
        "soften", "swollen", "torn", "wear", "worn",
    ),
    "seen on the part": (
        "bad part", "burn", "cushion", "dimension", "drag", "drift", "flash", "out of tolerance", "oversize",
        "pressure", "scatter", "short", "stick", "stuck", "surface", "undersize", "warp",
    ),
    "sound": (
        "change of design", "clean", "end of shift", "end of trial", "inspect", "next design", "planned", "precaution",
        "rest", "sound", "spare", "still good", "swapped back", "to measure", "trial over",
    ),
}  # fmt: skip
"""Beginnings of words looked for in the reason an insert was taken out, and what they speak of (own table)."""

_DENIALS = ("no", "not", "without", "never", "against", "before")
_REACH = 2
"""How many words before a word its denial may stand: "not yet worn"."""


GROUNDS = (
    "bad part", "damage seen", "refuted", "confirmed", "called", "called, mounted", "mounted", "fault seen", "sound",
    "sound, moved", "no damage told", "nothing told",
)  # fmt: skip
"""What a life is held to have ended by, in the order they are asked."""


@dataclass(frozen=True, slots=True)
class Ending:
    """How a life ended: `failed` (else censored) and the ground for it, one of `GROUNDS`."""

    failed: bool
    ground: str


def words_in(reason: str) -> dict[str, list[str]]:
    """Return the words of the tables found in a reason, by what they speak of.

    Examples
    --------
    >>> words_in("core blade broken, no flash")
    {'seen on the insert': ['broke']}
    >>> words_in("planned life")
    {'sound': ['planned']}
    """
    tokens = re.findall(r"[^\W_]+", reason.lower())
    found: dict[str, list[str]] = {}
    for kind, words in WORDS.items():
        hits = [word for word in words if any(_stands(tokens, at, word.split()) for at in range(len(tokens)))]
        if hits:
            found[kind] = hits
    return found


def _stands(tokens: list[str], at: int, word: list[str]) -> bool:
    here = tokens[at : at + len(word)]
    if len(here) < len(word) or here[:-1] != word[:-1] or not here[-1].startswith(word[-1]):
        return False
    return not any(token in _DENIALS for token in tokens[max(0, at - _REACH) : at])


def decide(reason: str, *, mounted: bool, bad_part: bool, called: bool, refuted: bool, confirmed: bool) -> Ending:
    """Decide how a life ended.

    In this order: a part found bad on it; damage seen on the insert itself; the swap that
    took it out, when the level stayed (it was not this insert); the same when the level came back after a call; a call
    to swap; a fault seen on the parts. What is left is censored. A planned swap of an insert that had been called is a
    failure: the plan only came later than the wear.

    Parameters
    ----------
    reason
        Why it was taken out, in a person's words and nothing else; empty when nobody said.
    mounted
        It is still in the press.
    bad_part
        A part made on it was found bad.
    called
        A call to swap stood against it when it came out, or stands now.
    refuted, confirmed
        The swap that took it out left the level where it was, or brought it back.
    """
    found = words_in(reason)
    seen = found.get("seen on the insert")
    part = found.get("seen on the part")
    if bad_part:
        return Ending(True, "bad part")
    if seen and not mounted:
        return Ending(True, "damage seen")
    if refuted:
        return Ending(False, "refuted")
    if confirmed and called:
        return Ending(True, "confirmed")
    if called:
        return Ending(True, "called, mounted" if mounted else "called")
    if mounted:
        return Ending(False, "mounted")
    if part:
        return Ending(True, "fault seen")
    if "sound" in found:
        return Ending(False, "sound, moved" if confirmed else "sound")
    return Ending(False, "no damage told" if reason else "nothing told")
