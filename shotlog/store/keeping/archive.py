"""A finished trial out of the log: a whole copy of the log as the archive, and out of the log what only fills it.

What stays, and why. Every shot, entry and decision, and every verdict that says more than *no change seen*, stays: the
call of the next insert learns from its sisters shot by shot, which parts are held follows from what was called, and
lives are counted over all that was ever made. What goes are the plain verdicts of the trial, most of a log, and the
states kept of the evaluator within it, which can be worked out again. So the same shots give the same verdicts after it
as before, also where all of them are judged again from the first.

The links of the chain stay as well. One whose rows went is taken at its word by `verify`, which says so, until the
archive is at hand: it is a log itself, and holds them.
"""

import shutil
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, delete, func, select

from shotlog.clock import iso_utc
from shotlog.errors import StoreUnreachable, UsageError
from shotlog.outputs import written_aside
from shotlog.settings import Settings
from shotlog.store.asked.presence import last_seen
from shotlog.store.asked.trials import trials
from shotlog.store.keeping.archived import archives_of
from shotlog.store.keeping.copying import copy_log, file_digest, log_file, looked_at, room_for, work_folder
from shotlog.store.keeping.head import Head
from shotlog.store.keeping.plain_verdicts import plain_verdicts
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force, judged_through
from shotlog.store.log.log import Log
from shotlog.store.parts.dispositions import part_standings
from shotlog.store.parts.pictures import picture_bytes, picture_folder, pictures
from shotlog.store.parts.soaks import soaks

__all__ = ["Archived", "archive"]

Tell = Callable[[str], None]
Spans = Mapping[str, tuple[int, int]]

_AT_WORK_S = 60.0
"""A `run` that said that it is at work less than this ago is taken to be."""
_AT_ONCE = 500
_BUSY_S = 10.0


@dataclass(frozen=True, slots=True)
class Archived:
    """What was done: the archive, its head, how many rows of how many transactions went, the file before and after.

    `packed`: why the room in the file could not be given back to the disk, empty where it was.
    """

    file: Path
    head: Head
    links: int
    rows: int
    bytes_before: int
    bytes_after: int
    packed: str = ""


def archive(settings: Settings, log: Log, name: str, out: Path, now: datetime, tell: Tell) -> Archived:
    """Copy the log to `out` as the archive of the trial called `name`, and take out of the log what only fills it.

    `log` is that of the configuration, open for writing.

    Raises
    ------
    UsageError
        There is no such trial, or something of it is not finished; says what.
    StoreUnreachable
        There is no room, or the log is out of reach.
    StoreDamaged
        The log does not verify. It is left as it is.
    """
    file = log_file(settings.store, "archive")
    before = next((one for one in archives_of(log) if one.trial == name), None)
    if before is not None:
        raise UsageError(f'--trial: given "{name}", allowed: a trial that has no archive; its is {before.file}')
    if out.exists():
        raise UsageError(f"--out: given '{out}', which is there, allowed: a new name: an archive is made once")
    spans = _spans(log, name)
    _check_finished(settings, log, name, spans, now)
    n_bytes = file.stat().st_size
    with work_folder(out) as folder:
        room_for(n_bytes, out.parent)
        copy = folder / out.name
        copy_log(file, copy, tell)
        head = looked_at(copy, f"log {file}", tell)
        _copy_pictures(log, spans, picture_folder(settings.store, settings.file), out)
        digest = file_digest(copy)
        with written_aside(out) as aside:
            shutil.move(copy, aside)
    tell("plain verdicts of the trial: taken out of the log")
    links, rows = _take_out(log, name, out, digest, head, now, spans)
    packed = _pack(file)
    return Archived(out, head, links, rows, n_bytes, file.stat().st_size, packed)


def _spans(log: Log, name: str) -> dict[str, tuple[int, int]]:
    """Return the first and last shot of a trial by press, over all descriptions of that name."""
    known = trials(log)
    spans: dict[str, tuple[int, int]] = {}
    for trial in known:
        for press, (first, last) in trial.shots.items() if trial.name == name else ():
            have = spans.get(press, (first, last))
            spans[press] = min(have[0], first), max(have[1], last)
    if not name or not spans:
        told = ", ".join(dict.fromkeys(f'"{trial.name}"' for trial in known if trial.name)) or "none is in the log"
        raise UsageError(f'--trial: given "{name}", allowed: a trial with shots: {told}')
    return spans


