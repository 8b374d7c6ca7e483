"""What is known beside a verdict and asked of nobody: who sits in the mould, and the entries that explain a change."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from shotlog.entries import KINDS
from shotlog.facts import Noted, Seated
from shotlog.records import HALVES, LoggedShot, Verdict
from shotlog.wear.constants import EVENT_NEAR, MOST_EVENTS

__all__ = ["explains", "kept", "with_mould"]


def kept(noted: Sequence[Noted], shot: LoggedShot) -> list[Noted]:
    """Return the newest entries that may explain a change, those of a shot among them."""
    mine = [Noted(kind, text, shot.shot) for kind, text in shot.events if _tells(kind)]
    return [*noted, *mine][-MOST_EVENTS:] if mine else list(noted)


def with_mould(verdict: Verdict, since: Mapping[str, tuple[str, int]], noted: Sequence[Noted]) -> Verdict:
    """Return a verdict with the reused inserts in the mould, and with the entries that explain what it calls.

    `since`: serial and first shot of each by half.
    """
    if verdict.facts is None:
        return verdict
    mould = tuple(Seated(half, *since[half]) for half in HALVES if half in since)
    known = tuple(one for one in noted if explains(verdict, one))
    return replace(verdict, facts=replace(verdict.facts, mould=mould, noted=known))


def explains(verdict: Verdict, noted: Noted) -> bool:
    """Say whether an entry makes the cause of a verdict likelier and was made near its onset, or since."""
    if not verdict.cause or verdict.onset is None:
        return False
    effect = KINDS[noted.kind].effect
    low = verdict.onset if verdict.onset_low is None else verdict.onset_low
    return (verdict.cause in effect.likelier or effect.moves == verdict.group) and noted.shot >= low - EVENT_NEAR


def _tells(kind: str) -> bool:
    effect = KINDS[kind].effect
    return bool(effect.likelier or effect.moves)
