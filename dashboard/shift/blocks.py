"""What stands on the timeline of one press: lanes, bars, marks, and where a shot lies on the axis."""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from dashboard.shift.tables import Happening, happenings
from dashboard.shift.whole import PressShift
from shotlog.records import HALVES
from shotlog.wording.numbers import some
from shotlog.wording.verdicts import VERDICT_WORDS

__all__ = ["RUNGS", "Bar", "Block", "block_of", "folded", "lanes_of"]

RUNGS = ("swap", "watch", "keep")
"""A lane for each verdict, the gravest on top: what was said goes up and down on them as on a ladder."""


@dataclass(frozen=True, slots=True)
class Bar:
    lane: str
    first: int
    last: int
    state: str
    text: str
    hover: str
    serial: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """One press: its lanes from the top down, what is drawn on them, and where a shot lies on the axis."""

    press: str
    lanes: tuple[str, ...]
    bars: tuple[Bar, ...]
    onsets: tuple[tuple[int, int, int], ...]
    noted: tuple[Happening, ...]
    first: int
    last: int
    chosen: str
    at: Callable[[float], float | str] = field(repr=False)


def lanes_of(one: PressShift) -> tuple[str, ...]:
    halves = {stay.half for stay in one.stays}
    return (*(half for half in HALVES if half in halves), *RUNGS, "in doubt", "noted")


def block_of(one: PressShift, by_time: bool, chosen: str) -> Block:
    window = one.window
    bars = [
        Bar(
            stay.half,
            max(stay.first, window.first),
            min(stay.last, window.last),
            "life",
            stay.serial,
            f"{stay.serial} in {stay.half}, {some(stay.n_shots, 'shot')}, {stay.first} to {stay.last}"
            + ("<br>still mounted" if stay.mounted else f"<br>{stay.reason}"),
            stay.serial,
        )
        for stay in one.stays
    ]
    for turn in one.turns:
        state = "settling" if turn.settling and turn.verdict == "keep" else turn.verdict
        said = VERDICT_WORDS.get(state, state)
        hover = f"{said}, shots {turn.first} to {turn.last}<br>{folded(turn.sentence)}"
        bars.append(Bar(turn.verdict, turn.first, turn.last, state, "", hover, turn.insert))
    for doubt in one.suspects:
        hover = f"parts in doubt, shots {doubt.first} to {doubt.last}<br>{folded(doubt.reason)}"
        bars.append(Bar("in doubt", doubt.first, doubt.last, "doubt", "", hover, doubt.insert))
    record = one.history.record
    for gap in record.gaps:
        hover = f"{some(gap.n_shots, 'shot')} missed, {gap.first} to {gap.last}<br>{gap.reason}"
        bars.append(Bar("noted", gap.first, gap.last, "missed", "", hover))
    inside = [bar for bar in bars if bar.first <= window.last and bar.last >= window.first]
    onsets = [(call.onset_low or call.onset, call.onset, call.onset_high or call.onset)
              for call in one.history.episodes if call.onset is not None]  # fmt: skip
    at = _times(record.shots.tolist(), record.times) if by_time else _number
    return Block(
        one.press,
        lanes_of(one),
        tuple(inside),
        tuple(onsets),
        tuple(item for item in happenings(one) if item.entry),
        window.first,
        window.last,
        chosen,
        at,
    )


def _number(shot: float) -> float:
    return shot


def _times(shots: Sequence[int], times: Sequence[datetime]) -> Callable[[float], str]:
    """Return where a shot lies in time; half a shot is half the way to the next one, outside it is as far as inside."""
    seconds = [moment.timestamp() for moment in times]

    def at(shot: float) -> str:
        n = min(max(bisect_right(shots, shot) - 1, 0), max(len(shots) - 2, 0))
        if len(shots) < 2:
            return _local(seconds[0] + 30.0 * (shot - shots[0]))
        pace = (seconds[n + 1] - seconds[n]) / (shots[n + 1] - shots[n])
        inside = min(max(shot - shots[n], -0.5), shots[n + 1] - shots[n])
        return _local(seconds[n] + pace * inside if shot <= shots[-1] else seconds[-1] + 0.5 * pace)

    return at


def _local(timestamp: float) -> str:
    return datetime.fromtimestamp(timestamp).isoformat(sep=" ", timespec="seconds")


def folded(text: str, width: int = 70) -> str:
    words, lines = text.split(), [""]
    for word in words:
        if len(lines[-1]) + len(word) > width:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return "<br>".join(lines)
