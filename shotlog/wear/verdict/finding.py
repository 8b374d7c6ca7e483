"""What a person found: never keep while it stands. People see what no value shows, and win over statistics."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from shotlog.entries import KINDS
from shotlog.facts import Found
from shotlog.parts.ending import tells_damage, words_in
from shotlog.records import VERDICTS, LoggedShot, Verdict
from shotlog.wear.life.half import HalfState
from shotlog.wear.verdict.deciding import deciding

__all__ = ["beside_finding", "beside_findings", "found_sound_at", "lay_to_the_rest"]


def found_sound_at(shot: LoggedShot, halves: Iterable[str]) -> dict[str, int]:
    """Return each half that somebody looked at and found sound at a shot, with which entry of the shot says so last.

    Who names a half has looked at that one only, whatever was found on another.
    """
    if not shot.events:
        return {}
    said = [(at, half) for at, (kind, _, half) in enumerate(shot.noted) if KINDS[kind].effect.sound]
    last = {half: max((at for at, about in said if about in ("", half)), default=-1) for half in halves}
    return {half: at for half, at in last.items() if at >= 0}


def lay_to_the_rest(lives: Mapping[str, HalfState], sound: Collection[str]) -> None:
    """Lay what was found of no half, and stood against one that is found sound now, to the halves that are not."""
    for half in sound:
        found = lives[half].found
        if found is None or found.named or found == lives[half].passed:
            continue
        for other, life in lives.items():
            if other not in sound and life.first <= found.shot:
                life.find(found.shot - life.first + 1, found.text, "half")


def beside_findings(
    said: Mapping[str, Verdict], lives: Mapping[str, HalfState], shot: LoggedShot, newest: str
) -> dict[str, Verdict]:
    """Return the verdicts by half beside what people found; `newest`: the half changed last.

    A new finding stands against the insert in the half it is about, else against the one that the shot is judged by.
    """
    # entries of one shot stand in the order of the log: what was found before somebody looked is answered
    answered = found_sound_at(shot, lives)
    found = [
        (at, text, half)
        for at, (kind, text, half) in enumerate(shot.noted)
        if KINDS[kind].effect.found and tells_damage(text)
    ]
    judged = deciding(said, newest).insert if found else ""
    beside = {}
    for half, life in lives.items():
        life.let_pass(shot.shot - life.first + 1)
        for at, text, about in found:
            if at < answered.get(half, -1):
                continue
            if about == half:
                life.find(shot.shot - life.first + 1, text, "half")
            elif about not in lives and life.held.serial == judged:
                life.find(shot.shot - life.first + 1, text, "piece" if about in shot.halves else "")
        beside[half] = beside_finding(
            said[half], _against(half, life, shot, [(text, about) for _, text, about in found])
        )
    return beside


def _against(half: str, life: HalfState, shot: LoggedShot, found: Sequence[tuple[str, str]]) -> Found | None:
    """Return what was found that stands against the insert in a half; `found`: texts and halves of the shot's own.

    What passes with its shot is about a piece that has left with its part, or may be.
    """
    if life.found is None:
        return None
    said = Found(life.found.shot, life.found.text, half if life.found.named else "")
    if life.found != life.passed:
        return said
    about = next((about for text, about in found if text == said.text), "")
    pieces = [one.serial for at, one in shot.halves.items() if one.single_use and about in ("", at)]
    return replace(said, half=about if pieces else "", piece=" or ".join(pieces))


def beside_finding(verdict: Verdict, found: Found | None) -> Verdict:
    """Return a verdict beside a finding that stands against its insert; None for none.

    Damage seen on the insert itself is a swap. A fault of the part may have come from the press: that is looked at
    first, unless more speaks against the insert; and so is one of a single-use piece, which has left with its part.
    """
    if found is None:
        return verdict
    damaged = not found.piece and "seen on the insert" in words_in(found.text)
    facts = None if verdict.facts is None else replace(verdict.facts, found=found)
    if facts is not None and damaged:
        # what a person has seen is the reason, and no chance or cost may speak against it
        facts = replace(facts, bad_chance=None, next_shot_cost=None, swap_cost=None)
    return replace(
        verdict, verdict="swap" if damaged else max("watch", verdict.verdict, key=VERDICTS.index), facts=facts
    )
