"""What a damaged log still holds, written into a new one: every row that reads and that its chain does not contradict.

A page that was lost takes the rows that lay on it and no others. The rows that read are kept under their numbers, in
the order of the chain, and chained anew; where nothing is missing, the new chain is the old one to the last digit. A
row that reads and was changed is left out: the chain says so. Which shots are missing is told.

A page that was taken for one of another table, or overwritten in part, may read and hold anything: a row of which a
column holds what it never could, or that is there twice, counts as lost.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from typing import Any

from sqlalchemy import Column, Connection, Engine, Table, UniqueConstraint, func, insert, select
from sqlalchemy.exc import DBAPIError

from shotlog.store.log import schema
from shotlog.store.log.broken_off import go_on
from shotlog.store.log.chain import GENESIS, digest

__all__ = ["Old", "Salvaged", "salvage", "what_reads"]

Row = Mapping[str, Any]
Name = tuple[str, int]

_AT_ONCE = 500
_EMPTY = 3
"""So many reads in a row without a row are taken for the end of a table of which nobody can say how long it is."""
_LOST_WHOLE = 64
"""Up to so many rows count as lost together where neither the first, the middle nor the last of them reads."""
_FARTHEST = 1_000_000
"""So many numbers in a row without a row lead to none: no page holds so many."""
_OF_AN_ENTRY = (schema.corrections, schema.signed)
"""Rows that name an entry, of whichever table."""
_LASTING = (schema.presses, schema.trials, schema.designs, schema.inserts)
"""Names that other rows hang on: kept also where their link does not verify."""


@dataclass(slots=True)
class Salvaged:
    """What came of it: rows kept, rows lost by table, and the shots of each press that are missing.

    `changed`: rows, by table and number, that read and that the chain contradicts; they are lost as well.
    """

    kept: int = 0
    lost: dict[str, int] = field(default_factory=dict)
    changed: set[Name] = field(default_factory=set)
    shots: dict[str, list[tuple[int, int]]] = field(default_factory=dict)

    @property
    def is_whole(self) -> bool:
        """Whether nothing of the record is missing."""
        return not self.lost


@dataclass(slots=True)
class Old:
    """All that reads of the old log."""

    rows: dict[str, dict[int, Row]] = field(default_factory=dict)
    links: dict[int, Row] = field(default_factory=dict)


def what_reads(source: Engine) -> Old:
    """Return all that reads of a log."""
    old = Old()
    with source.connect() as connection:
        old.links = _in_reach(_rows(connection, schema.ledger, 0))
        named: dict[str, int] = defaultdict(int)
        for link in old.links.values():
            for table, row_id in map(_name, link["rows"].split()):
                named[table] = max(named[table], row_id)
        old.rows = {name: _rows(connection, table, named[name]) for name, table in schema.RECORD_TABLES.items()}
    return old


def salvage(old: Old, target: Engine) -> Salvaged:
    """Write what reads of a log into the empty log `target`, in one transaction."""
    named = {number: [_name(word) for word in link["rows"].split()] for number, link in old.links.items()}
    archived = _archived(old, named)
    named = {number: names for number, names in named.items() if number not in archived}
    there = {(table, row_id) for table, rows in old.rows.items() for row_id in rows}
    wanted = {name for names in named.values() for name in names}
    changed = _changed(old, named)
    good = _with_parents(there - changed, old)
    made = Salvaged(len(good), changed=changed)
    for name, _ in wanted.union(there) - good:
        made.lost[name] = made.lost.get(name, 0) + 1
    if lost_links := _missing(old.links):
        made.lost["ledger"] = len(lost_links)
    with target.begin() as connection:
        for table in schema.METADATA.sorted_tables:
            rows = [dict(row) for row_id, row in old.rows.get(table.name, {}).items() if (table.name, row_id) in good]
            if rows:
                connection.execute(insert(table), rows)
        _chain(connection, old, {**_placed(named, good, lost_links), **{number: [] for number in archived}})
    made.shots = {press: missing for press, missing in _missing_shots(old, good) if missing}
    return made


def _rows(connection: Connection, table: Table, at_least: int) -> dict[int, Row]:
    """Return every row of a table that reads, by number; `at_least`: a number that it is known to reach."""
    found: dict[int, Row] = {}
    last = _last(connection, table)
    low, empty = 0, 0
    while low < max(at_least, last or 0) or (last is None and empty < _EMPTY):
        before = len(found)
        _read_between(connection, table, low + 1, low + _AT_ONCE, found)
        empty = 0 if len(found) > before else empty + 1
        low += _AT_ONCE
        if empty >= _EMPTY:  # the number of the last row may be none: what leads to it is not read one by one
            low = max(low, (_next(connection, table, low) or low + 1) - 1)
            if empty >= _FARTHEST // _AT_ONCE:
                break
    return dict(sorted(found.items()))


def _in_reach(links: Mapping[int, Row]) -> dict[int, Row]:
    """Return the links up to the first that lies beyond all reach: its number was damaged; and each origin once."""
    kept: dict[int, Row] = {}
    once = _Once(schema.ledger)
    last = 0
    for number, link in links.items():
        if number - last > _FARTHEST:
            break
        last = number
        if once.is_first(link):
            kept[number] = link
    return kept


def _next(connection: Connection, table: Table, after: int) -> int | None:
    """Return the number of the first row after another, None where nobody can say."""
    try:
        found = connection.execute(select(func.min(table.c.id)).where(table.c.id > after)).scalar()
    except DBAPIError:
        go_on()
        return None
    return found if isinstance(found, int) else None


def _last(connection: Connection, table: Table) -> int | None:
    """Return the number of the last row, None where nobody can say: it is read until nothing comes any more."""
    try:
        last = connection.execute(select(func.max(table.c.id))).scalar() or 0
    except DBAPIError:
        go_on()
        return None
    return last if isinstance(last, int) else None


def _read_between(connection: Connection, table: Table, low: int, high: int, found: dict[int, Row]) -> None:
    """Read the rows of two numbers and between, in ever smaller pieces where that fails."""
    go_on()
    rows = _between(connection, table, low, high)
    if rows is not None:
        found.update((row["id"], row) for row in rows if _fits(table, row) and low <= row["id"] <= high)
        return
    middle = (low + high) // 2
    ends = (_between(connection, table, one, one) for one in {low, middle, high})
    if low == high or (high - low < _LOST_WHOLE and all(end is None for end in ends)):
        return
    _read_between(connection, table, low, middle, found)
    _read_between(connection, table, middle + 1, high, found)


def _between(connection: Connection, table: Table, low: int, high: int) -> Sequence[Row] | None:
    """Return the rows of two numbers and between, None where one does not read."""
    try:
        return [dict(row) for row in connection.execute(select(table).where(table.c.id.between(low, high))).mappings()]
    except (DBAPIError, ValueError, TypeError, OverflowError, MemoryError):  # a text may be none, a number too large
        go_on()
        return None


def _fits(table: Table, row: Row) -> bool:
    """Say whether every column of a row holds what its table can hold: SQLite returns whatever stands on the page."""
    return all(_may_hold(column, row[column.name]) for column in table.columns)


def _may_hold(column: Column[Any], value: object) -> bool:
    if value is None:
        return bool(column.nullable)
    kind = column.type.python_type
    return isinstance(value, (int, float) if kind is float else kind)


def _name(word: str) -> Name:
    table, _, row_id = word.partition(":")
    return table, int(row_id) if row_id.isdecimal() else 0


def _changed(old: Old, named: Mapping[int, list[Name]]) -> set[Name]:
    """Return the rows of links that read as a whole and do not verify."""
    changed: set[Name] = set()
    for number, names in named.items():
        go_on()
        link, before = old.links[number], old.links.get(number - 1)
        rows = [(table, old.rows.get(table, {}).get(row_id)) for table, row_id in names]
        if (before is None and number > 1) or any(row is None for _, row in rows):
            continue
        whole = [(table, row) for table, row in rows if row is not None]
        if digest(GENESIS if before is None else before["digest"], whole) != link["digest"]:
            changed.update(names)
    lasting = {table.name for table in _LASTING}
    return {name for name in changed if name[0] not in lasting}


def _with_parents(there: set[Name], old: Old) -> set[Name]:
    """Return the rows whose every reference leads to a row that is there as well; none twice.

    A correction or a signature without its entry is lost with it: the entry's number is given to another one.
    """
    good: set[Name] = set()
    for table in sorted(schema.METADATA.sorted_tables, key=lambda table: table in _OF_AN_ENTRY):
        once = _Once(table)
        refers = [(key.parent.name, key.column.table.name) for key in table.foreign_keys]
        for row_id, row in old.rows.get(table.name, {}).items():
            go_on()
            parents = [(to, row[column]) for column, to in refers if row[column] is not None]
            if table in _OF_AN_ENTRY:
                parents.append((row["entry"], row["entry_id"]))
            led = (table.name, row_id) in there and all(parent in good for parent in parents)
            if led and once.is_first(row):
                good.add((table.name, row_id))
    return good


class _Once:
    """Tells the first row of a table from others that say they are the same."""

    def __init__(self, table: Table) -> None:
        unique = [one for one in table.constraints if isinstance(one, UniqueConstraint)]
        self._keys = [tuple(column.name for column in one.columns) for one in unique]
        self._seen: set[tuple[tuple[str, ...], tuple[object, ...]]] = set()

    def is_first(self, row: Row) -> bool:
        keys = {(names, tuple(row[name] for name in names)) for names in self._keys}
        keys = {(names, values) for names, values in keys if None not in values}
        if keys & self._seen:
            return False
        self._seen |= keys
        return True


def _archived(old: Old, named: Mapping[int, list[Name]]) -> set[int]:
    """Return the links whose rows went into the archive of a trial: all of them are gone, and the log says so."""
    spans = [(row["first_link"], row["last_link"]) for row in old.rows.get(schema.archives.name, {}).values()]
    return {
        number
        for number, names in named.items()
        if any(first <= number <= last for first, last in spans)
        and not any(row_id in old.rows.get(table, {}) for table, row_id in names)
    }


def _missing(links: Mapping[int, Row]) -> list[int]:
    return sorted(set(range(1, max(links, default=0) + 1)) - set(links))


def _placed(named: Mapping[int, list[Name]], good: set[Name], lost_links: Iterable[int]) -> dict[int, list[Name]]:
    """Return the rows that are kept by link, those whose link is lost under the lost one that comes nearest after."""
    placed = {number: [name for name in names if name in good] for number, names in named.items()}
    without = sorted(good - {name for names in placed.values() for name in names})
    ends = max(named, default=0) + 1
    gaps = [*lost_links, ends]
    last: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for number, names in sorted(placed.items()):
        for table, row_id in names:
            last[table].append((row_id, number))
    for table, row_id in without:
        after = max((number for other, number in last[table] if other < row_id), default=0)
        placed.setdefault(next(gap for gap in gaps if gap > after), []).append((table, row_id))
    return {number: names for number, names in sorted(placed.items()) if names}


def _chain(connection: Connection, old: Old, placed: Mapping[int, list[Name]]) -> None:
    before = GENESIS
    links = []
    for number, names in sorted(placed.items()):
        go_on()
        if not names:  # its rows lie in an archive, and it is taken at its word
            links.append(dict(old.links[number]))
            before = old.links[number]["digest"]
            continue
        before = digest(before, [(table, old.rows[table][row_id]) for table, row_id in names])
        rows = " ".join(f"{table}:{row_id}" for table, row_id in names)
        origin = old.links[number]["origin"] if number in old.links else None
        links.append({"id": number, "rows": rows, "digest": before, "origin": origin})
    if links:
        connection.execute(insert(schema.ledger), links)


def _missing_shots(old: Old, good: set[Name]) -> Iterable[tuple[str, list[tuple[int, int]]]]:
    """Yield each press with the runs of shots between those kept that no gap of the log accounts for."""
    for press_id, press in old.rows.get("presses", {}).items():
        shots = [r for i, r in old.rows["shots"].items() if ("shots", i) in good and r["press_id"] == press_id]
        gaps = [r for i, r in old.rows["gaps"].items() if ("gaps", i) in good and r["press_id"] == press_id]
        known = sorted([(r["shot"], r["shot"]) for r in shots] + [(r["first"], r["last"]) for r in gaps])
        upto = accumulate((last for _, last in known), max)
        yield (
            press["name"],
            [(a + 1, first - 1) for a, (first, _) in zip(upto, known[1:], strict=False) if first - a > 1],
        )
