"""Lines of a press on a serial port, in pieces, damaged, doubled, out of order, in three ways of writing them.

What is taken for a shot is read once more by a reader that knows nothing of ours: marks stripped, fields split, digits
put together. A tuple of: which way of writing, whether bytes were flowing when the port was opened, the pieces.
"""

import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from random import Random
from typing import Any

from shotlog.clock import HandClock
from shotlog.collectors.serial_line import SerialLineOptions, options
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import Section
from tests.fuzz.damage import NUMBERS, TEXTS, damaged, shuffled
from tests.fuzz.kind import Kind, one_line

__all__ = ["Lines"]

_CHANNELS = {
    "cushion": {"field": 3, "unit": "mm"},
    "peak_pressure": {"field": 4, "unit": "bar"},
    "fill_time": {"field": 5, "unit": "s"},
}
_HEADS = {"cushion": "CUSH", "peak_pressure": "PMAX", "fill_time": "TFILL"}
_FORMS: tuple[dict[str, Any], ...] = (
    {"delimiter": ";", "shot_counter": {"field": 1}, "channels": _CHANNELS},
    {"delimiter": ";", "decimal": ",", "skip": "^#", "shot_counter": {"field": 1, "last_count": 9999},
     "channels": _CHANNELS},
    {"delimiter": ",", "shot_counter": {"field": "NO"},
     "channels": {name: {"field": head, "unit": _CHANNELS[name]["unit"]} for name, head in _HEADS.items()}},
)  # fmt: skip
_WORDS = [
    *(one.encode("utf-8", "replace") for one in (*NUMBERS, *TEXTS)),
    b"\x00", b"\x02", b"\x03", b"\x0c", b"\x11", b"\xff" * 9, b";" * 40, b"\r", b"\n", b"x" * 1100, b"#", b"NO,CUSH\n",
]  # fmt: skip
_ENDS = re.compile(rb"[\r\n\f\v\x03]")
_NO_TEXT = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f]")
_AROUND = b"\x00\x01\x02\x04\x11\x13"


class _Port:
    """Hands out what a press printed, a piece a read."""

    def __init__(self, early: bytes, pieces: list[bytes]) -> None:
        self._pieces = [early, *pieces]

    @property
    def in_waiting(self) -> int:
        return len(self._pieces[0]) if self._pieces else 0

    def read(self, size: int = 1) -> bytes:
        return self._pieces.pop(0) if self._pieces else b""

    def close(self) -> None:
        pass


class Lines(Kind):
    """See above."""

    name = "lines"

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self._chosen: list[SerialLineOptions] = [
            options(Section("fuzz.toml", "press", {"port": "played", **form})) for form in _FORMS
        ]
        self._clock = HandClock()

    def make(self, random: Random) -> tuple[int, bytes, list[bytes]]:
        form = random.randrange(len(_FORMS))
        mark, point = (b",", b".") if form == 2 else (b";", b"," if form == 1 else b".")
        first = random.choice((0, 1, 7, 997, 9_990, 65_530, 999_999_990))
        lines = [b"NO,TIME,CUSH,PMAX,TFILL"] if form == 2 else []
        for n in range(random.choice((1, 2, 3, 6))):
            values = (f"{random.uniform(0, 9):.2f}", f"{random.uniform(0, 999):.1f}", f"{random.uniform(0, 2):.3f}")
            cells = [str(first + n).encode(), b"06:00", *(one.encode().replace(b".", point) for one in values)]
            if random.random() < 0.4:
                cells[random.randrange(5)] = random.choice(_WORDS)
            lines.append(mark.join(cells))
        data = random.choice((b"\r\n", b"\n", b"\r")).join([*shuffled(random, lines), b""])
        data = damaged(random, data, _WORDS)
        cuts = sorted(random.randrange(len(data) + 1) for _ in range(random.choice((0, 0, 1, 3))))
        pieces = [data[a:b] for a, b in zip([0, *cuts], [*cuts, len(data)], strict=True) if a < b]
        return form, random.choice((b"", b"", b"7")), pieces

    def judge(self, given: tuple[int, bytes, list[bytes]]) -> str:
        form, early, pieces = given
        port: Any = _Port(early, list(pieces))
        chosen = replace(self._chosen[form], opener=lambda *_: port)
        collector = chosen.build("P25", self._clock, None)
        collector.open()
        records: list[Any] = []
        for _ in range(len(pieces) + 1):
            records += collector.poll()
        records += collector.close()
        return _held_against(form, [line for line in _ENDS.split(early + b"".join(pieces)) if line], records)


