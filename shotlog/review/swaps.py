"""Swaps, and what each one showed: a swap is an experiment.

A level that comes back confirms the insert that came out, one that stays refutes it. How far each value lay off
before and after it, and how that is told, stands in `across`. Where the two ways to tell contradict each other, or the
rest of the change is no larger than sound inserts differ, it is not resolved.

The call asks a swap as well, on the day, with all channels and what sisters do. There is one answer all the same: what
the call found is it, unless the settled shots say the opposite: then it is not resolved.
"""

from bisect import bisect_right
from dataclasses import dataclass

from shotlog.channels import CHANNELS
from shotlog.facts import SwapFinding
from shotlog.review.across import FEWEST, WINDOW, Moved, PressAtSwaps, Spans, across, kept
from shotlog.review.episodes import Call
from shotlog.review.source import MountedStretch, Seen

__all__ = ["Swap", "swaps_of"]

_FOUND = {"confirmed": "came back", "refuted": "stayed"}
"""What a swap showed, by what the call found of it."""


@dataclass(frozen=True, slots=True)
class Swap:
    """A reused insert that came out, and what took its place (empty when nothing did).

    `reason`: why, in a person's words; `replaced_by`: the serial whose mounting took it out, where that is all that is
    known. `outcome`: ``came back``, ``stayed``, ``not resolved`` or ``nothing had moved``; `ground` says why in words.
    `called` is the episode that stood when it was made, maybe on another insert; `lag` the shots between its first call
    to swap and the swap, where it was on the one that came out. `found`: what the call itself found at it, on the day,
    with the odds it rests on.
    """

    press: str
    at_shot: int
    half: str
    out: str
    into: str
    reason: str
    called: Call | None
    lag: int | None
    outcome: str
    ground: str
    moved: tuple[Moved, ...]
    replaced_by: str = ""
    found: SwapFinding | None = None


def swaps_of(record: Seen) -> tuple[Swap, ...]:
    """Return the swaps of a press in order, each with what it showed."""
    press, swaps = PressAtSwaps(record), []
    for stay in press.stays:
        if stay.end == float("inf") or stay.end > record.last_shot + 1:
            continue
        at, half = int(stay.end), stay.mounting.half
        before = record.stretch_at(at - 1)
        if before is None:
            continue
        called = press.standing.get(_last_seen(record, at))
        after = record.stretch_at(at)
        into = after.halves.get(half, "") if after is not None else ""
        outcome, ground, moved = _outcome(press, before, after, called)
        serial = stay.mounting.insert.serial
        acted = called is not None and called.insert == serial and called.swap_at is not None
        lag = at - called.swap_at if acted and called is not None and called.swap_at is not None else None
        found = _found(press, at, serial)
        if found is not None:
            outcome, ground = _with_the_call(outcome, ground, found)
        swaps.append(
            Swap(
                record.press,
                at,
                half,
                serial,
                into,
                stay.reason,
                called,
                lag,
                outcome,
                ground,
                moved,
                stay.replaced_by,
                found,
            )
        )
    return tuple(sorted(swaps, key=lambda swap: (swap.at_shot, swap.half)))


def _found(press: PressAtSwaps, at: int, serial: str) -> SwapFinding | None:
    """Return what the call found at a swap of an insert; of two that came out together, of that one alone.

    A change that outlived an earlier swap goes by the name of the insert it was first seen on.
    """
    there = press.found.get(at, [])
    mine = next((one for one in there if one.insert == serial), None)
    return mine or (there[-1] if there and press.n_out[at] == 1 else None)


def _with_the_call(outcome: str, ground: str, found: SwapFinding) -> tuple[str, str]:
    """Return what a swap showed where the call found something at it: the one answer, and its ground."""
    said = _FOUND[found.outcome]
    if outcome == said:
        return outcome, ground
    if outcome in _FOUND.values():
        return "not resolved", f"by the first shots after it the level {said}, by the settled ones it {outcome}"
    return said, "by the shots after it, in all values together"


def _last_seen(record: Seen, before: int) -> int:
    where = record.rows(0, before - 1)
    return int(record.shots[where.stop - 1]) if where.stop else 0


def _outcome(
    press: PressAtSwaps, before: MountedStretch, after: MountedStretch | None, called: Call | None
) -> tuple[str, str, tuple[Moved, ...]]:
    if after is None or not after.halves:
        return "not resolved", "nothing was moulded with another insert afterwards", ()
    sound_until = (called.early_edge if called is not None else before.last + 1 - WINDOW) - 1
    changes = press.changes
    since_sound = bisect_right(changes, sound_until)
    if since_sound < len(changes) and changes[since_sound] <= before.last:
        return "not resolved", "a lot or set-up changed between the onset and the swap", ()
    held = press.record.stretch_at(sound_until)
    if held is None:
        return "not resolved", "no sound shot before the onset", ()
    since = max(held.first, changes[since_sound - 1]) if since_sound else held.first
    next_change = bisect_right(changes, after.first)
    upto = min(after.last, changes[next_change] - 1) if next_change < len(changes) else after.last
    spans = Spans(since, sound_until, held.first, before, MountedStretch(after.first, upto, after.halves))
    compared, moved = across(press, spans)
    if not compared:
        return "not resolved", f"fewer than {FEWEST} shots to compare on one side of the swap", ()
    if not moved:
        text = "no value had left its level before the swap"
        return "nothing had moved", text + (", although a change was called" if called is not None else ""), ()
    said_of = {one.channel: kept(one) for one in moved}
    told = set(said_of.values()) - {"open"}
    names = ", ".join(CHANNELS[name].label.lower() for name, said in said_of.items() if said != "open" or not told)
    if told == {"came back"}:
        return "came back", f"{names} came back to the level held before the change", moved
    if told == {"stayed"}:
        return "stayed", f"{names} stayed where it was before the swap", moved
    if told:
        return "not resolved", f"of {names}, some came back and some stayed", moved
    return "not resolved", f"{names}: what is left of the change is no larger than inserts differ", moved
