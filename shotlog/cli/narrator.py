"""What `run` says of what comes in and what is made of it: a line each, on stderr."""

import sys
from typing import TYPE_CHECKING

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.clock import SystemClock
from shotlog.entries import MAP, SETUP
from shotlog.records import ClockStep, Event, Fault, Gap, Link, Shot, Verdict, Weighing
from shotlog.wording.entries import BEGINS_ANEW, SET_ANEW, entry_text
from shotlog.wording.incoming import gap_said
from shotlog.wording.numbers import plain, some
from shotlog.wording.verdicts import announced

if TYPE_CHECKING:
    from shotlog.recorder import Ended

__all__ = ["Narrator", "ended_said"]

_KEPT = {"log": "", "journal": "waits in the journal, not in the log yet: ", "memory": "IN MEMORY ONLY, not safe yet: "}
"""What is said of a record before it is in the log, by where it is."""


class Narrator:
    """Says on stderr, a line each, what comes in and what is made of it."""

    def __init__(self) -> None:
        self._said: dict[str, tuple[str, str]] = {}

    def __call__(self, record: object) -> None:
        """Say a record, if it is worth a line."""
        from shotlog.recorder import Kept  # what it stands beside takes a while to load, and every command loads this

        kept = _KEPT[record.place] if isinstance(record, Kept) else ""
        said = self._line(record.record if isinstance(record, Kept) else record)
        if said is not None:
            self._say(said[0], kept + said[1])

    def _line(self, record: object) -> tuple[str, str] | None:
        """Return the press and what is said of a record, None where nothing is."""
        match record:
            case Shot():
                no_part = f"  NO PART: {record.no_part}" if record.no_part else ""
                return record.press, f"shot {record.shot}  {_values(record)}{no_part}"
            case Weighing():
                return record.press, f"weighed {record.grams:.3f} g on {record.balance}"
            case Gap():
                return record.press, f"MISSED {gap_said(record)} ({record.reason})"
            case Fault():
                return record.press, f"fault, {record.kind}: {record.detail}"
            case Link():
                return record.press, f"{record.state}: {record.detail}"
            case Event(kind=kind) if kind == MAP:
                return record.press, f"{entry_text(kind, record.text)}; {BEGINS_ANEW}"
            case Event(kind=kind) if kind == SETUP:
                return record.press, f"shot {record.at_shot}: {entry_text(kind, record.text)}; {SET_ANEW}"
            case ClockStep():
                return "CLOCK", record.detail
            case Verdict():
                now = (record.verdict, record.insert)
                before = self._said.get(record.press, ("keep", record.insert))
                self._said[record.press] = now
                return None if before == now else (record.press, announced(record))
        return None

    def _say(self, press: str, text: str) -> None:
        print(f"{SystemClock().now().astimezone():%H:%M:%S} {press}: {text}", file=sys.stderr, flush=True)


def _values(shot: Shot) -> str:
    parts = []
    for name in ALWAYS_CHARTED:
        channel = CHANNELS[name]
        value = plain(name, shot.values[name]) if name in shot.values else "not measured"
        parts.append(f"{channel.label.lower()} {value} {channel.unit}")
    return "  ".join(parts)


def ended_said(ended: "Ended") -> str:
    """Return how many shots are in the log, wait, or are lost, and which."""
    parts = [f"{some(ended.stored, 'shot')} stored"]
    if ended.waiting:
        parts.append(f"{ended.waiting} waiting in {ended.place}, not in the log yet: the next run brings them there")
    shots = [record for record in ended.lost if isinstance(record, Shot)]
    if shots:
        first, last = (f"{shot.press} shot {shot.shot}" for shot in (shots[0], shots[-1]))
        parts.append(f"{len(shots)} LOST ({first} to {last}): neither the log nor the journal could be written")
    elif ended.lost:
        n = some(len(ended.lost), "record")
        parts.append(f"{n} LOST, no shot among them: neither the log nor the journal could be written")
    return ", ".join(parts)
