"""What the logger notes in its journal, every few seconds, for a start without the log and for those who only read.

It stands there, and not in a file or in the log, because it is wanted when the log cannot be asked and the disk is
full. Two places are written by turns, each note with a number and a checksum: of one that is cut, the one before it
stands.
"""

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from shotlog.clock import iso_utc, parse_utc
from shotlog.store.log.identity import Head, Seen
from shotlog.store.log.journal_space import LINES_AT, NOTES_AT

__all__ = ["LOW_BYTES", "Disk", "Note", "Position", "forget_notes", "read_note", "write_note"]

LOW_BYTES = (1_000_000_000, 100_000_000)
"""Free space below which a disk is low, and below which it is nearly full. Who logs hundreds of presses to one disk
would take more."""

_ROOM = (LINES_AT - NOTES_AT) // 2


@dataclass(frozen=True, slots=True)
class Position:
    """The last shot of a press: its number, what the counter read, its values and time; what one usually takes."""

    shot: int
    counter: int
    values: Mapping[str, float] = field(default_factory=dict)
    time: datetime | None = None
    cycle_s: float | None = None


@dataclass(frozen=True, slots=True)
class Disk:
    """The disk under a folder: `what` lies on it, how much is free, and for how many shots and hours that is enough.

    `low`: how low it is, 0 where it is not; see `recorder.space`. `reserve`: for how many shots the journal on it has
    space besides, taken beforehand; None where none lies on it.
    """

    what: str
    folder: str
    free_bytes: int
    shots: int | None = None
    hours: float | None = None
    low: int = 0
    reserve: int | None = None


@dataclass(frozen=True, slots=True)
class Note:
    """How things stood at `time`.

    `store`: the log, as it may be shown. `positions`: by press. `waiting`, `unsafe`: shots in the journal, and those in
    memory only. `since`, `why`: since when the log cannot be written, and what was said of it; None and empty else.
    `kind` of that: see `recorder.outbox.KINDS`. `by_press`: how many of those in the journal are of each press.
    `beat`: the sign of life that stands in the log where that can be written, see `asked.heartbeat`.
    `seen`: the log as it was last seen, None where it never was.
    """

    time: datetime
    store: str
    positions: Mapping[str, Position] = field(default_factory=dict)
    waiting: int = 0
    unsafe: int = 0
    since: datetime | None = None
    why: str = ""
    disks: tuple[Disk, ...] = ()
    beat: str = ""
    seen: Seen | None = None
    kind: str = ""
    by_press: Mapping[str, int] = field(default_factory=dict)


def write_note(path: Path, note: Note, durable: bool = True) -> None:
    """Write a note into the journal at `path` in place of the older of two; nothing where there is no journal.

    Raises
    ------
    OSError
        The file cannot be written.
    """
    if not path.exists():
        return
    text = json.dumps(_plain(note)).encode()
    with path.open("r+b") as file:
        numbers = [_number(_slot(file.read, file.seek, n)) for n in range(2)]
        n = 0 if numbers[0] <= numbers[1] else 1
        line = b"%d %s %s\n" % (max(numbers) + 1, _checksum(max(numbers) + 1, text), text)
        if len(line) > _ROOM:
            raise OSError(f"the note of {len(note.positions)} presses does not fit into {_ROOM} bytes")
        file.seek(NOTES_AT + n * _ROOM)
        file.write(line)
        file.flush()
        if durable:
            os.fsync(file.fileno())


def read_note(path: Path) -> Note | None:
    """Return the newest note in the journal at `path`, None where there is none that reads."""
    try:
        with path.open("rb") as file:
            slots = [_slot(file.read, file.seek, n) for n in range(2)]
    except OSError:
        return None
    for line in sorted(slots, key=_number, reverse=True):
        if _number(line):
            try:
                return _note(json.loads(line.split(b" ", 2)[2]))
            except (ValueError, LookupError, TypeError):
                continue
    return None


def forget_notes(path: Path) -> None:
    """Make the notes in the journal at `path` zeros again; whatever stands there that is no note is left alone.

    Raises
    ------
    OSError
        The file cannot be written.
    """
    with path.open("r+b") as file:
        for n in range(2):
            if _number(_slot(file.read, file.seek, n)):
                file.seek(NOTES_AT + n * _ROOM)
                file.write(bytes(_ROOM))
        file.flush()
        os.fsync(file.fileno())


def _slot(read: Any, seek: Any, n: int) -> bytes:
    seek(NOTES_AT + n * _ROOM)
    found: bytes = read(_ROOM)
    return found.partition(b"\n")[0]


def _number(line: bytes) -> int:
    """Return the number of a note, 0 where it does not read."""
    number, _, rest = line.partition(b" ")
    checksum, _, text = rest.partition(b" ")
    return int(number) if number.isdigit() and checksum == _checksum(int(number), text) else 0


def _checksum(number: int, text: bytes) -> bytes:
    return hashlib.blake2b(b"%d %s" % (number, text), digest_size=8).hexdigest().encode()


def _plain(note: Note) -> dict[str, Any]:
    positions = {
        name: [one.shot, one.counter, dict(one.values), None if one.time is None else iso_utc(one.time), one.cycle_s]
        for name, one in note.positions.items()
    }
    return {
        "time": iso_utc(note.time),
        "store": note.store,
        "positions": positions,
        "waiting": note.waiting,
        "unsafe": note.unsafe,
        "since": None if note.since is None else iso_utc(note.since),
        "why": note.why,
        "disks": [asdict(disk) for disk in note.disks],
        "beat": note.beat,
        "seen": None if note.seen is None else [note.seen.uid, note.seen.head.number, note.seen.head.digest],
        "kind": note.kind,
        "by_press": dict(note.by_press),
    }


def _note(plain: dict[str, Any]) -> Note:
    return Note(
        parse_utc(plain["time"]),
        plain["store"],
        {name: _position(*one) for name, one in plain["positions"].items()},
        plain["waiting"],
        plain["unsafe"],
        None if plain["since"] is None else parse_utc(plain["since"]),
        plain["why"],
        tuple(Disk(**disk) for disk in plain["disks"]),
        plain.get("beat", ""),
        _seen(*plain["seen"]) if plain.get("seen") else None,  # an earlier release noted none
        plain.get("kind", ""),
        plain.get("by_press", {}),
    )


def _seen(uid: str, number: int, digest: str) -> Seen:
    return Seen(uid, Head(number, digest))


def _position(shot: int, counter: int, values: dict[str, float], time: str | None, cycle_s: float | None) -> Position:
    return Position(shot, counter, values, None if time is None else parse_utc(time), cycle_s)
