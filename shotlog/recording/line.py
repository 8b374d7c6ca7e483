"""One row of a recording: what may stand in each of its cells, and what is said where something else does."""

import math
import re
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from shotlog.cells import from_cell
from shotlog.clock import parse_utc
from shotlog.entries import KINDS, REMOVED
from shotlog.errors import RecordingError
from shotlog.records import HALVES, InForce

__all__ = ["NOTHING_TOLD", "NUMBER", "Line", "Told"]

NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?|nan", re.ASCII | re.IGNORECASE)
"""A number, or the mark other programs write where there is none; Python's own reader takes 1_000 as well."""

Told = tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...], tuple[str, ...]]
"""The events, what was taken out, and the half that each event is about, as `LoggedShot` has them."""

NOTHING_TOLD: Told = ((), (), ())


class Line:
    """One row of a recording, read cell by cell.

    Each way to read one raises `RecordingError` where it may not stand there: with its line, what was given and what is
    allowed.
    """

    def __init__(self, path: Path, number: int, cells: Mapping[str, str]) -> None:
        self.place = f"{path}, line {number}"
        self._cells = cells

    def text(self, name: str) -> str:
        return from_cell(self._cells.get(name, "").strip())

    def wrong(self, name: str, allowed: str) -> RecordingError:
        return RecordingError(f"{self.place}: {name}: given {self.text(name)!r}, allowed: {allowed}")

    def whole(self, name: str) -> int:
        text = self.text(name)
        if not re.fullmatch("[0-9]{1,18}", text):
            raise self.wrong(name, "a whole number from 0")
        return int(text)

    def number(self, name: str) -> float | None:
        text = self.text(name)
        if not text:
            return None
        if not NUMBER.fullmatch(text):
            raise self.wrong(name, "a number with a decimal point, or an empty cell")
        value = float(text)
        if math.isinf(value):
            raise self.wrong(name, "a finite number, or an empty cell")
        return None if math.isnan(value) else value

    def time(self, name: str) -> datetime:
        try:
            return parse_utc(self.text(name))
        except ValueError:
            raise self.wrong(name, "ISO 8601, such as 2026-01-05T06:00:00Z") from None

    def events(self) -> Told:
        """Return what was noted, what was taken out with the reason, and the half that each note is about."""
        found, removed, about = [], [], []
        for item in filter(None, self.text("event").split(";")):
            noted, colon, words = item.strip().partition(":")
            kind, at, half = noted.partition("@")
            serial, said, reason = words.partition(":")
            if kind == REMOVED and said:
                removed.append((serial.strip(), reason.strip()))
            elif kind in KINDS and colon and (half in HALVES if at else True):
                found.append((kind, words.strip()))
                about.append(half)
            else:
                kinds, halves = ", ".join(KINDS), ", ".join(HALVES)
                allowed = f"KIND:TEXT or KIND@HALF:TEXT with KIND one of {kinds}, HALF one of {halves}, or "
                raise self.wrong("event", f"{allowed}{REMOVED}:SERIAL:REASON")
        return tuple(found), tuple(removed), tuple(about) if any(about) else ()

    def halves(self) -> dict[str, InForce]:
        serials = {half: serial for half in HALVES if (serial := self.text(half))}
        designs = self.text("design").split(";")
        if len(designs) == 1:
            designs *= len(serials)
        if len(designs) != len(serials) and serials:
            raise self.wrong("design", f"one design, or {len(serials)} separated by ;")
        single_use = self._halves_listed("single_use")
        batches = self._batches()
        return {
            half: InForce(serial, design.strip(), batches.get(half, ""), half in single_use)
            for (half, serial), design in zip(serials.items(), designs, strict=False)
        }

    def _batches(self) -> dict[str, str]:
        found = {}
        for item in self._items("print_batch"):
            half, _, batch = item.partition(":")
            if half not in HALVES or not batch.strip():
                raise self.wrong("print_batch", f"HALF:BATCH with HALF one of {', '.join(HALVES)}, separated by ;")
            found[half] = batch.strip()
        return found

    def _items(self, name: str) -> list[str]:
        return [item.strip() for item in self.text(name).split(";") if item.strip()]

    def _halves_listed(self, name: str) -> list[str]:
        found = self._items(name)
        for half in found:
            if half not in HALVES:
                raise self.wrong(name, f"halves out of {', '.join(HALVES)}, separated by ;")
        return found
