"""What a person found: never keep while it stands. People see what no value shows, and win over statistics."""

from collections.abc import Mapping
from dataclasses import replace

from shotlog.entries import KINDS
from shotlog.facts import Found
from shotlog.parts.ending import tells_damage, words_in
from shotlog.records import VERDICTS, LoggedShot, Verdict
from shotlog.wear.life.half import HalfState
from shotlog.wear.verdict.deciding import deciding

__all__ = ["beside_finding", "beside_findings"]


def beside_findings(
    said: Mapping[str, Verdict], lives: Mapping[str, HalfState], shot: LoggedShot, newest: str
) -> dict[str, Verdict]:
    """Return the verdicts by half beside what people found; `newest`: the half changed last.

    A new finding stands against the insert in the half it is about, else against the one that the shot is judged by.
    """
    # entries of one shot stand in the order of the log: what was found before somebody looked is answered
    answered = max((at for at, (kind, _) in enumerate(shot.events) if KINDS[kind].effect.sound), default=-1)
    later = shot.noted[answered + 1 :]
    found = [(text, half) for kind, text, half in later if KINDS[kind].effect.found and tells_damage(text)]
    judged = deciding(said, newest).insert
    beside = {}
    for half, life in lives.items():
        life.let_pass(shot.shot - life.first + 1)
        for text, about in found:
            if about == half:
                life.find(shot.shot - life.first + 1, text, "half")
            elif about not in lives and life.held.serial == judged:
                life.find(shot.shot - life.first + 1, text, "piece" if about in shot.halves else "")
        against = None if life.found is None else Found(life.found.shot, life.found.text)
        beside[half] = beside_finding(said[half], against)
    return beside


def beside_finding(verdict: Verdict, found: Found | None) -> Verdict:
    """Return a verdict beside a finding that stands against its insert; None for none.

    Damage seen on the insert itself is a swap. A fault of the part may have come from the press: that is looked at
    first, unless more speaks against the insert.
    """
    if found is None:
        return verdict
    damaged = "seen on the insert" in words_in(found.text)
    facts = None if verdict.facts is None else replace(verdict.facts, found=found)
    if facts is not None and damaged:
        # what a person has seen is the reason, and no chance or cost may speak against it
        facts = replace(facts, bad_chance=None, next_shot_cost=None, swap_cost=None)
    return replace(
        verdict, verdict="swap" if damaged else max("watch", verdict.verdict, key=VERDICTS.index), facts=facts
    )
