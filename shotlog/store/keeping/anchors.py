"""The head of a log, written down outside of it again and again, and the log compared with what was written.

A folder on another disk or machine holds a text file for each log, `<uid>.anchors`: a line each time the head was
written down, added to and never changed. Somebody who rewrites the log with a chain that fits has to rewrite this file
as well; who can write both can forge both.

What the log itself keeps of it (table `anchors`) only tells where to look.
"""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import select

from shotlog.clock import iso_utc
from shotlog.errors import StoreDamaged, StoreUnreachable
from shotlog.store.keeping.head import Head, head_line, head_of, read_head_line, uid_of
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.withheld import without_secrets

__all__ = [
    "Anchor",
    "Confirmed",
    "anchor_file",
    "anchors_named",
    "compare",
    "enter_anchor",
    "is_there",
    "standing_against",
    "write_anchor",
]

_KEPT_AS = "# the head of a log kept as "


@dataclass(frozen=True, slots=True)
class Anchor:
    """A head as it was written down once: when, what, by what (such as ``run``), and in which file."""

    time: datetime
    head: Head
    by: str
    file: Path


@dataclass(frozen=True, slots=True)
class Confirmed:
    """What the files outside say of a log: the newest anchor that it holds, how many it holds, and what is beside it.

    `beyond`: the newest anchor of a log that this one goes on from, beyond the point at which it does so: what came
    there is not in this log, and it says so itself. `unread`: lines that are none of ours.
    """

    newest: Anchor | None
    n: int
    beyond: Anchor | None
    unread: int


@dataclass(frozen=True, slots=True)
class _Name:
    """A name that a log went by, and up to where: how many transactions, None up to its end."""

    uid: str
    upto: int | None


def anchor_file(folder: Path, uid: str) -> Path:
    """Return the file that holds the anchors of a log."""
    return folder / f"{uid}.anchors"


def standing_against(folder: Path) -> str:
    """Return what stands against anchors in a folder, empty where nothing does; the folder itself is made if need be.

    Examples
    --------
    >>> standing_against(Path("/misspelt/outside"))
    'neither it nor the folder it lies in is there'
    """
    if is_there(folder) or (is_there(folder.parent) and not os.path.lexists(folder)):
        return ""
    return "it is no folder" if os.path.lexists(folder) else "neither it nor the folder it lies in is there"


def is_there(folder: Path) -> bool:
    """Say whether a folder is there and may be looked into."""
    return os.path.isdir(folder)  # noqa: PTH112  (the other fails where one may not look)


def write_anchor(log: Log, folder: Path, by: str, time: datetime, head: Head | None = None) -> Anchor | None:
    """Write the head of a log down in `folder`, unless it stands there last; return it, None if nothing was written.

    `head`: one that the log had a moment ago, where that is what left it.

    Raises
    ------
    StoreUnreachable
        It cannot be written, or the log has no name yet.
    StoreDamaged
        What was written down last is not in the log: it was cut off or written anew since. Nothing is added.
    """
    uid, head = uid_of(log), head or head_of(log)
    if uid is None:
        raise StoreUnreachable(
            f"log {log.url}: an earlier release wrote it, and it has no name yet; `shotlog run` gives one"
        )
    path = anchor_file(folder, uid)
    try:
        last = _last(path)
        if last is not None:
            if last.head == head:
                return None
            _check_one(log, last)
        folder.mkdir(exist_ok=True)
        _add_line(path, head_line(head, time, by), f"{_KEPT_AS}{without_secrets(log.url)}")
    except OSError as error:
        raise StoreUnreachable(f"anchor {path}: {error.strerror or error}") from error
    return Anchor(time, head, by, path)


def enter_anchor(log: Log, anchor: Anchor) -> None:
    """Say in the log that its head was written down outside, and where."""
    with log.transaction() as work:
        work.add(
            schema.anchors,
            place=str(anchor.file),
            links=anchor.head.links,
            digest=anchor.head.digest,
            time=iso_utc(anchor.time),
        )


def anchors_named(log: Log) -> list[str]:
    """Return the files in which, as the log says itself, its head was written down, in the order they came first."""
    table = schema.anchors
    with log.reading() as connection:
        return list(dict.fromkeys(connection.execute(select(table.c.place).order_by(table.c.id)).scalars()))


def compare(log: Log, folder: Path) -> Confirmed:
    """Compare a log, whose chain was verified, with what was written down of it in `folder`.

    Raises
    ------
    StoreDamaged
        A head that was written down is not in the log; or another log stood in its place, and this one does not say
        that it goes on from that one.
    StoreUnreachable
        The folder cannot be read.
    """
    names = _names(log)
    kept: list[Anchor] = []
    beyond: Anchor | None = None
    unread = 0
    try:
        for name in names:
            found, bad = _read(anchor_file(folder, name.uid))
            unread += bad
            within = [one for one in found if name.upto is None or one.head.links <= name.upto]
            kept += within
            beyond = found[-1] if len(within) < len(found) else beyond
        _check_all(log, kept)
        if not kept:
            _check_no_other(log, folder, {name.uid for name in names})
    except OSError as error:
        raise StoreUnreachable(f"anchors in {folder}: {error.strerror or error}") from error
    newest = max(kept, key=lambda one: one.head.links, default=None)
    return Confirmed(newest, len(kept), beyond, unread)


