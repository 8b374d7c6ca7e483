"""What the facts of a verdict say besides the change that decides it, a few plain words each."""

from collections.abc import Sequence
from math import floor, log10

from shotlog.channels import CHANNELS
from shotlog.facts import Ageing, Facts, PassedLimit
from shotlog.records import OtherChange, Verdict
from shotlog.wording.numbers import change, digits, label, plain, some

__all__ = ["also_open", "besides", "limits_passed", "standing_still"]

_MOST_STEPS = 3
"""Channels of which it is told what could be seen, the first of the table; a sentence is to be read standing."""

_MOST_DIGITS = 6
"""Decimals of a slope at most: a smaller one is none on any press."""


def limits_passed(verdict: Verdict, facts: Facts) -> str:
    """Return which action limits are passed; empty for none. It goes before all else."""
    given = {one.channel for one in facts.limits}
    said = [_passed(one) for one in facts.limits]
    said += [f"{_name(channel)} is beyond its own" for channel in verdict.limits if channel not in given]
    return f"limit passed: {_listed(said)}" if said else ""


def _passed(one: PassedLimit) -> str:
    """Return a limit passed: by the shot itself, for how many running, or by the level alone."""
    what = f"level of the {_name(one.channel)}" if one.level and not one.running else _name(one.channel)
    bound = f"{plain(one.channel, one.limit)}{_unit(one.channel)}"
    running = f" for {one.running} shots" if one.running > 1 else ""
    if one.value is None:
        return f"{what} is beyond {bound}{running}"
    shown = plain(one.channel, one.value)
    if shown == plain(one.channel, one.limit):
        return f"{what} is at {bound}{running}"
    side = "below" if one.value < one.limit else "above"
    return f"{what} {shown}{_unit(one.channel)} is {side} {bound}{running}"


def also_open(others: Sequence[OtherChange]) -> tuple[str, ...]:
    """Return the changes that stand open beside the one that decides, each with the shot it goes back to."""
    return tuple(f"{one.cause or 'a change'} ({one.group}) since shot {one.onset}" for one in others)


def besides(facts: Facts) -> list[str]:
    """Return what else there is to say: the rhythm, what all sisters do, what could be seen by now."""
    said = []
    if facts.rhythm is not None:
        before, now = _seconds(facts.rhythm.before_s, facts.rhythm.now_s)
        said.append(f"the rhythm changed at shot {facts.rhythm.shot}, from {before} to {now} s a shot")
    said += [_ageing(one) for one in facts.ageing]
    if facts.visible:
        steps = [f"{change(one.channel, one.size)} in {_name(one.channel)}" for one in facts.visible[:_MOST_STEPS]]
        said.append(f"what could be seen by now: a step of {_listed(steps, 'or')}")
    return said


def standing_still(facts: Facts) -> str:
    """Return which channels stand still and are left out; empty for none."""
    if not facts.frozen:
        return ""
    if len(facts.frozen) == 1:
        return f"{_name(facts.frozen[0].channel)} stands still since shot {facts.frozen[0].since} and is left out"
    since = [f"{_name(one.channel)} since shot {one.since}" for one in facts.frozen]
    return f"{_listed(since)} stand still and are left out"


def _ageing(one: Ageing) -> str:
    way = "up" if one.per_shot > 0 else "down"
    decimals = digits(one.channel, one.per_shot)
    if one.per_shot:
        # two figures: a slope is far smaller than the last digit of its channel
        decimals = min(_MOST_DIGITS, max(decimals, 1 - floor(log10(abs(one.per_shot)))))
    slope = f"{abs(one.per_shot):.{decimals}f}{_unit(one.channel)}"
    limit = "" if one.left is None else f", about {some(round(one.left), 'shot')} to its limit"
    shared = f"ageing that {some(one.sisters, 'sister')} {'shows' if one.sisters == 1 else 'show'} too"
    return f"{shared}: {_name(one.channel)} {way} {slope} a shot{limit}"


def _seconds(before: float, now: float) -> tuple[str, str]:
    """Return two times in whole seconds, with a decimal where that would make them alike."""
    decimals = 0 if round(before) != round(now) else 1
    return f"{before:.{decimals}f}", f"{now:.{decimals}f}"


def _name(channel: str) -> str:
    return label(channel).lower()


def _unit(channel: str) -> str:
    return f" {CHANNELS[channel].unit}" if channel in CHANNELS else ""


def _listed(said: Sequence[str], last: str = "and") -> str:
    """Return a list in words.

    Examples
    --------
    >>> _listed(["a"]), _listed(["a", "b"]), _listed(["a", "b", "c"], "or")
    ('a', 'a and b', 'a, b or c')
    """
    return f" {last} ".join(filter(None, (", ".join(said[:-1]), said[-1])))
