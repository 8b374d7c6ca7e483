"""On which half and at which of its shots a change began; which lots made what; what stops did to the values."""

import numpy as np

from shotlog.answers.asked import Asked
from shotlog.answers.table import Cell, Table
from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.review.calls import Call
from shotlog.review.episodes import Episode
from shotlog.review.press import PressReview
from shotlog.review.showed import swap_that_showed, was
from shotlog.review.stops import Stop
from shotlog.review.swaps import Swap
from shotlog.wording.entries import half_named
from shotlog.wording.numbers import counted, label, number, shots, shots_named, unit, value
from shotlog.wording.parts import swap_showed
from shotlog.wording.times import clock_time

__all__ = ["halves", "lots", "stops"]


def halves(asked: Asked) -> list[Table]:
    """Return for each call its half, the shot of that half it began at, what the swap showed, and earlier sisters."""
    heads = ("Insert", "Half", "Press", "Onset", "Shot of that half", "Most likely", "Did it go away at the swap?",
             "At its last call", "Earlier sisters at that shot")  # fmt: skip
    rows = tuple(_half(press, call) for press in asked.presses for call in press.calls)
    return [
        Table(
            "half", heads, rows, frozenset({"Onset"}), "Insert", title="On which half, and since which of its shots",
            about="Sisters: inserts of the same design and half mounted before, by their mean over five shots.",
            empty="No change was called.",
        )
    ]  # fmt: skip


def _half(press: PressReview, call: Call) -> tuple[Cell, ...]:
    one = call.episode
    swap = swap_that_showed(one, press.swaps)
    insert = was(one, swap)
    onset = one.first if one.onset is None else one.onset
    margin = shots(min(onset, one.onset_low or onset), max(onset, one.onset_high or onset))
    half = swap.half if swap is not None and insert == swap.out else _half_of(press, insert)
    before = call.on_insert - (one.last - onset) if insert == one.insert else onset - _since(press, insert, onset) + 1
    # Where the onset lies before the insert came in, the change was there already when it did.
    at = f"{before}" if before > 0 else f"before it came in ({1 - before} shots)"
    here = "" if call.here is None else f"{value(call.channel, call.here)} {unit(call.channel)}"
    here = f"{label(call.channel).lower()} {here}, shot {call.on_insert} of it" if here else ""
    here = here if insert == one.insert else f"it was called on {one.insert or 'no insert on record'}"
    sisters = ", ".join(f"{serial} {value(call.channel, given)}" for serial, given in call.sisters)
    return (
        insert or "none on record", half_named(half), press.press,
        f"{onset} ({margin})" if margin != f"{onset}" else onset, at,
        f"{one.cause or 'not told'} ({one.group})" if one.group else "not told",
        _swap(press, one, swap), here,
        "" if insert != one.insert else sisters or "none was mounted that long before",
    )  # fmt: skip


def _half_of(press: PressReview, serial: str) -> str:
    found = (half for one in press.stretches for half, name in one.halves.items() if name == serial)
    return next(found, "")


def _since(press: PressReview, serial: str, shot: int) -> int:
    """Return the shot at which an insert that was in at a shot had come in."""
    since = shot
    for one in reversed(press.stretches):
        if one.first <= shot:
            if serial not in one.halves.values():
                break
            since = one.first
    return since


def _swap(press: PressReview, one: Episode, swap: Swap | None) -> str:
    if swap is None:
        after = next((later for later in press.swaps if later.at_shot > one.last), None)
        if one.withdrawn:
            return f"withdrawn after shot {one.last}, before any swap"
        return "no swap since" if after is None else f"not swapped while it stood; next swap at shot {after.at_shot}"
    said = {"came back": "yes", "stayed": "no"}.get(swap.outcome, "not told")
    showed = swap_showed(swap.outcome, swap.out)
    return f"{said}: {swap.out} out at shot {swap.at_shot}; {showed} ({swap.ground})"


def lots(asked: Asked) -> list[Table]:
    """Return which lots made which parts, when each reached the screw, and what changed within ten shots of onsets."""
    rows = tuple(
        (press.press, shots(run.first, run.last), run.lot or "not noted", *_reached(press, run.first, run.lot))
        for press in asked.presses
        for run in press.made_of
    )
    near = tuple(
        (press.press, call.episode.insert, call.episode.first if call.episode.onset is None else call.episode.onset,
         "; ".join(call.changed_near) or "nothing on record")
        for press in asked.presses
        for call in press.calls
    )  # fmt: skip
    return [
        Table(
            "lots", ("Press", "Shots", "Lot", "Reached the screw", "How that is known"), rows,
            title="Which lots made which parts", empty="No part was made.",
        ),
        Table(
            "near", ("Press", "Insert", "Onset", "What changed within 10 shots of it"), near, frozenset({"Onset"}),
            "Insert", title="What changed near each onset", empty="No change was called.",
        ),
    ]  # fmt: skip


def _reached(press: PressReview, first: int, lot: str) -> tuple[str, str]:
    change = next((one for one in press.lots if one.noted == first and one.lot == lot), None)
    if change is None:
        return "", "it was loaded before the first of these shots" if lot else "nobody noted a lot"
    purged = f"; purge noted at shot {change.purged}" if change.purged is not None else ""
    if change.told_from is None or change.moved is None:
        return f"at shot {change.noted} or later", f"{change.why_not}{purged}"
    moved = f"{number(change.moved, CHANNELS[change.channel].decimals)} {unit(change.channel)}"
    either = ""
    if change.told_from > change.noted:
        either = f"; {shots_named(change.noted, change.told_from - 1)} may be of either lot"
    return f"at shot {change.told_from}", f"{label(change.channel).lower()} moved by {moved}{either}{purged}"


def stops(asked: Asked) -> list[Table]:
    """Return each stop: how long, what the first shots after it did, and how many until the values had settled."""
    heads = ("Press", "Before shot", "When", "Minutes", "Noted", "First shot after it", "Shots until settled")
    rows = tuple(_stop(press, one) for press in asked.presses for one in press.stops)
    return [
        Table(
            "stops", heads, rows, frozenset({"Before shot", "Minutes"}), title="What the stops did",
            about="First shot after it: against the mean of the five shots before.", empty="The press did not stop.",
        )
    ]  # fmt: skip


def _stop(press: PressReview, one: Stop) -> tuple[Cell, ...]:
    minutes = "" if one.minutes is None else number(one.minutes, 1)
    settled = "not yet" if one.settled_after is None else counted(one.settled_after, "shot")
    noted = one.noted or "nobody noted why"
    return press.press, one.at_shot, clock_time(one.time), minutes, noted, _moved(press, one.at_shot), settled


def _moved(press: PressReview, at: int) -> str:
    told = []
    for channel in (name for name in ALWAYS_CHARTED if name in press.values):
        values = press.values[channel]
        before = values[(press.shots >= at - 5) & (press.shots < at)]
        after = values[press.shots >= at][:1]
        known = before[np.isfinite(before)]
        if len(known) and len(after) and np.isfinite(after[0]):
            moved = float(after[0] - known.mean())
            sign = "+" if moved > 0 else ""
            told.append(f"{label(channel).lower()} {sign}{number(moved, CHANNELS[channel].decimals)} {unit(channel)}")
    return ", ".join(told)