def _names(log: Log) -> list[_Name]:
    """Return the names a log went by, the newest last; of one that it goes on from and does not hold, none counts."""
    table, ledger = schema.logs, schema.ledger
    names: list[_Name] = []
    with log.reading() as connection:
        rows = connection.execute(select(table).order_by(table.c.id)).mappings().all()
        places: dict[str, int] = {}
        digests = {row["follows_digest"] for row in rows if row["follows_digest"]}
        query = select(ledger.c.digest).order_by(ledger.c.id).execution_options(yield_per=5000)
        if digests:
            places = {one: n for n, one in enumerate(connection.execute(query).scalars(), 1) if one in digests}
    for row in rows:
        if row["follows"]:
            upto = places.get(row["follows_digest"] or "", 0)
            names = [_Name(one.uid, upto) if one.uid == row["follows"] else one for one in names]
            if all(one.uid != row["follows"] for one in names):
                names.append(_Name(row["follows"], upto))
        names.append(_Name(row["uid"], None))
    return names


def _check_one(log: Log, anchor: Anchor) -> None:
    """Look for one anchor in the chain, without reading all of it."""
    ledger, at = schema.ledger, anchor.head.links - 1
    with log.reading() as connection:
        query = select(ledger.c.digest).order_by(ledger.c.id).limit(1).offset(max(0, at))
        digest = connection.execute(query).scalar()
    if digest is None and at >= 0:
        raise _end_missing(log, anchor, head_of(log).links)
    if at >= 0 and digest != anchor.head.digest:
        raise _written_anew(log, anchor)


def _check_all(log: Log, anchors: list[Anchor]) -> None:
    """Look for every anchor in the chain, in one pass over it."""
    wanted: dict[int, list[Anchor]] = {}
    for one in anchors:
        if one.head.links:
            wanted.setdefault(one.head.links, []).append(one)
    if not wanted:
        return
    ledger = schema.ledger
    n = 0
    with log.reading() as connection:
        query = select(ledger.c.digest).order_by(ledger.c.id).execution_options(yield_per=5000)
        for n, digest in enumerate(connection.execute(query).scalars(), 1):
            for one in wanted.pop(n, ()):
                if one.head.digest != digest:
                    raise _written_anew(log, one)
    if wanted:
        raise _end_missing(log, wanted[max(wanted)][-1], n)


def _written_anew(log: Log, anchor: Anchor) -> StoreDamaged:
    return StoreDamaged(
        f"log {log.url}: transaction {anchor.head.links} is not the one that was written down on "
        f"{iso_utc(anchor.time)} in {anchor.file}: the log was written anew since, or is another one"
    )


def _end_missing(log: Log, anchor: Anchor, links: int) -> StoreDamaged:
    return StoreDamaged(
        f"log {log.url}: its end is missing: {anchor.head.links} transactions were written down on "
        f"{iso_utc(anchor.time)} in {anchor.file}, and it has {links}; it was cut off, or is an older copy"
    )


def _check_no_other(log: Log, folder: Path, known: set[str]) -> None:
    """Look whether another log, with anchors, stood where this one stands, which has none."""
    here = f"{_KEPT_AS}{without_secrets(log.url)}"
    for path in sorted(folder.glob("*.anchors")):
        if path.stem in known:
            continue
        with path.open(encoding="utf-8", errors="replace") as file:
            stood_here = here in (line.rstrip("\n") for line in file if line.startswith(_KEPT_AS))
        found, _ = _read(path) if stood_here else ([], 0)
        if found and found[-1].head.links:
            raise StoreDamaged(
                f"log {log.url}: this is another log: the one that stood here had {found[-1].head.links} "
                f"transactions on {iso_utc(found[-1].time)}, by {path}; "
                "if it was put aside on purpose, put that file beside it"
            )


def _read(path: Path) -> tuple[list[Anchor], int]:
    """Return the anchors in a file, in order, and how many of its lines are none."""
    if not path.exists():
        return [], 0
    found, unread = [], 0
    for line in _lines(path):
        read = read_head_line(line)
        if read is not None:
            found.append(Anchor(*read, path))
        elif line and not line.startswith("#"):
            unread += 1
    return found, unread


def _lines(path: Path) -> Iterator[str]:
    with path.open(encoding="utf-8", errors="replace") as file:
        for line in file:
            yield line.rstrip("\r\n")


def _last(path: Path) -> Anchor | None:
    return next(iter(_read(path)[0][-1:]), None)


def _add_line(path: Path, line: str, first: str) -> None:
    """Add a line and bring it to disk. After a line cut by a power failure it stands on one of its own."""
    with path.open("a+b") as file:
        start = f"{first}\n" if file.seek(0, os.SEEK_END) == 0 else ""
        if not start:
            file.seek(-1, os.SEEK_END)
            start = "" if file.read(1) == b"\n" else "\n"
        file.write(f"{start}{line}\n".encode())
        file.flush()
        os.fsync(file.fileno())
