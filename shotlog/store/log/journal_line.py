"""A line of the journal: one batch of records with its origin, under a checksum.

``GENERATION CHECKSUM JSON``, in ASCII and without a zero byte, so that a line can be told from the empty space it is
written into. The checksum covers the generation and the text: a line that was cut, or in which a bit turned, is known
for what it is, and nothing is ever read out of one. Lines of earlier releases are the JSON alone.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from datetime import datetime
from typing import Any

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.records import ClockStep, Event, Fault, Gap, Link, SetPoint, SetPointChange, Shot, Start, Weighing

__all__ = ["OLD", "Batch", "Spooled", "line_of", "read_line"]

Spooled = Shot | Gap | Fault | Link | Weighing | ClockStep | Event | Start | SetPointChange

_SPOOLED = (Shot, Gap, Fault, Link, Weighing, ClockStep, Event, Start, SetPointChange)
_KINDS: dict[str, type[Spooled]] = {kind.__name__: kind for kind in _SPOOLED}

OLD = 0
"""The generation of lines that earlier releases wrote."""


@dataclass(frozen=True, slots=True)
class Batch:
    """Records that go into the log in one transaction, once: `origin` tells the batch from every other.

    `trial`: name, part and resin of the trial its shots were made under, where there is one, and when that began.
    `after`: presses whose shots were numbered while the log could not be asked, each with the shot and the counter that
    this went on from, None where none was known.
    """

    origin: str
    records: tuple[Spooled, ...]
    trial: tuple[str, str, str, str] | None = None
    after: Mapping[str, tuple[int, int] | None] = field(default_factory=dict)

    @property
    def n_shots(self) -> int:
        """How many shots it holds."""
        return sum(isinstance(record, Shot) for record in self.records)

    @property
    def time(self) -> datetime:
        """When the first of its records was made."""
        return self.records[0].time


def line_of(batch: Batch, generation: int) -> bytes:
    """Return the line of a batch, with its end."""
    document: dict[str, Any] = {"origin": batch.origin, "records": [_plain(record) for record in batch.records]}
    if batch.trial is not None:
        document["trial"] = batch.trial
    if batch.after:
        document["after"] = dict(batch.after)
    text = json.dumps(document).encode()
    return b"%d %s %s\n" % (generation, _checksum(generation, text), text)


def read_line(line: bytes) -> tuple[int, Batch]:
    """Return generation and batch of a line.

    Raises
    ------
    ValueError
        The line is not as it was written.
    """
    if not line.endswith(b"\n"):
        raise ValueError("it is cut")
    if line.startswith(b"{"):
        return OLD, _batch(line)
    generation, checksum, text = line[:-1].split(b" ", 2)
    if not generation.isdigit() or checksum != _checksum(int(generation), text):
        raise ValueError("its checksum is another")
    return int(generation), _batch(text)


def _checksum(generation: int, text: bytes) -> bytes:
    return hashlib.blake2b(b"%d %s" % (generation, text), digest_size=8).hexdigest().encode()


def _batch(text: bytes) -> Batch:
    try:
        document = json.loads(text)
        trial = document.get("trial")
        return Batch(
            document["origin"],
            tuple(_record(plain) for plain in document["records"]),
            None if trial is None else (trial[0], trial[1], trial[2], trial[3]),
            {press: None if at is None else (at[0], at[1]) for press, at in document.get("after", {}).items()},
        )
    except (LookupError, TypeError, AttributeError, OverflowError, RecursionError, UsageError) as error:
        raise ValueError(f"{type(error).__name__}: {error}") from error


def _plain(record: Spooled) -> dict[str, Any]:
    plain: dict[str, Any] = {"record": type(record).__name__}
    for one in fields(record):
        value = getattr(record, one.name)
        if isinstance(value, datetime):
            value = iso_utc(value)
        elif isinstance(value, bytes):
            value = value.hex()
        elif isinstance(value, Mapping):
            value = {key: _plain_value(one) for key, one in value.items()}
        plain[one.name] = value
    return plain


def _plain_value(value: float | SetPoint) -> float | list[float | str]:
    return [value.value, value.unit] if isinstance(value, SetPoint) else value


def _record(plain: dict[str, Any]) -> Spooled:
    """Return a record from what was written of it; a field that came later than the line has its usual value."""
    kind = _KINDS[plain.pop("record")]
    for one in fields(kind):
        if one.name in plain and one.type is datetime:
            plain[one.name] = parse_utc(plain[one.name])
        elif one.name in plain and one.type is bytes:
            plain[one.name] = bytes.fromhex(plain[one.name])
    if "set_points" in plain:
        plain["set_points"] = {name: SetPoint(*said) for name, said in plain["set_points"].items()}
    return kind(**plain)
