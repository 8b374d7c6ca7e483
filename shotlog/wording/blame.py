"""Whom a verdict points at: an insert by serial and half, what a swap has left over, or what lies outside the mould."""

from collections.abc import Iterable

from shotlog.records import Verdict
from shotlog.wear.change.causes import BATCH, CAUSES
from shotlog.wording.entries import half_named

__all__ = ["cannot_be_told", "headline", "likely", "named", "pointed_at", "rival_group", "where"]

NO_CHANGE = "No change seen"
_WAITING = {"settling": "Settling", "waited": "Settling", "learning": "Learning"}


def where(verdict: Verdict, serial: str) -> str:
    """Return in which half an insert sits, empty where the verdict does not know."""
    facts = verdict.facts
    if facts is None:
        return ""
    known = (facts.half or "") if serial == verdict.insert else ""
    return next((one.half for one in facts.mould if one.serial == serial), known)


def named(verdict: Verdict, serial: str) -> str:
    """Return an insert by its serial and its half, as far as they are known."""
    half = where(verdict, serial)
    return ", ".join(filter(None, (serial, half_named(half) if half else "")))


def pointed_at(verdict: Verdict) -> tuple[str, ...]:
    """Return the serials in the mould that a verdict points at; several where it cannot be told which, none where it
    points elsewhere or nowhere.

    What outlived a swap is not of the insert that came in with it: it points at what stayed in the mould.
    """
    facts = verdict.facts
    if verdict.verdict == "keep":
        return ()
    if verdict.group and (verdict.group != "insert" or verdict.cause == BATCH):
        return ()
    if facts is None:
        return tuple(filter(None, (verdict.insert,)))
    if verdict.group and facts.outlived_swap is not None:
        return tuple(one.serial for one in facts.mould if one.serial != verdict.insert)
    if not verdict.group and (facts.found.piece if facts.found is not None else len(facts.mould) > 1):
        return ()
    if _of_either(verdict):
        return tuple(one.serial for one in facts.mould)
    return tuple(filter(None, (verdict.insert, facts.halves_alike)))


def _of_either(verdict: Verdict) -> bool:
    """Whether a verdict rests on a finding alone, and nobody said which of the reused halves it is about."""
    facts = verdict.facts
    if facts is None or verdict.group or facts.found is None:
        return False
    return not facts.found.half and len(facts.mould) > 1


def cannot_be_told(verdict: Verdict) -> str:
    """Return that a change may as well be another half's, in the mould or just out of it; empty where it is told."""
    facts = verdict.facts
    if facts is None or verdict.group != "insert":
        return ""
    if facts.asked is not None:
        stays = " or ".join(named(verdict, one) for one in filter(None, (verdict.insert, facts.halves_alike)))
        out = f"{facts.asked.insert}, out since shot {facts.asked.at_shot}"
        return f"which half cannot be told yet: {out}, or {stays}"
    if facts.halves_alike is not None:
        return f"which half cannot be told: {named(verdict, verdict.insert)}, or {named(verdict, facts.halves_alike)}"
    return ""


def rival_group(verdict: Verdict) -> str:
    """Return the group of a cause that the called one cannot be told apart from, empty where it is of the same."""
    facts = verdict.facts
    if facts is None or facts.rival is None or facts.rival not in CAUSES:
        return ""
    group = CAUSES[facts.rival].group
    return "" if group == verdict.group else group


def headline(verdict: Verdict) -> str:
    """Return the verdict in the words of the screens: what to do, and to what.

    >>> headline(Verdict("P25", 30, "A-07", 30, False, "swap", group="insert"))
    'Swap A-07'
    """
    if verdict.verdict == "keep":
        return NO_CHANGE if verdict.facts is None else _WAITING.get(verdict.facts.stage, NO_CHANGE)
    if verdict.verdict == "watch":
        found = None if verdict.facts is None else verdict.facts.found
        alone = found is not None and found.piece and not verdict.group and not verdict.limits
        return f"Look at the part of shot {found.shot}" if found is not None and alone else "Watch"
    at = pointed_at(verdict)
    return f"Swap {_or(at) if len(at) > 1 else named(verdict, at[0])}" if at else "Swap"


def likely(verdict: Verdict) -> str:
    """Return where a change likely lies, to stand beside the headline; empty where that has said it."""
    facts, group = verdict.facts, verdict.group
    if verdict.verdict == "keep":
        return ""
    if not group:
        beyond = facts is not None and facts.found is None and len(facts.mould) > 1 and bool(verdict.limits)
        return "which half cannot be told" if beyond or _of_either(verdict) else ""
    if verdict.cause == BATCH:
        return "likely the print batch of the single-use half"
    if group == "insert" and facts is not None and facts.outlived_swap is not None:
        return f"not {verdict.insert}: {_left_over(verdict)}"
    if cannot_be_told(verdict):
        yet = " yet" if facts is not None and facts.asked is not None else ""
        return f"which half cannot be told{yet}"
    rival = rival_group(verdict)
    if rival:
        return f"the {group} or the {rival}, which cannot be told"
    if group != "insert":
        return f"likely the {group}, not the insert" if group in ("material", "press") else f"likely the {group}"
    return "" if verdict.verdict == "swap" else f"likely {named(verdict, verdict.insert) or 'the insert'}"


def _left_over(verdict: Verdict) -> str:
    """Return what is left where a change has outlived a swap."""
    others = [f"{named(verdict, one)}," for one in pointed_at(verdict)]
    return " ".join(["look at", *others, "the clamp or the press"])


def _or(serials: Iterable[str]) -> str:
    return " or ".join(serials)
