"""What people found, in the words that stand on top: before what the values say, which no look at a part can know."""

from collections.abc import Sequence

from shotlog.parts.ending import words_in
from shotlog.parts.found import INSPECTION, TAKEN_OUT, FoundWrong
from shotlog.wording.parts import result_text, who_found

__all__ = ["ASKED", "ENDS", "damages", "found_headline", "found_said", "held_since", "why_asked"]

ASKED = "which was the last one you know to be good?"

ENDS = "this stands until the insert is found sound or comes out; held parts stay held until released or scrapped"


def damages(found: FoundWrong) -> bool:
    """Whether damage to the insert itself was seen, so that it must come out: a fault may come from the press."""
    return "seen on the insert" in words_in(found.wrong.text)


def found_headline(found: FoundWrong) -> str:
    """Return what was found in a few words."""
    what = "Bad part" if found.wrong.basis == INSPECTION else "Seen"
    return f"{what}: {found.wrong.text}"


def found_said(found: FoundWrong) -> str:
    """Return what was found, at which shot, on which half and insert, and by whom."""
    wrong = found.wrong
    serials = " or ".join(dict.fromkeys(held.serial for held in found.held if held.serial and held.goes_on))
    on = f", on {serials}" if serials else ""
    if wrong.bad is not None:
        return f"inspection of shot {wrong.shot}: {result_text(wrong.bad)}{who_found(wrong)}{on}"
    if wrong.basis == TAKEN_OUT:
        return f"taken out after shot {wrong.shot}: {wrong.text}{who_found(wrong)}"
    return f"seen at shot {wrong.shot}: {wrong.text}{who_found(wrong)}{on}"


def held_since(found: FoundWrong) -> str:
    """Return since which shot parts are held for it, and why since then."""
    first = min((held.first for held in found.held), default=found.wrong.shot)
    good = next((held.last_good for held in found.held if held.first == first), None)
    if not found.held:
        return f"the part of shot {first} is held"
    known = "none before is known to be good" if good is None else f"shot {good} is the last known to be good"
    return f"parts since shot {first} are held, {known}"


def why_asked(found: Sequence[FoundWrong]) -> FoundWrong | None:
    """Return what it is that is asked about: the newest of what was found and not answered; None for nothing."""
    return next((one for one in reversed(found) if one.asks), None)
