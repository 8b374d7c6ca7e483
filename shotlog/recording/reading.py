"""Reading a recording: some hundred rows at a time, column by column where every cell is plain, else row by row.

Nearly every file is plain throughout, and to hold a column against what is allowed costs a tenth of its cells one by
one. What is not plain may be right all the same (blanks around a cell, another mark for no number): `Line` knows, and
finds the cell to tell of where it is not.
"""

import csv
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import repeat
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.cells import from_cell
from shotlog.channels import CHANNELS, Channel
from shotlog.clock import parse_utc
from shotlog.errors import RecordingError
from shotlog.recording.heading import FIXED_COLUMNS, OF_HALVES, OPTIONAL_COLUMNS, REQUIRED
from shotlog.recording.line import NOTHING_TOLD, Line
from shotlog.records import HALVES, InForce, LoggedShot

if TYPE_CHECKING:
    from _csv import Reader

__all__ = ["read"]

_ROWS = 500
"""Rows read at a time."""

Rows = tuple[Sequence[int], Sequence[list[str]]]
"""The numbers of the lines in which rows end, and the rows."""


def read(path: Path, remark: Callable[[str], None] = lambda _: None) -> Iterator[LoggedShot]:
    """Yield the shots of a recording in the file's order; within a press, shot numbers must rise.

    `remark` is told, once each, of columns that are no channel and of values outside what is physically believable;
    neither is used.

    Raises
    ------
    RecordingError
        The file does not read: says line, column, what was given and what is allowed.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = csv.reader(file)
            header = next(rows, [])
            _check(path, header, remark)
            yield from _shots(path, header, rows, remark)
    except csv.Error as error:
        raise RecordingError(f"{path}, line 1: {error}") from error
    except OSError as error:
        raise RecordingError(f"{path}: {error.strerror or error}") from error
    except UnicodeDecodeError as error:
        raise RecordingError(f"{path}: {error.reason} at byte {error.start}, allowed: text in UTF-8") from error


def _check(path: Path, header: Sequence[str], remark: Callable[[str], None]) -> None:
    for name in REQUIRED:
        if name not in header:
            raise RecordingError(f"{path}, line 1: no column {name!r}, needed: {', '.join(REQUIRED)} and channels")
    if len(set(header)) != len(header):
        raise RecordingError(f"{path}, line 1: a column appears twice, allowed: each name once")
    for name in header:
        if name not in (*FIXED_COLUMNS, *OPTIONAL_COLUMNS, *CHANNELS):
            remark(f"{path}: column {name!r} is no channel and is not used")


def _blocks(path: Path, rows: "Reader") -> Iterator[Rows]:
    """Yield the rows some hundred at a time; those before one that does not read come first."""
    lines: list[int] = []
    block: list[list[str]] = []
    last, wrong = rows.line_num, None
    try:
        for row in rows:
            last = rows.line_num
            if row:
                lines.append(last)
                block.append(row)
            if len(block) == _ROWS:
                yield lines, block
                lines, block = [], []
    except (csv.Error, OSError, UnicodeDecodeError) as error:
        wrong = error
    if block:
        yield lines, block
    if isinstance(wrong, csv.Error):
        raise RecordingError(f"{path}, line {last + 1}: {wrong}") from wrong
    if wrong is not None:
        raise wrong


def _shots(path: Path, header: Sequence[str], rows: "Reader", remark: Callable[[str], None]) -> Iterator[LoggedShot]:
    last: dict[str, int] = {}
    remarked: set[str] = set()
    for block in _blocks(path, rows):
        found = _at_once(path, header, block[1], last)
        yield from _one_by_one(path, header, block, last, remark, remarked) if found is None else found


def _one_by_one(
    path: Path,
    header: Sequence[str],
    block: Rows,
    last: dict[str, int],
    remark: Callable[[str], None],
    remarked: set[str],
) -> Iterator[LoggedShot]:
    """Yield the shots of rows, whatever stands in their cells; `last` shot of each press and `remarked` are kept."""
    channels = [(name, channel) for name, channel in CHANNELS.items() if name in header]
    for number, row in zip(*block, strict=True):
        line = Line(path, number, dict(zip(header, row, strict=False)))
        if len(row) > len(header):
            raise RecordingError(f"{line.place}: more cells than the header has columns")
        press, shot = line.text("press"), line.whole("shot")
        if not press:
            raise line.wrong("press", "a name")
        if press in last and shot <= last[press]:
            raise line.wrong("shot", f"a number above {last[press]}, the shot before on {press}")
        last[press] = shot
        values = {}
        for name, channel in channels:
            value = line.number(name)
            if value is None:
                continue
            if channel.low <= value <= channel.high:
                values[name] = value
            elif name not in remarked:
                remarked.add(name)
                remark(f"{line.place}: {name} {value:g} is outside {channel.low:g} to {channel.high:g}; not used")
        yield LoggedShot(press, shot, line.time("time"), values, line.halves(), *line.events())


Cells = Mapping[str, Sequence[str]]
"""The cells of rows by column."""

Noted = tuple[tuple[str, str], ...]


def _at_once(
    path: Path, header: Sequence[str], rows: Sequence[list[str]], last: dict[str, int]
) -> Iterator[LoggedShot] | None:
    """Return the shots of rows, or None where a cell is not plain; with them the `last` shot of each press."""
    if set(map(len, rows)) != {len(header)}:
        return None
    cells = dict(zip(header, zip(*rows, strict=True), strict=True))
    try:
        presses, shots, times = _presses(cells["press"]), _whole(cells["shot"]), [*map(parse_utc, cells["time"])]
        values, halves, told = _values(cells), [*_halves(path, cells)], _events(path, cells)
    except (ValueError, RecordingError):
        return None
    newest = _rising(presses, shots, last)
    if newest is None:
        return None
    last.update(newest)
    return map(LoggedShot, presses, shots, times, values, halves, *told)


def _rising(presses: Sequence[str], shots: Sequence[int], last: Mapping[str, int]) -> dict[str, int] | None:
    """Return the newest shot of each press, None where the numbers of one do not rise from its `last` on."""
    newest = {}
    for press in set(presses):
        own = [shot for name, shot in zip(presses, shots, strict=True) if name == press]
        if own[0] <= last.get(press, -1) or own != sorted(set(own)):
            return None
        newest[press] = own[-1]
    return newest


_DIGITS = re.compile("[0-9]+")
_OF_NUMBERS = b"0123456789.eE+-"
"""Of these signs Python's own reader makes the numbers that `Line` takes, and no others."""


