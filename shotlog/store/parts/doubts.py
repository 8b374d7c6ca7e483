"""What speaks against parts by itself: a change that was called, and a part found bad. And what no longer does.

How far back a call holds parts. A call dates its change with an interval, and every further shot dates it anew,
mostly more narrowly. Parts are held from the early edge of the date *in force*. To hold from the earliest edge it ever
had would be the widest of many looks: with a vague first date whole lives are held that the call itself no longer
doubts, and who sees half of the holds turn out empty stops to believe the other half. But a date must not slip away
from a change that is there, so the newer date replaces the older one only where both can be of one change, their
intervals overlapping; where it lies wholly after, something further has happened, and the first date stays. Shots from
the first call on stay held whatever the date. A date does not make a decision: parts that were held and no longer are
stay on show with what was said of them, since somebody may have set them aside; and a call that was *withdrawn* leaves
its parts held, because whether there was a change at all is for a person to decide.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select

from shotlog.clock import parse_utc
from shotlog.store.inserts.ends import insert_ends
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.store.log.log import Log
from shotlog.store.parts.inspections import inspections

__all__ = ["Doubt", "Lifted", "doubts", "said_of_parts"]

_EVER = 2**62


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why parts of shots `first` to `last` are held without anybody having said so.

    `basis`: ``verdict`` or ``inspection``; `serial`: the insert it is about; `text`: in words. `since`: for each shot,
    when the evidence first spoke against it.
    """

    press: str
    basis: str
    serial: str
    first: int
    last: int
    text: str
    since: Mapping[int, datetime]


@dataclass(frozen=True, slots=True)
class Lifted:
    """Parts of shots `first` to `last` that a call once named and none names any more; `text` says what was said."""

    press: str
    serial: str
    first: int
    last: int
    text: str


def doubts(log: Log, press: str) -> list[Doubt]:
    """Return what speaks against parts of a press by itself, in order of first shot."""
    return said_of_parts(log, press)[0]


def said_of_parts(log: Log, press: str, first: int = 0, last: int = _EVER) -> tuple[list[Doubt], list[Lifted]]:
    """Return what speaks against parts of a press, and the parts that calls named before and that none names now.

    It is complete for the parts of shots `first` to `last`; of others there may be some.
    """
    called, once = _by_verdict(log, press, first, last)
    return sorted([*called, *_by_inspection(log, press)], key=lambda doubt: doubt.first), once


def _by_verdict(log: Log, press: str, first: int, last: int) -> tuple[list[Doubt], list[Lifted]]:
    """Return a doubt for each run of shots on one insert whose verdict in force was watch or swap, and what it lifted.

    A verdict made again by a later judging is not newer evidence: a part counts as named since the first verdict of
    that run that named it, under whichever judging.
    """
    with log.reading() as connection:
        whole = (first, last) == (0, _EVER)
        rows = _verdicts(connection, press, *((first, last) if whole else _calls_about(connection, press, first, last)))
        runs: list[list[Any]] = []
        for row in (row for row in rows if row.stands):
            before = runs[-1][-1] if runs else None
            if before is not None and before.insert == row.insert and _next(connection, press, before.shot, row.shot):
                runs[-1].append(row)
            else:
                runs.append([row])
        again = _judgings(connection, press)
    shots = [row.shot for row in rows]
    found = [
        _doubt(press, run, rows[bisect_left(shots, run[0].shot) : bisect_right(shots, run[-1].shot)]) for run in runs
    ]
    return found, list(_spans(press, _once_named(rows, found, again)))


def _once_named(rows: Sequence[Any], found: Sequence[Doubt], again: Sequence[Any]) -> dict[int, tuple[Any, str]]:
    """Return the last verdict that named a shot and what came of it, for each shot that no doubt names."""
    if not rows:
        return {}
    left = _Left(min(_early_edge(row) for row in rows), rows[-1].shot)
    for doubt in found:
        left.take(doubt.first, doubt.last)
    said: dict[int, tuple[Any, str]] = {}
    for row in reversed(rows):
        named = left.take(_early_edge(row), row.shot)
        if named:
            said |= dict.fromkeys(named, (row, _since_then(row, found, again)))
    return said