def _held_against(form: int, lines: list[bytes], records: list[Any]) -> str:
    shots = [one for one in records if isinstance(one, Shot)]
    numbers = [one.shot for one in shots]
    assert numbers == sorted(set(numbers)), f"shots doubled or out of order: {numbers}"
    assert len(shots) <= len(lines), f"{len(shots)} shots from {len(lines)} lines"
    missed = [n for one in records if isinstance(one, Gap) for n in (one.first, one.last)]
    assert missed == sorted(missed), f"gaps out of order: {missed}"
    told = {(one.shot, one.kind.partition(" ")[0]) for one in records if isinstance(one, Fault)}
    for fault in records:
        if isinstance(fault, Fault):
            one_line(fault.detail)
    columns = [_plain_columns(form, lines[:n]) for n in range(1, len(lines) + 1)] if form == 2 else []
    for shot in shots:
        read = [_plain(form, line, columns[n] if form == 2 else None) for n, line in enumerate(lines)]
        fits = [one for one in read if one is not None and _agrees(shot, *one, told)]
        assert fits, f"shot {shot.shot} {dict(shot.values)} stands in no line of {lines}"
    return (
        f"shots {min(len(shots), 3)}{'+' if len(shots) > 3 else ''}" if shots else "refused" if records else "nothing"
    )


def _plain_columns(form: int, lines: list[bytes]) -> dict[str, int] | None:
    """Return where each quantity stands by the last line that names the counter and all of them once."""
    for line in reversed(lines):
        if _NO_TEXT.search(line.strip(_AROUND).decode("latin-1")):
            continue  # a damaged one is told, and the header before it goes on
        cells = [cell.strip() for cell in line.strip(_AROUND).decode("latin-1").split(",")]
        if all(cells.count(head) == 1 for head in ("NO", *_HEADS.values())):
            return {name: cells.index(head) for name, head in {"shot": "NO", **_HEADS}.items()}
    return None


def _plain(form: int, line: bytes, columns: dict[str, int] | None) -> tuple[int, dict[str, str]] | None:
    """Read a line the plain way: counter and what stands in each field, None where there is no counter."""
    cells = [cell.strip() for cell in line.strip(_AROUND).decode("latin-1").split("," if form == 2 else ";")]
    at = {"shot": 0, "cushion": 2, "peak_pressure": 3, "fill_time": 4} if form != 2 else columns
    if at is None or max(at.values()) >= len(cells) or not re.fullmatch("[0-9]+", cells[at["shot"]]):
        return None
    return int(cells[at["shot"]]), {name: cells[place] for name, place in at.items() if name != "shot"}


def _agrees(shot: Shot, counter: int, fields: dict[str, str], told: set[tuple[int | None, str]]) -> bool:
    """Say whether a line holds what a shot says, and of all else that it holds is told why it was not taken."""
    if counter != shot.counter:
        return False
    for name, text in fields.items():
        digits = _plain_number(text)
        if name in shot.values:
            if digits is None or shot.values[name] not in {float(one) for one in digits}:
                return False
        elif (shot.shot, name) not in told:
            return False
    return True


def _plain_number(text: str) -> set[Decimal] | None:
    """Return what a field may mean as a number, by either decimal mark; None where it holds no digit."""
    if not any(c in "0123456789" for c in text):
        return None
    sign = -1 if text.startswith("-") else 1
    found = set()
    for mark in ".,":
        whole, _, part = text.partition(mark)
        digits = "".join(c for c in whole if c in "0123456789"), "".join(c for c in part if c in "0123456789")
        found.add(sign * Decimal(f"{digits[0] or '0'}.{digits[1] or '0'}"))
    return found
