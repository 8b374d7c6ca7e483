"""What people found, in the words that stand on top: before what the values say, which no look at a part can know."""

from collections.abc import Sequence

from shotlog.parts.found import FoundWrong
from shotlog.parts.told import INSPECTION, TAKEN_OUT
from shotlog.wording.parts import none_good, result_text, who_found

__all__ = [
    "ASKED", "ENDS", "found_at", "found_headline", "found_said", "held_since", "known_before", "why_asked",
]  # fmt: skip

ASKED = "which was the last one you know to be good?"

ENDS = "ends when the insert is found sound or comes out; its held parts wait until released or scrapped"


def found_headline(found: FoundWrong) -> str:
    """Return what was found in a few words."""
    what = "Bad part" if found.wrong.basis == INSPECTION else "Seen"
    return f"{what}: {found.wrong.text}"


def found_at(found: FoundWrong) -> str:
    """Return at which shot something was found, on which half and insert, and by whom."""
    wrong = found.wrong
    there = dict.fromkeys(held.serial for held in found.held if held.serial and held.goes_on)
    # the other suspect is none the less one for having come out: nobody said which half it was
    out = {held.serial: held.out for held in found.held if held.serial not in there and held.out is not None}
    gone = [f"{serial}, out since shot {shot}" for serial, shot in out.items() if not wrong.half]
    on = f", on {' or '.join([*there, *gone])}" if there else ""
    where = {INSPECTION: "inspection of shot", TAKEN_OUT: "taken out after shot"}.get(wrong.basis, "seen at shot")
    return f"{where} {wrong.shot}{on}{who_found(wrong)}"


def found_said(found: FoundWrong) -> str:
    """Return what was found, and all that is known of where and by whom."""
    wrong = found.wrong
    return f"{found_at(found)}: {wrong.text if wrong.bad is None else result_text(wrong.bad)}"


def known_before(found: FoundWrong) -> str:
    """Return which part is the last known to be good before what was found."""
    if not found.held:
        return "only its own part is held"
    first = min(found.held, key=lambda held: held.first)
    if first.last_good is None:
        return none_good(first.first, found.wrong)
    return f"shot {first.last_good} is the last known to be good"


def held_since(found: FoundWrong) -> str:
    """Return since which shot parts are held for it, and why since then."""
    first = min((held.first for held in found.held), default=found.wrong.shot)
    return f"parts from shot {first} on are held, {known_before(found)}"


def why_asked(found: Sequence[FoundWrong]) -> FoundWrong | None:
    """Return what it is that is asked about: the newest of what was found and not answered; None for nothing."""
    return next((one for one in reversed(found) if one.asks), None)
