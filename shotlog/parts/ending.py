"""Did the insert go off, or was it taken out sound? Decided from the words people gave, a part found bad, and the call.

A life that did not end by failure is censored: it says only that the insert would have lived longer. Taking such a
life for a failure makes inserts look short-lived, taking a failure for sound makes them look long-lived, so every
decision is shown with its ground. Reasons are free text; the tables below are the words looked for. A word denied
close before it ("no flash", "not worn") does not count.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

__all__ = [
    "GROUNDS", "PEOPLE", "SHOTS", "WORDS", "Ending", "damage_in", "decide", "tells_damage", "words_in", "words_of",
]  # fmt: skip

WORDS: dict[str, tuple[str, ...]] = {
    "seen on the insert": (
        "broke", "burst", "chip", "crack", "deform", "delamin", "erode", "erosion", "melt", "sheared", "snapped",
        "soften", "swollen", "torn", "wear", "worn",
    ),
    "seen on the part": (
        "bad part", "burn", "cushion", "dimension", "drag", "drift", "flash", "out of tolerance", "oversize",
        "pressure", "scatter", "short", "stick", "stuck", "surface", "undersize", "warp",
    ),
    "seen sound": ("intact", "sound", "still good"),
    "no finding": (
        "change of design", "clean", "end of shift", "end of trial", "inspect", "next design", "planned", "precaution",
        "rest", "spare", "swapped back", "to measure", "trial over",
    ),
}  # fmt: skip
"""Beginnings of words looked for in the reason an insert was taken out, and what they speak of (own table)."""

_READ_OFF = ("cushion", "drift", "pressure", "scatter")
"""Words of the tables that tell what a press showed and nothing that anybody saw on a part."""

_DENIALS = ("no", "not", "without", "never", "against", "before")
_REACH = 2
"""How many words before a word its denial may stand: "not yet worn"."""


GROUNDS = (
    "bad part", "finding", "damage seen", "found sound", "refuted", "confirmed", "called", "called, mounted", "mounted",
    "laid elsewhere", "fault seen", "sound", "sound, moved", "no damage told", "nothing told",
)  # fmt: skip
"""What a life is held to have ended by, in the order they are asked."""

PEOPLE = ("", "bad part", "finding", "damage seen", "fault seen", "found sound", "no finding", "other words")
"""What people say of how an insert ended; empty where they said nothing."""

SHOTS = ("", "gone off", "not this insert", "press or material")
"""What the shots say of it; empty where nothing was called that counts."""


@dataclass(frozen=True, slots=True)
class Ending:
    """How a life ended: `failed` (else censored) and the ground for it, one of `GROUNDS`.

    `people`, `shots`: what either says of it by itself, of `PEOPLE` and `SHOTS`.
    """

    failed: bool
    ground: str
    people: str = ""
    shots: str = ""

    @property
    def differ(self) -> bool:
        """Whether people and shots say different things of it."""
        damage = self.people in ("bad part", "finding", "damage seen", "fault seen")
        return bool(self.people) and damage != (self.shots == "gone off") and self.people != "other words"


def words_in(reason: str) -> dict[str, list[str]]:
    """Return the words of the tables found in a reason, by what they speak of.

    Examples
    --------
    >>> words_in("core blade broken, no flash")
    {'seen on the insert': ['broke']}
    >>> words_in("planned life")
    {'no finding': ['planned']}
    """
    return dict(_words_in(reason))


@lru_cache(maxsize=4096)
def _words_in(reason: str) -> dict[str, list[str]]:
    """Return the words of a reason: people say the same few, and a press of years is asked for all of them at once."""
    return words_of(WORDS, reason)


def words_of(table: Mapping[str, tuple[str, ...]], reason: str) -> dict[str, list[str]]:
    """Return the words of a table like `WORDS` found in a text, by what they speak of."""
    tokens = re.findall(r"[^\W_]+", reason.lower())
    found: dict[str, list[str]] = {}
    for kind, words in table.items():
        hits = [word for word in words if any(_stands(tokens, at, word.split()) for at in range(len(tokens)))]
        if hits:
            found[kind] = hits
    return found


def _stands(tokens: list[str], at: int, word: list[str]) -> bool:
    here = tokens[at : at + len(word)]
    if len(here) < len(word) or here[:-1] != word[:-1] or not here[-1].startswith(word[-1]):
        return False
    return not any(token in _DENIALS for token in tokens[max(0, at - _REACH) : at])


def tells_damage(text: str) -> bool:
    """Say whether a finding stands against the insert: all do, but one that only says what was not seen, or sound.

    Examples
    --------
    >>> tells_damage("no flash"), tells_damage("not filled"), tells_damage("looks odd")
    (False, True, True)
    """
    found = words_in(text)
    if found.get("seen on the insert") or found.get("seen on the part"):
        return True
    without = " ".join(token for token in re.findall(r"[^\W_]+", text.lower()) if token not in _DENIALS)
    denied = any(kind.startswith("seen on") for kind in words_in(without))
    return not (denied or "seen sound" in found)


def damage_in(text: str) -> bool:
    """Say whether a note, or why an insert came out, tells of damage that somebody saw: by the words for it alone.

    Examples
    --------
    >>> damage_in("piece cracked on loading"), damage_in("vents cleaned"), damage_in("cushion scatters")
    (True, False, False)
    """
    found = words_in(text)
    seen = [*found.get("seen on the insert", ()), *found.get("seen on the part", ())]
    return any(word not in _READ_OFF for word in seen)


def decide(
    reason: str, *, mounted: bool, bad_part: bool, called: bool, refuted: bool, confirmed: bool, found: bool = False,
    elsewhere: bool = False,
) -> Ending:  # fmt: skip
    """Decide how a life ended: by what people found, else by what the shots say, else by why it came out.

    In this order: a part found bad on it; a finding noted on it; damage seen on the insert itself; an insert seen to
    be sound; the swap that took it out, when the level stayed (it was not this insert); the same when the level came
    back after a call; a call to swap; a fault seen on the parts, unless what stood open when it came out was laid to
    the press or the material, of which the fault tells as well. What is left is censored. A planned swap of an insert
    that had been called is a failure: who plans a swap has found nothing, and the plan only came later than the wear.

    Parameters
    ----------
    reason
        Why it was taken out, in a person's words and nothing else; empty when nobody said.
    mounted
        It is still in the press.
    bad_part, found
        A part made on it was found bad; a finding was noted while it made parts, and nobody found it sound since.
    called
        A call to swap stood against it when it came out, or stands now.
    refuted, confirmed
        The swap that took it out left the level where it was, or brought it back.
    elsewhere
        A change laid to the press or the material stood open when it came out.
    """
    words = words_in(reason)
    said = _said(words, reason, mounted, bad_part, found)
    shots = "not this insert" if refuted else "gone off" if called else "press or material" if elsewhere else ""
    if said in ("bad part", "finding", "damage seen", "found sound"):
        return Ending(said != "found sound", said, said, shots)
    failed, ground = _by_shots(words, reason, mounted, called, refuted, confirmed, elsewhere)
    return Ending(failed, ground, said, shots)


def _said(words: Mapping[str, list[str]], reason: str, mounted: bool, bad_part: bool, found: bool) -> str:
    """Return what people say of how an insert ended, one of `PEOPLE`."""
    if bad_part or found:
        return "bad part" if bad_part else "finding"
    if mounted or not reason:
        return ""
    for kind, said in (
        ("seen on the insert", "damage seen"),
        ("seen on the part", "fault seen"),
        ("seen sound", "found sound"),
        ("no finding", "no finding"),
    ):
        if kind in words:
            return said
    return "other words"


def _by_shots(
    words: Mapping[str, list[str]], reason: str, mounted: bool, called: bool, refuted: bool, confirmed: bool,
    elsewhere: bool,
) -> tuple[bool, str]:  # fmt: skip
    """Return whether it failed, and on what ground, where people found nothing on the insert itself."""
    if refuted:
        return False, "refuted"
    if called:
        return True, "confirmed" if confirmed else "called, mounted" if mounted else "called"
    if mounted:
        return False, "mounted"
    if "seen on the part" in words:
        return (False, "laid elsewhere") if elsewhere and not confirmed else (True, "fault seen")
    if "no finding" in words:
        return False, "sound, moved" if confirmed else "sound"
    return False, "no damage told" if reason else "nothing told"
