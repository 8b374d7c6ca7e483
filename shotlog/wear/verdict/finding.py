"""What a person found: never keep while it stands. People see what no value shows, and win over statistics."""

from dataclasses import replace

from shotlog.facts import Found
from shotlog.parts.ending import words_in
from shotlog.records import VERDICTS, Verdict

__all__ = ["beside_finding"]


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
