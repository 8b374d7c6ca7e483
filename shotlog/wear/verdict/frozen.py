"""The verdict while a channel stands still: never keep, because what it would show is not seen."""

from collections.abc import Mapping
from dataclasses import replace

from shotlog.facts import FrozenChannel
from shotlog.records import OtherChange, Verdict
from shotlog.wear.change.causes import CAUSES, FROZEN

__all__ = ["beside_frozen"]


def beside_frozen(verdict: Verdict, frozen: Mapping[str, int]) -> Verdict:
    """Return a verdict beside channels that stand still, each since a shot of the press.

    It decides where nothing else is open; else it stands among the others.
    """
    if not frozen:
        return verdict
    since, group = min(frozen.values()), CAUSES[FROZEN].group
    channels = tuple(FrozenChannel(*one) for one in sorted(frozen.items()))
    facts = None if verdict.facts is None else replace(verdict.facts, frozen=channels)
    if verdict.cause:
        return replace(verdict, facts=facts, others=(*verdict.others, OtherChange(group, FROZEN, since)))
    return replace(
        verdict,
        verdict="watch" if verdict.verdict == "keep" else verdict.verdict,
        cause=FROZEN,
        group=group,
        weight=1.0,
        onset=since,
        onset_low=since,
        onset_high=since,
        facts=facts,
    )
