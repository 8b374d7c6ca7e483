"""The parts: one for each shot the press counted and each cavity, whether or not anybody said something of it.

A part has no row of its own. It follows from its shot, so a part of a shot nobody saw (a gap) exists as well, and what
made it (both halves, lot, set-up) follows from the entries in force, however late they were made. A shot noted as
``dry`` made none: a dry cycle, or a purge that the press counted as a shot.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, select

from shotlog.clock import parse_utc
from shotlog.errors import UsageError
from shotlog.records import InForce
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns
from shotlog.store.log.timeline import Timeline

__all__ = ["MadePart", "Part", "check_made", "made_parts", "n_cavities", "parts_named"]

_EVER = 2**62
_NAMED = re.compile(r"(?P<first>[0-9]{1,18})(?:-(?P<last>[0-9]{1,18}))?(?:/(?P<cavity>[0-9]{1,3}))?")


@dataclass(frozen=True, slots=True, order=True)
class Part:
    """The part of one cavity of one shot of a press; cavities count from 1."""

    press: str
    shot: int
    cavity: int = 1

    def __str__(self) -> str:
        return f"{self.press}/{self.shot}/{self.cavity}"


@dataclass(frozen=True, slots=True)
class MadePart:
    """A part with what made it.

    `time` is None where nobody saw the shot; `lot` and `setup` are empty where none was noted.
    """

    part: Part
    time: datetime | None
    halves: Mapping[str, InForce]
    lot: str
    setup: str


def parts_named(press: str, text: str, cavities: int) -> list[Part]:
    """Return the parts that a person names: ``140``, ``140/2`` (cavity 2), ``140-168`` or ``140-168/2``.

    Raises
    ------
    UsageError
        The text names no parts, or a cavity the mould does not have.
    """
    found = _NAMED.fullmatch(text.strip())
    if found is None:
        raise UsageError(f"parts: given {text!r}, allowed: SHOT, SHOT-SHOT, SHOT/CAVITY or SHOT-SHOT/CAVITY")
    first = int(found["first"])
    last = int(found["last"] or first)
    if not first <= last <= first + 100_000:
        raise UsageError(f"parts: given {text!r}, allowed: a first shot and a later last one, 100000 at most")
    cavity = int(found["cavity"]) if found["cavity"] else None
    if cavity is not None and not 1 <= cavity <= cavities:
        raise UsageError(f"cavity: given {cavity}, allowed: 1 to {cavities} (design setting cavities)")
    chosen = range(1, cavities + 1) if cavity is None else [cavity]
    return [Part(press, shot, one) for shot in range(first, last + 1) for one in chosen]


def n_cavities(halves: Mapping[str, InForce], designs: Mapping[str, DesignSettings]) -> int:
    """Return how many parts a shot makes: the most cavities any design in the mould is set to."""
    return max((designs[held.design].cavities for held in halves.values() if held.design in designs), default=1)


def made_parts(
    log: Log, press: str, designs: Mapping[str, DesignSettings], first: int = 0, last: int = _EVER
) -> list[MadePart]:
    """Return the parts of shots `first` to `last`, in order, those of gaps included."""
    with log.reading() as connection:
        return list(_made(connection, press, designs, first, last))


def check_made(connection: Connection, parts: Iterable[Part]) -> None:
    """Refuse parts that were never moulded.

    Raises
    ------
    UsageError
        The press counted no such shot, or it was noted as dry.
    """
    for press, shots in _by_press(parts).items():
        timeline = read_timeline(connection, press)
        counted = {shot for shot, _ in _counted(connection, press, min(shots), max(shots))}
        for shot in sorted(shots):
            if shot not in counted:
                raise UsageError(f"shot {shot} of {press}: the press has counted no such shot")
            if shot in _dry(timeline, shot, shot):
                raise UsageError(f"shot {shot} of {press}: noted as dry, it made no part")


def _by_press(parts: Iterable[Part]) -> dict[str, set[int]]:
    found: dict[str, set[int]] = {}
    for part in parts:
        found.setdefault(part.press, set()).add(part.shot)
    return found


def _made(
    connection: Connection, press: str, designs: Mapping[str, DesignSettings], first: int, last: int
) -> Iterator[MadePart]:
    timeline = read_timeline(connection, press)
    dry = _dry(timeline, first, last)
    noted = {"lot": "", "setup": ""}
    through = -_EVER
    for shot, time in _counted(connection, press, first, last):
        noted.update((kind, text) for kind, text in timeline.events_between(through, shot) if kind in noted)
        through = shot
        if shot in dry:
            continue
        halves = timeline.halves(shot)
        for cavity in range(1, n_cavities(halves, designs) + 1):
            moment = None if time is None else parse_utc(time)
            yield MadePart(Part(press, shot, cavity), moment, halves, noted["lot"], noted["setup"])


def _counted(connection: Connection, press: str, first: int, last: int) -> list[tuple[int, str | None]]:
    """Return every shot the press counted, in order, with its time (text) where it was seen."""
    shots, times, _ = columns(connection, press, (), first, last)
    counted: dict[int, str | None] = dict(zip(shots.tolist(), times, strict=True))
    gaps = schema.gaps
    query = (
        select(gaps.c.first, gaps.c.last)
        .join(schema.presses)
        .where(schema.presses.c.name == press, gaps.c.last >= first, gaps.c.first <= last)
    )
    for gap in connection.execute(query):
        for shot in range(max(gap.first, first), min(gap.last, last) + 1):
            counted.setdefault(shot, None)
    return sorted(counted.items())


def _dry(timeline: Timeline, first: int, last: int) -> set[int]:
    return {shot for shot in timeline.dry_shots if first <= shot <= last}
