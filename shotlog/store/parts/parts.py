"""Which parts were made, read from shots, gaps and entries.

A part has no row of its own. It follows from its shot, so a part of a shot nobody saw (a gap) exists as well, and what
made it (both halves, lot, set-up) follows from the entries in force, however late they were made. A shot noted as
``dry`` made none: a dry cycle, or a purge that the press counted as a shot.
"""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Collection, Container, Iterable, Iterator, Mapping

from sqlalchemy import Connection, func, select

from shotlog.clock import parse_utc
from shotlog.entries import LOT, SETUP
from shotlog.errors import UsageError
from shotlog.parts.part import MadePart, Part, n_cavities, parts_named
from shotlog.records import EVER
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.log import Log
from shotlog.store.log.numbering import TypedShot, shot_typed
from shotlog.store.log.prepared import of_press
from shotlog.store.log.shots import columns
from shotlog.store.log.timeline import Timeline

__all__ = ["cavities_at", "check_made", "made_before", "made_parts", "parts_meant", "parts_of_shots", "unmade"]

_NUMBERS = re.compile(r"(?P<first>s?[0-9]+)(?:-(?P<last>s?[0-9]+))?(?P<cavity>(?:/[0-9]+)?)")

_AT_ONCE = 500
"""Shots asked for at once by their numbers."""

_MOST_CAVITIES = 512
"""Of a mould whose shot nobody knows (judgement): whether it made the cavity named is found out when it is entered."""


def made_parts(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    first: int = 0,
    last: int = EVER,
    timeline: Timeline | None = None,
) -> list[MadePart]:
    """Return the parts of shots `first` to `last`, in order, those of gaps included.

    `timeline`: that of the press, where it has been read already.
    """
    with log.reading() as connection:
        counted = _counted(connection, press, first, last)
    return list(_made(timeline or log.timeline(press), press, designs, counted))


def parts_of_shots(
    log: Log, press: str, designs: Mapping[str, DesignSettings], shots: Collection[int], timeline: Timeline
) -> list[Part]:
    """Return the parts of some shots, in order, those of gaps included; `timeline`: that of the press.

    These shots are asked for by number: a few of them may lie years apart.
    """
    table, gaps, ordered = schema.shots, schema.gaps, sorted(shots)
    counted: set[int] = set()
    with log.reading() as connection:
        for start in range(0, len(ordered), _AT_ONCE):
            some = ordered[start : start + _AT_ONCE]
            seen = select(table.c.shot).where(of_press(table, press), table.c.shot.in_(some))
            counted.update(connection.execute(seen).scalars())
            missed = select(gaps.c.first, gaps.c.last).where(of_press(gaps, press))
            missed = missed.where(gaps.c.last >= some[0], gaps.c.first <= some[-1])
            for first, last in connection.execute(missed):
                counted.update(some[bisect_left(some, first) : bisect_right(some, last)])
    dry, cavities = set(timeline.dry_shots), cavities_at(timeline, designs)
    made = (shot for shot in ordered if shot in counted and shot not in dry)
    return [Part(press, shot, cavity) for shot in made for cavity in range(1, cavities(shot) + 1)]


def cavities_at(timeline: Timeline, designs: Mapping[str, DesignSettings]) -> Callable[[int], int]:
    """Return what tells how many parts a shot makes; `timeline`: that of its press."""
    if all(design.cavities == 1 for design in designs.values()):
        return lambda _shot: 1
    return lambda shot: n_cavities(timeline.halves(shot), designs)


def made_before(log: Log, press: str, shot: int, dry: Container[int]) -> int | None:
    """Return the last shot before one that made a part, of gaps as well; None for none. `dry`: shots that made none."""
    shots, gaps, before = schema.shots, schema.gaps, shot
    with log.reading() as connection:
        of_press = select(schema.presses.c.id).where(schema.presses.c.name == press).scalar_subquery()
        while True:
            seen = select(func.max(shots.c.shot)).where(shots.c.press_id == of_press, shots.c.shot < before)
            gap = select(func.max(gaps.c.last)).where(gaps.c.press_id == of_press, gaps.c.first < before)
            last = connection.execute(gap).scalar()
            unseen = None if last is None else min(last, before - 1)
            found = [one for one in (connection.execute(seen).scalar(), unseen) if one is not None]
            if not found or max(found) not in dry:
                return max(found, default=None)
            before = max(found)


