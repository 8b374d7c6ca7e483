"""The verdict while the press works in another rhythm that moves the channels: it is the rhythm, and not the insert."""

from dataclasses import replace

from shotlog.facts import ChannelChange, Rhythm
from shotlog.records import OtherChange, Verdict
from shotlog.wear.change.causes import CAUSES, RHYTHM
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.rhythm import OtherRhythm

__all__ = ["beside_rhythm"]


def beside_rhythm(verdict: Verdict, rhythm: OtherRhythm | None, prior: Prior | None, first: int) -> Verdict:
    """Return a verdict beside another rhythm on the insert judged; `first`: its first shot in the press's own numbers.

    It decides where nothing else is open; else it stands among the others.
    """
    if rhythm is None or verdict.facts is None:
        return verdict
    since, group = first - 1 + rhythm.since, CAUSES[RHYTHM].group
    facts = replace(verdict.facts, rhythm=Rhythm(since, rhythm.before_s, rhythm.now_s))
    if verdict.cause:
        return replace(verdict, facts=facts, others=(*verdict.others, OtherChange(group, RHYTHM, since)))
    least = prior.named(prior.least) if prior is not None else {}
    changes = tuple(ChannelChange(name, size, least.get(name, 1.0)) for name, size in rhythm.effect.items())
    return replace(
        verdict,
        verdict="watch" if verdict.verdict == "keep" else verdict.verdict,
        cause=RHYTHM,
        group=group,
        weight=1.0,
        onset=since,
        onset_low=since,
        onset_high=since,
        facts=replace(facts, stage="called", changes=changes, cause_weight=1.0),
    )