def _presses(texts: Sequence[str]) -> list[str]:
    names = {text: from_cell(text.strip()) for text in set(texts)}
    if not all(names.values()):
        raise ValueError("no name")
    return [names[text] for text in texts]


def _whole(texts: Sequence[str]) -> list[int]:
    lengths = set(map(len, texts))
    if not _DIGITS.fullmatch("".join(texts)) or not 1 <= min(lengths) <= max(lengths) <= 18:
        raise ValueError("no whole number")
    return [int(text) for text in texts]


def _values(cells: Cells) -> list[dict[str, float]]:
    """Return the values of each row by channel."""
    names = [name for name in CHANNELS if name in cells]
    columns = [_numbers(cells[name], CHANNELS[name]) for name in names]
    if any("" in cells[name] for name in names):
        rows = zip(*columns, strict=True)
        return [{name: value for name, value in zip(names, row, strict=True) if value is not None} for row in rows]
    return [*map(dict, map(zip, repeat(names), zip(*columns, strict=True)))] or [{} for _ in cells["shot"]]


def _numbers(texts: Sequence[str], channel: Channel) -> Sequence[float | None]:
    """Return the numbers of a column, None for an empty cell; all within what is believable of its channel."""
    if "".join(texts).encode().translate(None, _OF_NUMBERS):
        raise ValueError("no numbers")
    given = [*map(float, filter(None, texts))]
    if given and not channel.low <= min(given) <= max(given) <= channel.high:
        raise ValueError("beyond what is believable")
    return given if len(given) == len(texts) else [float(text) if text else None for text in texts]


def _halves(path: Path, cells: Cells) -> Iterator[Mapping[str, InForce]]:
    """Yield the inserts that made the shot of each row; where the cells say the same, it is the same mapping.

    Where a piece is used up at every shot nearly each row has a serial of its own, and the rest of its cells are as
    before: what they say of the halves is looked up.
    """
    names = [name for name in OF_HALVES if name in cells]
    halves = [name for name in names if name in HALVES]
    known: dict[tuple[str, ...], Mapping[str, InForce]] = {}
    alike: dict[tuple[object, ...], Mapping[str, InForce]] = {}
    said = zip(*(cells[name] for name in names), strict=True) if names else repeat((), len(cells["shot"]))
    for texts in said:
        found = known.get(texts)
        if found is None:
            given = zip(halves, texts[: len(halves)], strict=True)
            serials = {half: serial for half, text in given if (serial := from_cell(text.strip()))}
            kind = (*serials, texts[len(halves) :])
            like = alike.get(kind)
            if like is None:
                found = alike[kind] = Line(path, 0, dict(zip(names, texts, strict=True))).halves()
            else:
                found = {half: _with_serial(like[half], serial) for half, serial in serials.items()}
            known[texts] = found
        yield found


def _with_serial(like: InForce, serial: str) -> InForce:
    return like if like.serial == serial else InForce(serial, like.design, like.print_batch, like.single_use)


def _events(path: Path, cells: Cells) -> tuple[Iterable[Noted], Iterable[Noted], Iterable[tuple[str, ...]]]:
    """Return what was noted and taken out at each row, and the half that each note is about, as `Told` has them."""
    texts = cells.get("event", ())
    if not any(texts):
        return repeat(()), repeat(()), repeat(())
    told = [Line(path, 0, {"event": text}).events() if text else NOTHING_TOLD for text in texts]
    events, removed, about = zip(*told, strict=True)
    return events, removed, about
