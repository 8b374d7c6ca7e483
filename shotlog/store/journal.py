"""The journal beside a log: records the log would not take, kept until it does.

One JSON line a batch, synchronised to disk before `append` returns. A batch carries its origin, so that delivering it
twice stores it once: if the power goes between the log's commit and the clearing of the journal, nothing doubles.
"""

import json
import os
from dataclasses import fields
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy.engine import make_url

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import StoreDamaged
from shotlog.records import Fault, Gap, Link, Shot

__all__ = ["Journal", "Spooled", "journal_path"]

Spooled = Shot | Gap | Fault | Link

_KINDS: dict[str, type[Spooled]] = {kind.__name__: kind for kind in (Shot, Gap, Fault, Link)}


def journal_path(store: str, folder: Path) -> Path:
    """Return where the journal of a log lives: beside an SQLite file, else in `folder`."""
    url = make_url(store)
    if url.get_backend_name() == "sqlite":
        return Path(f"{url.database}.spool")
    return folder / f"{url.database or 'shotlog'}.spool"


class Journal:
    """The file that holds batches of records until the log takes them."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def append(self, origin: str, records: list[Spooled]) -> None:
        """Add a batch; returns after it is on disk.

        Raises
        ------
        OSError
            The file cannot be written.
        """
        line = json.dumps({"origin": origin, "records": [_plain(record) for record in records]})
        with self.path.open("a", encoding="utf-8") as file:
            file.write(line + "\n")
            file.flush()
            os.fsync(file.fileno())

    def batches(self) -> list[tuple[str, list[Spooled]]]:
        """Return every whole batch, oldest first. A last line cut by a power failure was never acknowledged.

        Raises
        ------
        StoreDamaged
            A line other than the last does not read.
        """
        if not self.path.exists():
            return []
        lines = self.path.read_text(encoding="utf-8", errors="replace").splitlines(keepends=True)
        found = []
        for number, line in enumerate(lines, 1):
            try:
                batch = json.loads(line)
                found.append((batch["origin"], [_record(plain) for plain in batch["records"]]))
            except (ValueError, KeyError, TypeError) as error:
                if number == len(lines) and not line.endswith("\n"):
                    break
                raise StoreDamaged(f"journal {self.path}: line {number} does not read ({error})") from error
        return found

    def clear(self) -> None:
        """Forget every batch."""
        self.path.unlink(missing_ok=True)


def _plain(record: Spooled) -> dict[str, Any]:
    plain: dict[str, Any] = {"kind": type(record).__name__}
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
    kind = _KINDS[plain.pop("kind")]
    plain["time"] = parse_utc(plain["time"])
    if "raw" in plain:
        plain["raw"] = bytes.fromhex(plain["raw"])
    return kind(**plain)