class _Left:
    """Shots `first` to `last` of which each is taken once; what is taken already is stepped over, however long."""

    def __init__(self, first: int, last: int) -> None:
        self._first = first
        self._next = list(range(last - first + 2))

    def take(self, first: int, last: int) -> list[int]:
        """Return the shots of a span that are left, and take them."""
        taken = []
        at = self._find(max(first - self._first, 0))
        while at <= last - self._first and at < len(self._next) - 1:
            taken.append(self._first + at)
            self._next[at] = at + 1
            at = self._find(at)
        return taken

    def _find(self, at: int) -> int:
        while self._next[at] != at:
            self._next[at] = self._next[self._next[at]]
            at = self._next[at]
        return at


def _calls_about(connection: Connection, press: str, first: int, last: int) -> tuple[int, int]:
    """Return the first and last shot whose calls must be known to tell of shots `first` to `last`.

    Calls have to do with each other where the shots they name touch, or where only missed shots lie between.
    """
    table = schema.verdicts
    query = (
        select(table.c.shot, table.c.onset_low, table.c.onset)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.verdict != "keep")
    )
    groups: list[list[int]] = []
    for edge, shot in sorted((_early_edge(row), row.shot) for row in connection.execute(query)):
        if groups and edge <= groups[-1][1] + 1:
            groups[-1][1] = max(groups[-1][1], shot)
        else:
            groups.append([edge, shot])
    if not groups:
        return first, last
    low = max(bisect_right(groups, first, key=lambda group: group[0]) - 1, 0)
    high = min(bisect_left(groups, last, key=lambda group: group[1]), len(groups) - 1)
    while low > 0 and _next(connection, press, groups[low - 1][1], groups[low][0]):
        low -= 1
    while high < len(groups) - 1 and _next(connection, press, groups[high][1], groups[high + 1][0]):
        high += 1
    return groups[low][0], groups[high][1]


def _verdicts(connection: Connection, press: str, first: int, last: int) -> list[Any]:
    table, judgings, shots = schema.verdicts, schema.judgings, schema.shots
    moment = select(shots.c.time).where(shots.c.press_id == table.c.press_id, shots.c.shot == table.c.shot)
    query = (
        select(
            table.c.shot, table.c.insert, table.c.verdict, table.c.cause,
            table.c.onset, table.c.onset_low, table.c.onset_high, table.c.judging_id,
            judgings.c.time.label("judged"), moment.scalar_subquery().label("moulded"),
            in_force(table, table.c.shot).label("stands"),
        )
        .select_from(table.join(judgings, judgings.c.id == table.c.judging_id))
        .join(schema.presses, schema.presses.c.id == table.c.press_id)
        .where(schema.presses.c.name == press, table.c.verdict != "keep", table.c.shot.between(first, last))
        .order_by(table.c.shot, table.c.id)
    )  # fmt: skip
    return list(connection.execute(query))


def _next(connection: Connection, press: str, before: int, shot: int) -> bool:
    """Say whether no shot was stored between two: missed shots end no run, their parts are in doubt as well."""
    if shot == before + 1:
        return True
    table = schema.shots
    query = (
        select(table.c.shot)
        .select_from(table.join(schema.presses))
        .where(schema.presses.c.name == press, table.c.shot > before, table.c.shot < shot)
        .limit(1)
    )
    return connection.execute(query).first() is None


def _judgings(connection: Connection, press: str) -> list[Any]:
    table = schema.judgings
    query = (
        select(table.c.id, table.c.from_shot, table.c.reason)
        .select_from(table.join(schema.presses))
        .where(schema.presses.c.name == press)
        .order_by(table.c.id)
    )
    return list(connection.execute(query))


