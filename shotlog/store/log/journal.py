"""The journal beside a log: records the log would not take, kept until it does.

One JSON line a batch, synchronised to disk before `append` returns. A batch carries its origin, so that delivering it
twice stores it once: if the power goes between the log's commit and the clearing of the journal, nothing doubles.
"""

import json
import os
from dataclasses import fields
from datetime import datetime
from pathlib import Path
from typing import IO, Any

from sqlalchemy.engine import make_url

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import StoreDamaged, UsageError
from shotlog.records import ClockStep, Event, Fault, Gap, Link, Shot, Start, Weighing

__all__ = ["Journal", "Spooled", "journal_path"]

Spooled = Shot | Gap | Fault | Link | Weighing | ClockStep | Event | Start

_SPOOLED = (Shot, Gap, Fault, Link, Weighing, ClockStep, Event, Start)
_KINDS: dict[str, type[Spooled]] = {kind.__name__: kind for kind in _SPOOLED}


def journal_path(store: str, config: Path) -> Path:
    """Return where the journal of a log lives: beside an SQLite file, else beside the configuration.

    Each configuration has its own: two of them may log to one log, and one must not clear what the other keeps.
    """
    url = make_url(store)
    beside = Path(url.database or "shotlog") if url.get_backend_name() == "sqlite" else config
    return beside.with_name(f"{beside.name}.{config.stem}.spool")


class Journal:
    """The file that holds batches of records until the log takes them."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def append(self, origin: str, records: list[Spooled]) -> None:
        """Add a batch; returns after it is on disk. A cut line before it was never acknowledged and is dropped.

        Raises
        ------
        OSError
            The file cannot be written.
        """
        line = json.dumps({"origin": origin, "records": [_plain(record) for record in records]})
        with self.path.open("a+b") as file:
            _drop_cut_line(file)
            file.write(line.encode() + b"\n")
            file.flush()
            os.fsync(file.fileno())

    def batches(self) -> list[tuple[str, list[Spooled]]]:
        """Return every whole batch, oldest first. A last line cut by a power failure was never acknowledged.

        Raises
        ------
        StoreDamaged
            A whole line does not read.
        """
        if not self.path.exists():
            return []
        lines = self.path.read_text(encoding="utf-8", errors="replace").splitlines(keepends=True)
        found = []
        for number, line in enumerate(lines, 1):
            if not line.endswith("\n"):
                break
            try:
                batch = json.loads(line)
                found.append((batch["origin"], [_record(plain) for plain in batch["records"]]))
            except (ValueError, KeyError, TypeError, UsageError) as error:
                raise StoreDamaged(f"journal {self.path}: line {number} does not read ({error})") from error
        return found

    def clear(self) -> None:
        """Forget every batch."""
        self.path.unlink(missing_ok=True)


def _drop_cut_line(file: IO[bytes]) -> None:
    if file.seek(0, os.SEEK_END) == 0:
        return
    file.seek(-1, os.SEEK_END)
    if file.read(1) != b"\n":
        file.seek(0)
        file.truncate(file.read().rfind(b"\n") + 1)


def _plain(record: Spooled) -> dict[str, Any]:
    plain: dict[str, Any] = {"record": type(record).__name__}
    for field in fields(record):
        value = getattr(record, field.name)
        if isinstance(value, datetime):
            value = iso_utc(value)
        elif isinstance(value, bytes):
            value = value.hex()
        elif field.name == "values":
            value = dict(value)
        plain[field.name] = value
    return plain


def _record(plain: dict[str, Any]) -> Spooled:
    kind = _KINDS[plain.pop("record")]
    plain["time"] = parse_utc(plain["time"])
    if "raw" in plain:
        plain["raw"] = bytes.fromhex(plain["raw"])
    return kind(**plain)
