"""The verdict while a channel stands still: never keep, because what it would show is not seen."""

from collections.abc import Mapping
from dataclasses import replace

from shotlog.facts import FrozenChannel
from shotlog.records import Verdict
from shotlog.wear.change.causes import FROZEN
from shotlog.wear.verdict.beside import beside

__all__ = ["beside_frozen"]


def beside_frozen(verdict: Verdict, frozen: Mapping[str, int]) -> Verdict:
    """Return a verdict beside channels that stand still, each since a shot of the press."""
    if not frozen:
        return verdict
    channels = tuple(FrozenChannel(*one) for one in sorted(frozen.items()))
    facts = None if verdict.facts is None else replace(verdict.facts, frozen=channels)
    return beside(verdict, FROZEN, min(frozen.values()), facts, facts)
