"""Pictures of what was found, kept as files beside the log, each under its digest; the log keeps what they are of.

The digest stands in a row of record and so in the hash chain: a file that was changed or lost afterwards is found by
`check_pictures`. A file is on disk before its row is committed, so that no row ever names a file that was not there; a
file whose row never came (power gone in between) does no harm. The name of a file is made from its digest alone.
"""

from collections.abc import Collection, Mapping
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, and_, func, or_, select
from sqlalchemy.engine import make_url

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import StoreDamaged, UsageError
from shotlog.parts.part import Part
from shotlog.parts.picture import Picture, Pictured
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log
from shotlog.store.parts.parts import check_made
from shotlog.store.parts.picture_bytes import kept_image
from shotlog.store.parts.picture_file import write_picture

__all__ = [
    "check_pictures",
    "of_finding",
    "of_insert",
    "picture_bytes",
    "picture_folder",
    "pictures",
    "pictures_of_findings",
    "pictures_of_insert",
    "pictures_of_part",
    "pictures_on_record",
    "pictures_under",
    "take_picture",
]


def picture_folder(store: str, config: Path) -> Path:
    """Return where the pictures of a log lie: beside an SQLite file, else beside the configuration."""
    url = make_url(store)
    beside = Path(url.database or "shotlog") if url.get_backend_name() == "sqlite" else config
    return beside.with_name(f"{beside.stem}.pictures")


def take_picture(
    log: Log,
    folder: Path,
    given: bytes,
    of: Pictured,
    time: datetime,
    *,
    remark: str = "",
    initials: str = "",
    taken: datetime | None = None,
) -> Picture:
    """Keep a picture and enter it; `given` is the file as it came.

    Place, camera and whatever else is not image are left out of what is kept. The same picture of the same thing is
    entered once, however often it comes: at the press a tablet may lose its network and try again.

    Raises
    ------
    UsageError
        It is no picture that is kept, the shot was never moulded, there is no such insert or finding, or it was taken
        after now.
    StoreUnreachable
        The file cannot be written.
    """
    image = kept_image(given)
    digest = sha256(image.data).hexdigest()
    taken = taken or time
    if taken > time:
        raise UsageError(f"taken: given {iso_utc(taken)}, allowed: not after now ({iso_utc(time)})")
    row: dict[str, Any] = {"shot": of.shot, "cavity": of.cavity, "event_id": of.event_id, "digest": digest}
    row |= {
        "media": image.media,
        "bytes": len(image.data),
        "remark": " ".join(remark.split()),
        "initials": " ".join(initials.split()),
    }
    row |= {"taken": iso_utc(taken), "time": iso_utc(time)}
    with log.reading() as connection:
        check_made(connection, [Part(of.press, of.shot, of.cavity or 1)])
        row["insert_id"] = _insert_id(connection, of.insert) if of.insert else None
        if of.event_id is not None and _event(connection, of.event_id).press != of.press:
            raise UsageError(f"event {of.event_id}: there is none of {of.press}")
    # Before the transaction, so that shots do not wait for a slow disk.
    write_picture(folder, digest, image)
    with log.transaction() as work:
        if (before := _same(work.connection, of.press, row)) is not None:
            return before
        entry_id = work.add(schema.pictures, press_id=work.press_id(of.press, row["time"]), **row)
    return _picture({"id": entry_id, "press": of.press, "serial": of.insert or None, **row})


def of_finding(log: Log, event_id: int) -> Pictured:
    """Return what a picture taken with a finding (number of its event) shows.

    Raises
    ------
    UsageError
        There is no such entry.
    """
    with log.reading() as connection:
        found = _event(connection, event_id)
    return Pictured(found.press, found.at_shot, event_id=event_id)


def of_insert(log: Log, serial: str) -> Pictured:
    """Return what a picture of an insert shows: the insert, as the last shot made on it left it.

    Raises
    ------
    UsageError
        No shot was made on it yet.
    """
    last: list[tuple[tuple[int, datetime], Pictured]] = []
    for press in log.presses():
        for stay in log.timeline(press).stays:
            newest = log.last_shot(press)
            if stay.mounting.insert.serial == serial and newest is not None and newest[0] >= stay.first:
                shot = int(min(newest[0], stay.end - 1))
                last.append((stay.mounting.came, Pictured(press, shot, insert=serial)))
    if not last:
        raise UsageError(f"insert {serial}: no shot was made on it yet, so that a picture has no place on record")
    return max(last, key=lambda one: one[0])[1]


def pictures(log: Log, press: str, first: int | None = None, last: int | None = None) -> list[Picture]:
    """Return the pictures in force of shots `first` to `last` of a press, in the order of shot and entry."""
    table = schema.pictures
    wanted = [schema.presses.c.name == press, standing(table)]
    wanted += [] if first is None else [table.c.shot >= first]
    wanted += [] if last is None else [table.c.shot <= last]
    with log.reading() as connection:
        return _read(connection, _select().where(*wanted).order_by(table.c.shot, table.c.id))


def pictures_of_part(log: Log, part: Part) -> list[Picture]:
    """Return the pictures in force of one part: of its cavity, or of its whole shot."""
    return [one for one in pictures(log, part.press, part.shot, part.shot) if one.cavity in (None, part.cavity)]


