"""The verdict while the press works in another rhythm that moves the channels: it is the rhythm, and not the insert."""

from dataclasses import replace

from shotlog.facts import ChannelChange, Rhythm
from shotlog.records import Verdict
from shotlog.wear.change.causes import RHYTHM
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.rhythm import OtherRhythm
from shotlog.wear.verdict.beside import beside

__all__ = ["beside_rhythm"]


def beside_rhythm(verdict: Verdict, rhythm: OtherRhythm | None, prior: Prior | None, first: int) -> Verdict:
    """Return a verdict beside another rhythm on the insert judged; `first`: its first shot in the press's numbers."""
    if rhythm is None or verdict.facts is None:
        return verdict
    since = first - 1 + rhythm.since
    facts = replace(verdict.facts, rhythm=Rhythm(since, rhythm.before_s, rhythm.now_s))
    least = prior.named(prior.least) if prior is not None else {}
    changes = tuple(ChannelChange(name, size, least.get(name, 1.0)) for name, size in rhythm.effect.items())
    alone = replace(facts, stage="called", changes=changes, cause_weight=1.0)
    return beside(verdict, RHYTHM, since, facts, alone)