def _check_finished(settings: Settings, log: Log, name: str, spans: Spans, now: datetime) -> None:
    """Refuse what is not finished: an archive hides nothing that is still to be done."""
    why = next(_unfinished(settings, log, name, spans, now), None)
    if why is not None:
        raise UsageError(f'--trial: given "{name}", allowed: a trial that is finished; {why}')


def _unfinished(settings: Settings, log: Log, name: str, spans: Spans, now: datetime) -> Iterator[str]:
    if settings.trial is not None and settings.trial.name == name:
        yield f"shots are logged under it by {settings.file}: give the next trial its name first"
    seen = last_seen(log, "run")
    at_work = seen is not None and abs((now - seen).total_seconds()) < _AT_WORK_S
    for press, (first, last) in spans.items():
        newest = log.last_shot(press)
        if at_work and newest is not None and newest[0] == last:
            yield f"shot {last} of {press}, its newest, is of this trial, and `shotlog run` is at work"
        with log.reading() as connection:
            through = judged_through(connection, press)
        if through is None or through < last:
            yield f"shots of {press} up to {last} wait to be judged"
        held = [
            one.made.part for one in part_standings(log, press, settings.designs, first, last) if one.state == "held"
        ]
        if held:
            yield f"{len(held)} of its parts are held with no decision, from shot {held[0].shot} of {press} on"
        soaking = [one.part for one in soaks(log, press) if one.came_out is None and first <= one.part.shot <= last]
        if soaking:
            yield f"{len(soaking)} of its parts are in a bath, such as that of shot {soaking[0].shot} of {press}"
        for stay in log.timeline(press).stays:
            if stay.end == float("inf") and first <= stay.first <= last:
                yield f"insert {stay.mounting.insert.serial}, in {press} since shot {stay.first}, is still mounted"


def _copy_pictures(log: Log, spans: Spans, kept: Path, out: Path) -> None:
    """Put the pictures of the log beside the archive, where its own reader looks for them; those of the log stay."""
    beside = out.with_name(f"{out.stem}.pictures")
    for press in log.presses():
        for one in pictures(log, press):
            to = beside / one.file_name
            if to.exists():
                continue
            data = picture_bytes(kept, one)
            beside.mkdir(exist_ok=True)
            with written_aside(to) as aside:
                aside.write_bytes(data)


def _take_out(log: Log, name: str, out: Path, digest: str, head: Head, now: datetime, spans: Spans) -> tuple[int, int]:
    """Take the plain verdicts out, and say in the log where they are; return how many links and rows went."""
    with log.transaction() as work:
        trial_ids = _trial_ids(work.connection, name)
        going = plain_verdicts(work.connection, trial_ids, head.links)
        rows = [row for link in going.values() for row in link]
        for n in range(0, len(rows), _AT_ONCE):
            verdicts = schema.verdicts
            work.connection.execute(delete(verdicts).where(verdicts.c.id.in_(rows[n : n + _AT_ONCE])))
        _forget_states(work.connection, spans)
        work.add(
            schema.archives,
            trial_id=trial_ids[-1],
            file=str(out.absolute()),
            file_digest=digest,
            first_link=min(going, default=0),
            last_link=max(going, default=0),
            links=len(going),
            rows=len(rows),
            time=iso_utc(now),
        )
    return len(going), len(rows)


def _trial_ids(connection: Connection, name: str) -> list[int]:
    table = schema.trials
    return list(connection.execute(select(table.c.id).where(table.c.name == name).order_by(table.c.id)).scalars())


def _forget_states(connection: Connection, spans: Spans) -> None:
    """Forget the states of the evaluator within the trial, but for the last of each press: it goes on from that."""
    table = schema.checkpoints
    for press, (first, last) in spans.items():
        here = table.c.press_id == select(schema.presses.c.id).where(schema.presses.c.name == press).scalar_subquery()
        newest = connection.execute(
            select(func.max(table.c.shot)).where(here, table.c.shot <= last, in_force(table, table.c.shot))
        ).scalar()
        if newest is not None:
            connection.execute(delete(table).where(here, table.c.shot.between(first, newest - 1)))


def _pack(file: Path) -> str:
    """Give the room in the file back to the disk; return why not, empty where it was done."""
    try:
        room_for(2 * file.stat().st_size, file.parent)
        with closing(sqlite3.connect(file, timeout=_BUSY_S, isolation_level=None)) as connection:
            connection.execute("VACUUM")
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    except (StoreUnreachable, sqlite3.Error) as error:
        return str(error)
    return ""