def parts_meant(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    word: str,
    hear: Callable[[TypedShot], object] | None = None,
) -> list[Part]:
    """Return the parts that a person names (see `parts.part.parts_named`), every cavity where none is named.

    A shot may be named by what the press's display showed for it; `hear` is told of each number that was.

    Raises
    ------
    UsageError
        The word names no parts, no shot that was made, or a cavity that its shot did not make; or two shots may be
        meant.
    """
    named = parts_named(press, _unwrapped(log, press, word.strip(), hear), _MOST_CAVITIES if "/" in word else 1)
    made = {one.part for one in made_parts(log, press, designs, named[0].shot, named[-1].shot)}
    shots = {part.shot for part in made}
    if "/" not in word:
        return sorted(made) + [part for part in named if part.shot not in shots]
    for part in named:
        if part.shot in shots and part not in made:
            cavities = max(one.cavity for one in made if one.shot == part.shot)
            raise UsageError(f"part {part}: allowed: cavity 1 to {cavities} (design setting cavities)")
    return named


def _unwrapped(log: Log, press: str, word: str, hear: Callable[[TypedShot], object] | None) -> str:
    """Return a name of parts with the log's own numbers for what may be those of the press's display."""
    found = _NUMBERS.fullmatch(word)
    if found is None:
        return word
    with log.reading() as connection:
        ends = [
            shot_typed(connection, press, end, what="parts", made=True) for end in found.group("first", "last") if end
        ]
    for end in ends:
        if hear is not None and end.display is not None:
            hear(end)
    return "-".join(str(end.shot) for end in ends) + found["cavity"]


def check_made(connection: Connection, parts: Iterable[Part]) -> None:
    """Refuse parts that were never moulded.

    Raises
    ------
    UsageError
        The press counted no such shot, or it was noted as dry.
    """
    for why in unmade(connection, parts).values():
        raise UsageError(why)


def unmade(connection: Connection, parts: Iterable[Part]) -> dict[tuple[str, int], str]:
    """Return why there is no part of a shot, for each press and shot that some parts are said to be of."""
    found: dict[tuple[str, int], str] = {}
    for press, shots in _by_press(parts).items():
        timeline = read_timeline(connection, press)
        counted = {shot for shot, _ in _counted(connection, press, min(shots), max(shots))}
        dry = set(timeline.dry_shots)
        for shot in sorted(shots):
            if shot not in counted:
                found[press, shot] = f"shot {shot} of {press}: the press has counted no such shot"
            elif shot in dry:
                found[press, shot] = f"shot {shot} of {press}: noted as dry, it made no part"
    return found


def _by_press(parts: Iterable[Part]) -> dict[str, set[int]]:
    found: dict[str, set[int]] = {}
    for part in parts:
        found.setdefault(part.press, set()).add(part.shot)
    return found


def _made(
    timeline: Timeline,
    press: str,
    designs: Mapping[str, DesignSettings],
    counted: Iterable[tuple[int, str | None]],
) -> Iterator[MadePart]:
    dry = set(timeline.dry_shots)
    noted = {LOT: "", SETUP: ""}
    through = -EVER
    for shot, time in counted:
        noted.update((kind, text) for kind, text in timeline.events_between(through, shot) if kind in noted)
        through = shot
        if shot in dry:
            continue
        halves = timeline.halves(shot)
        for cavity in range(1, n_cavities(halves, designs) + 1):
            moment = None if time is None else parse_utc(time)
            yield MadePart(Part(press, shot, cavity), moment, halves, noted[LOT], noted[SETUP])


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
