"""What `run` says of what comes in and what is made of it: a line each, on stderr."""

import sys

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.clock import SystemClock
from shotlog.entries import MAP
from shotlog.records import ClockStep, Event, Fault, Gap, Link, Shot, Verdict, Weighing
from shotlog.wording.entries import BEGINS_ANEW, entry_text
from shotlog.wording.numbers import plain
from shotlog.wording.verdicts import announced

__all__ = ["Narrator"]


class Narrator:
    """Says on stderr, a line each, what comes in and what is made of it."""

    def __init__(self) -> None:
        self._said: dict[str, tuple[str, str]] = {}

    def __call__(self, record: object) -> None:
        """Say a record, if it is worth a line."""
        match record:
            case Shot():
                no_part = f"  NO PART: {record.no_part}" if record.no_part else ""
                self._say(record.press, f"shot {record.shot}  {_values(record)}{no_part}")
            case Weighing():
                self._say(record.press, f"weighed {record.grams:.3f} g on {record.balance}")
            case Gap():
                self._say(record.press, f"MISSED shots {record.first} to {record.last} ({record.reason})")
            case Fault():
                self._say(record.press, f"fault, {record.kind}: {record.detail}")
            case Link():
                self._say(record.press, f"{record.state}: {record.detail}")
            case Event(kind=kind) if kind == MAP:
                self._say(record.press, f"{entry_text(kind, record.text)}; {BEGINS_ANEW}")
            case ClockStep():
                self._say("CLOCK", record.detail)
            case Verdict():
                now = (record.verdict, record.insert)
                if self._said.get(record.press, ("keep", record.insert)) != now:
                    self._say(record.press, announced(record))
                self._said[record.press] = now

    def _say(self, press: str, text: str) -> None:
        print(f"{SystemClock().now().astimezone():%H:%M:%S} {press}: {text}", file=sys.stderr, flush=True)


def _values(shot: Shot) -> str:
    parts = []
    for name in ALWAYS_CHARTED:
        channel = CHANNELS[name]
        value = plain(name, shot.values[name]) if name in shot.values else "not measured"
        parts.append(f"{channel.label.lower()} {value} {channel.unit}")
    return "  ".join(parts)