def pictures_of_insert(log: Log, serial: str) -> list[Picture]:
    """Return the pictures in force that show an insert or its parts, in order of press, shot and entry.

    Those entered of it; and those of shots made on it, unless they were entered of another insert or with a finding on
    another half.
    """
    spans = [
        (stay.mounting.press, stay.first, stay.end, stay.mounting.half)
        for press in log.presses()
        for stay in log.timeline(press).stays
        if stay.mounting.insert.serial == serial
    ]
    table, events = schema.pictures, schema.events
    made_on: list[ColumnElement[bool]] = [
        and_(
            schema.presses.c.name == press,
            table.c.shot >= first,
            *([table.c.shot < int(end)] if end != float("inf") else []),
            table.c.insert_id.is_(None),
            or_(table.c.event_id.is_(None), func.coalesce(events.c.half, "").in_(("", half))),
        )
        for press, first, end, half in spans
    ]
    query = _select(events).where(or_(schema.inserts.c.serial == serial, *made_on), standing(table))
    with log.reading() as connection:
        return _read(connection, query.order_by(schema.presses.c.name, table.c.shot, table.c.id))


def pictures_of_findings(log: Log, event_ids: Collection[int]) -> dict[int, list[Picture]]:
    """Return the pictures in force that were taken with findings, by number of the event, oldest first."""
    table = schema.pictures
    query = _select().where(table.c.event_id.in_(event_ids), standing(table)).order_by(table.c.id)
    found: dict[int, list[Picture]] = {}
    with log.reading() as connection:
        for one in _read(connection, query) if event_ids else ():
            if one.event_id is not None:
                found.setdefault(one.event_id, []).append(one)
    return found


def pictures_under(log: Log, digest: str) -> list[Picture]:
    """Return the pictures in force whose file has a digest, oldest first."""
    table = schema.pictures
    with log.reading() as connection:
        return _read(connection, _select().where(table.c.digest == digest, standing(table)).order_by(table.c.id))


def picture_bytes(folder: Path, picture: Picture) -> bytes:
    """Return the file of a picture.

    Raises
    ------
    StoreDamaged
        It is not there, or is not what was kept.
    """
    path = folder / picture.file_name
    try:
        data = path.read_bytes()
    except OSError as error:
        raise StoreDamaged(f"picture {path}: {error.strerror or error}") from error
    if sha256(data).hexdigest() != picture.digest:
        raise StoreDamaged(f"picture {path}: was changed after it was kept")
    return data


def pictures_on_record(log: Log) -> list[str]:
    """Return the name of every file on record, those of pictures taken back as well, oldest first."""
    with log.reading() as connection:
        return list(dict.fromkeys(one.file_name for one in _read(connection, _select().order_by(schema.pictures.c.id))))


def check_pictures(log: Log, folder: Path) -> int:
    """Read the file of every picture on record, those taken back as well; return how many files there are.

    Raises
    ------
    StoreDamaged
        One is not there, or is not what was kept.
    """
    with log.reading() as connection:
        found = {one.file_name: one for one in _read(connection, _select().order_by(schema.pictures.c.id))}
    for one in found.values():
        picture_bytes(folder, one)
    return len(found)


def _select(*also: Any) -> Select[Any]:
    table, presses, inserts = schema.pictures, schema.presses, schema.inserts
    joined = table.join(presses, presses.c.id == table.c.press_id)
    joined = joined.outerjoin(inserts, inserts.c.id == table.c.insert_id)
    for other in also:
        joined = joined.outerjoin(other, other.c.id == table.c.event_id)
    return select(table, presses.c.name.label("press"), inserts.c.serial).select_from(joined)


def _read(connection: Connection, query: Select[Any]) -> list[Picture]:
    return [_picture(row) for row in connection.execute(query).mappings()]


def _picture(row: Mapping[Any, Any]) -> Picture:
    plain = {
        name: row[name] for name in ("press", "shot", "cavity", "event_id", "digest", "media", "remark", "initials")
    }
    taken, entered = parse_utc(row["taken"]), parse_utc(row["time"])
    return Picture(row["id"], insert=row["serial"] or "", n_bytes=row["bytes"], taken=taken, entered=entered, **plain)


def _same(connection: Connection, press: str, row: Mapping[str, Any]) -> Picture | None:
    """Return a picture in force that is this one."""
    table = schema.pictures
    alike = [table.c[name] == row[name] for name in ("shot", "cavity", "insert_id", "event_id", "digest")]
    found = _read(connection, _select().where(schema.presses.c.name == press, standing(table), *alike))
    return found[0] if found else None


def _insert_id(connection: Connection, serial: str) -> int:
    table = schema.inserts
    found = connection.execute(select(table.c.id).where(table.c.serial == serial)).scalar()
    if found is None:
        raise UsageError(f"insert: given {serial!r}, allowed: the serial of an insert on record")
    return int(found)


def _event(connection: Connection, event_id: int) -> Any:
    events = schema.events
    query = select(events.c.at_shot, schema.presses.c.name.label("press")).join(schema.presses)
    found = connection.execute(query.where(events.c.id == event_id)).first()
    if found is None:
        raise UsageError(f"event {event_id}: there is none")
    return found
