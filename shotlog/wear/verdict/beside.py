"""What is told by a rule, not by the weights, stands beside a verdict: it decides where nothing else is open."""

from dataclasses import replace

from shotlog.facts import Facts
from shotlog.records import OtherChange, Verdict
from shotlog.wear.change.causes import CAUSES

__all__ = ["beside"]


def beside(verdict: Verdict, cause: str, since: int, facts: Facts | None, alone: Facts | None) -> Verdict:
    """Return a verdict with a cause that is open since a shot of the press; never keep.

    `facts`: where it stands among the others; `alone`: where it decides.
    """
    group = CAUSES[cause].group
    if verdict.cause:
        return replace(verdict, facts=facts, others=(*verdict.others, OtherChange(group, cause, since)))
    return replace(
        verdict,
        verdict="watch" if verdict.verdict == "keep" else verdict.verdict,
        cause=cause,
        group=group,
        weight=1.0,
        onset=since,
        onset_low=since,
        onset_high=since,
        facts=alone,
    )
