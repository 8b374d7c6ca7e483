"""Where on the strips the shots left run out. Pure: the verdict's own figures, put at the limit they run up to.

The verdict says how many shots are left as a median with an interval, and not along which channel. The limit shown is
that of the channel whose values have gone the largest share of the way from their level to a limit set for the design;
where none moves towards one, the interval belongs to no channel.
"""

from collections.abc import Sequence
from math import ceil
from statistics import median

from dashboard.shared.views import Forecast, Mounted, Strip
from shotlog.channels import CHANNELS
from shotlog.records import Verdict

__all__ = ["forecast"]

_NEWEST = 5
"""Shots whose median stands for where a channel is now (own)."""


def forecast(
    verdict: Verdict | None, judged: Mounted | None, shots: Sequence[int], strips: Sequence[Strip]
) -> Forecast | None:
    """Return when the shots left run out; None where the verdict sees no change, or no end of it, or where a swap has
    yet to show whether the insert has a change at all.
    """
    if verdict is None or judged is None or verdict.insert != judged.serial or verdict.verdict == "keep":
        return None
    if verdict.left_median is None or (verdict.facts is not None and verdict.facts.asked is not None):
        return None
    low = verdict.left_median if verdict.left_low is None else verdict.left_low
    channel, end = _heading(verdict, shots, strips)
    return Forecast(
        made_at=verdict.shot,
        first=verdict.shot + int(low),
        likely=verdict.shot + round(verdict.left_median),
        last=None if verdict.left_high is None else verdict.shot + ceil(verdict.left_high),
        channel=channel,
        end=end,
    )


def _heading(verdict: Verdict, shots: Sequence[int], strips: Sequence[Strip]) -> tuple[str, str]:
    """Return the channel and the end, ``low`` or ``high``, of the action limit that is being run up to."""
    best, found = 0.0, ("", "")
    since = verdict.shot if verdict.onset is None else verdict.onset
    for strip in strips:
        newest = [value for shot, value in zip(shots, strip.values, strict=True) if shot >= since and value is not None]
        if not newest or not strip.levels:
            continue
        moved = median(newest[-_NEWEST:]) - strip.levels[-1].centre
        end = "low" if moved < 0 else "high"
        limit = strip.action.low if moved < 0 else strip.action.high
        if limit is None or abs(moved) < CHANNELS[strip.channel].least_change:
            continue
        way = limit - strip.levels[-1].centre
        share = moved / way if way * moved > 0 else 1.0
        if share > best:
            best, found = share, (strip.channel, end)
    return found