def _doubt(press: str, run: Sequence[Any], every: Sequence[Any]) -> Doubt:
    first, last = _edge_in_force(run), run[-1]
    since: dict[int, datetime] = {}
    left = _Left(first, last.shot)
    for said, row in sorted(((max(parse_utc(r.judged), parse_utc(r.moulded)), r) for r in every), key=lambda p: p[0]):
        since |= dict.fromkeys(left.take(_early_edge(row), row.shot), said)
    for shot in range(last.shot, first - 1, -1):
        # Nobody judged the shots missed just before a judged one; they were made between two that are held.
        since.setdefault(shot, since.get(shot + 1, parse_utc(last.judged)))
    cause = f", {last.cause}" if last.cause else ""
    onset = "" if last.onset is None else f", onset {last.onset}"
    text = f"{last.verdict} at shot {last.shot} on {last.insert or 'no insert on record'}{cause}{onset}"
    return Doubt(press, "verdict", last.insert, first, last.shot, text, since)


def _edge_in_force(run: Sequence[Any]) -> int:
    """Return the shot a run's parts are held from: see the head of this module."""
    edge, begun_by = run[0].shot, None
    for row in run:
        if row.onset is None and row.onset_low is None:
            continue
        low = _early_edge(row)
        high = next(end for end in (row.onset_high, row.onset, row.onset_low) if end is not None)
        if begun_by is None or low <= begun_by:
            edge, begun_by = low, high if begun_by is None else min(begun_by, high)
    return int(min(edge, run[0].shot))


def _early_edge(row: Any) -> int:
    edge = row.onset_low if row.onset_low is not None else row.onset
    return int(row.shot if edge is None else min(edge, row.shot))


def _since_then(row: Any, found: Sequence[Doubt], again: Sequence[Any]) -> str:
    """Return why parts that a verdict named are in doubt no more, in words."""
    if row.stands:
        now = found[bisect_left(found, row.shot, key=lambda doubt: doubt.last)]
        return f"as dated later, parts are held from {now.first} on"
    since = bisect_right(again, row.judging_id, key=lambda one: one.id)
    later = (again[n].reason for n in range(since, len(again)) if again[n].from_shot <= row.shot)
    return f"judged again: {next(later, 'no reason on record')}"


def _spans(press: str, said: Mapping[int, tuple[Any, str]]) -> Iterator[Lifted]:
    """Yield unbroken runs of shots that are in doubt no more for one reason, with the calls that had named them."""
    run: list[int] = []
    for shot, (row, then) in sorted(said.items()):
        if run and (run[-1] != shot - 1 or (said[run[-1]][0].insert, said[run[-1]][1]) != (row.insert, then)):
            yield _lifted(press, run, said)
            run = []
        run.append(shot)
    if run:
        yield _lifted(press, run, said)


def _lifted(press: str, run: Sequence[int], said: Mapping[int, tuple[Any, str]]) -> Lifted:
    rows = [said[shot][0] for shot in run]
    worst = "swap" if any(row.verdict == "swap" for row in rows) else "watch"
    calls = _span(min(row.shot for row in rows), max(row.shot for row in rows))
    onsets = [row.onset for row in rows if row.onset is not None]
    dated = f" with onset {_span(min(onsets), max(onsets))}" if onsets else ""
    text = f"in doubt by {worst} at shot {calls}{dated}; {said[run[-1]][1]}"
    return Lifted(press, rows[-1].insert, run[0], run[-1], text)


def _span(first: int, last: int) -> str:
    return f"{first}" if first == last else f"{first} to {last}"


def _by_inspection(log: Log, press: str) -> list[Doubt]:
    """Return a doubt for each bad part, and from the first bad one of an insert on for the rest of its stay."""
    found = []
    for result in inspections(log, press):
        if result.bad:
            shot = result.part.shot
            text = f"inspection of {result.part}: {result}"
            found.append(Doubt(press, "inspection", "", shot, shot, text, {shot: result.entered}))
    latest = log.last_shot(press)
    for end in insert_ends(log):
        if end.bad is None or end.bad.part.press != press or latest is None:
            continue
        stay = next(
            stay for stay in end.stays if stay.mounting.press == press and stay.first <= end.bad.part.shot < stay.end
        )
        later = range(end.bad.part.shot + 1, int(min(stay.end, latest[0] + 1)))
        if later:
            text = f"made on {end.serial} after its first bad part ({end.bad.part})"
            since = dict.fromkeys(later, end.bad.entered)
            found.append(Doubt(press, "inspection", end.serial, later[0], later[-1], text, since))
    return found
