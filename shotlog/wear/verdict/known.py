"""What is known beside a verdict and asked of nobody: who sits in the mould, and the entries that explain a change."""

from collections.abc import Mapping, Sequence

from shotlog.entries import KINDS
from shotlog.facts import Noted, Seated
from shotlog.records import HALVES, LoggedShot, Verdict
from shotlog.wear.constants import EVENT_NEAR, MOST_EVENTS
from shotlog.wear.replacing import replaced

__all__ = ["explains", "kept", "seated", "with_noted"]


def kept(noted: Sequence[Noted], shot: LoggedShot) -> list[Noted]:
    """Return the newest entries that may explain a change, those of a shot among them."""
    mine = [Noted(kind, text, shot.shot) for kind, text in shot.events if _tells(kind)]
    return [*noted, *mine][-MOST_EVENTS:] if mine else list(noted)


def seated(since: Mapping[str, tuple[str, int]]) -> tuple[Seated, ...]:
    """Return the reused inserts in the mould; `since`: serial and first shot of each by half."""
    return tuple(Seated(half, *since[half]) for half in HALVES if half in since)


def with_noted(verdict: Verdict, noted: Sequence[Noted]) -> Verdict:
    """Return a verdict with the entries that explain what it calls."""
    known = tuple(one for one in noted if explains(verdict, one))
    if verdict.facts is None or not known:
        return verdict
    return replaced(verdict, facts=replaced(verdict.facts, noted=known))


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
