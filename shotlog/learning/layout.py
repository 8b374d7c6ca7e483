"""How a press prints its shots: which lines are shots, how they part into columns, which column counts. Pure.

A printed page holds headers, units, rulers, alarms and means between the shots. The lines of shots are those that part
into the same columns, one of which goes up by one from line to line. Every mark that may part columns is tried; the one
that leaves most columns holding one number each is taken.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shotlog.collectors.lines import number
from shotlog.learning.words import unit_in

__all__ = ["Layout", "LineColumn", "columns_counting", "decoded", "layout_of", "spread_over"]

_DELIMITERS = (";", "\t", "|", ",", " ")
"""In this order where two leave as many numbers."""

_AROUND = "\x00\x01\x02\x04\x11\x13"
_CELL = re.compile(r"([^0-9+\-.,<>]*?)[ ]*([+-]?[ ]*[0-9.,' ]*[0-9](?:[.,])?)[ ]*([^0-9]*)")
_COUNT = re.compile(r"([^0-9+\-.,]*?)([0-9]{1,12})")
_NOT_MEASURED = re.compile(r"[-*._~=?]+|[<>] *[0-9.,]+|")
_OFTEN = "äöüÄÖÜß°²µ"
_LETTERS = "äöüÄÖÜßéèêàâçñóíáúåøæ°²³µ±"
_FEWEST = 3


@dataclass(frozen=True, slots=True)
class LineColumn:
    """One column of the lines of shots: what stands around its number in every line, and its heading.

    `tokens`: the number as printed, line by line; empty where nothing was measured. `bare`: nothing stands around it.
    """

    at: int
    before: str
    after: str
    heading: str
    unit_line: str
    tokens: tuple[str, ...]

    @property
    def bare(self) -> bool:
        """Whether it holds its number alone."""
        return not self.before and not self.after


@dataclass(frozen=True, slots=True)
class Layout:
    """`columns`: those that hold numbers. `counting`: the columns that go up by one, likeliest first; `n_fields` of a
    line; `headings` as they were printed; `others`: the lines that are no shots.
    """

    encoding: str
    delimiter: str
    decimal: str
    n_fields: int
    columns: tuple[LineColumn, ...]
    counting: tuple[LineColumn, ...]
    lines: tuple[str, ...]
    others: tuple[str, ...]
    headings: tuple[str, ...]


def decoded(raws: Sequence[bytes]) -> tuple[str, list[str]]:
    """Return the encoding the lines are most likely in, and the lines as text."""
    whole = b"\n".join(raws)
    if whole.isascii():
        return "latin-1", [raw.decode("latin-1").strip(_AROUND) for raw in raws]
    try:
        whole.decode("utf-8")
        encoding = "utf-8"
    except UnicodeDecodeError:
        encoding = max(("latin-1", "cp850", "cp437"), key=lambda name: _readable(whole.decode(name)))
    return encoding, [raw.decode(encoding, errors="replace").strip(_AROUND) for raw in raws]


def _readable(text: str) -> int:
    """Return how many of the letters beyond ASCII are such as occur on a printout, less those that are none."""
    return sum(3 if one in _OFTEN else 1 if one in _LETTERS else -1 for one in text if not one.isascii())


def layout_of(raws: Sequence[bytes]) -> Layout | None:
    """Return how the lines are laid out; None where no column counts."""
    encoding, texts = decoded(raws)
    made = [one for mark in _DELIMITERS if (one := _parted(encoding, texts, mark)) is not None]
    return max(made, key=lambda one: (len(one.lines), sum(1 + column.bare for column in one.columns)), default=None)


def spread_over(raws: Sequence[bytes]) -> int:
    """Return over how many lines a press prints each shot, where one of them counts; 0 where none does.

    Lines are alike that differ in their digits only.
    """
    alike: dict[str, list[str]] = defaultdict(list)
    for text in decoded(raws)[1]:
        if any(letter.isdigit() for letter in text):
            alike[re.sub(r"[-+0-9.,]+", "#", text).strip()].append(text)
    often = {form: lines for form, lines in alike.items() if len(lines) >= _FEWEST and form.count("#") == 1}
    counts = any(_goes_up([re.sub(r"[^0-9.,]", "", line) for line in lines]) for lines in often.values())
    return len(often) if counts else 0


def split(text: str, delimiter: str) -> list[str]:
    """Return the fields of a line as the collector parts them."""
    return text.split() if delimiter == " " else [field.strip() for field in text.split(delimiter)]


def _parted(encoding: str, texts: Sequence[str], delimiter: str) -> Layout | None:
    groups: dict[int, list[str]] = defaultdict(list)
    for text in texts:
        if any(letter.isdigit() for letter in text):
            groups[len(split(text, delimiter))].append(text)
    best: Layout | None = None
    for n_fields, lines in groups.items():
        made = _group(encoding, texts, delimiter, n_fields, lines)
        if made is not None and (best is None or len(made.lines) > len(best.lines)):
            best = made
    return best


def _group(encoding: str, texts: Sequence[str], delimiter: str, n_fields: int, lines: list[str]) -> Layout | None:
    fields = [split(line, delimiter) for line in lines]
    counting = [at for at in range(n_fields) if _goes_up([own[at] for own in fields])]
    if not counting:
        return None
    # a mean or an alarm may have as many fields: a line of a shot has digits where the others count
    label = _label_of([own[counting[0]] for own in fields])
    kept = [n for n, own in enumerate(fields) if _count_of(own[counting[0]], label) is not None]
    lines, fields = [lines[n] for n in kept], [fields[n] for n in kept]
    decimal = _decimal([field for own in fields for field in own], delimiter)
    others = [text for text in texts if text not in set(lines)]
    headers = [_heads(text, delimiter, n_fields) for text in others if text.strip()]
    headings, units = _headings([one for one in headers if len(one) == n_fields])
    columns = []
    for at in range(n_fields):
        made = _column(at, [own[at] for own in fields], decimal, headings, units)
        if made is not None:
            columns.append(made)
    counts = [column for at in counting for column in columns if column.at == at]
    if not counts or len(columns) < 2:
        return None
    return Layout(
        encoding,
        delimiter,
        decimal,
        n_fields,
        tuple(columns),
        tuple(counts),
        tuple(lines),
        tuple(others),
        tuple(headings),
    )


def _count_of(field: str, label: str) -> int | None:
    found = _COUNT.fullmatch(field)
    return int(found[2]) if found and found[1] == label else None


def _label_of(fields: Sequence[str]) -> str:
    """Return what most of the counts of a column have before them: nothing, or ``N=``."""
    labels = Counter(found[1] for field in fields if (found := _COUNT.fullmatch(field)))
    return labels.most_common(1)[0][0] if labels else ""


def _goes_up(fields: Sequence[str]) -> bool:
    label = _label_of(fields)
    counts = [count for field in fields if (count := _count_of(field, label)) is not None]
    steps = [b - a for a, b in pairwise(counts) if a != b]
    ones = sum(step == 1 for step in steps)
    falls = sum(step < 0 for step in steps)
    return len(counts) >= 0.5 * len(fields) and ones >= _FEWEST - 1 and ones >= 0.7 * len(steps) and falls <= 2


def columns_counting(layout: Layout, column: LineColumn) -> list[int]:
    """Return the counts of a counting column, line by line."""
    return [int(re.sub(r"[^0-9]", "", token) or 0) for token in column.tokens]


def _decimal(fields: Sequence[str], delimiter: str) -> str:
    votes: Counter[str] = Counter({".": 0})
    for field in fields:
        marks = re.findall(r"(?<=[0-9])[.,](?=[0-9])|^[.,](?=[0-9])", field)
        if not marks or ":" in field:
            continue
        thousands = re.fullmatch(r"[^0-9]*[1-9][0-9]{0,2}[.,][0-9]{3}[^0-9]*", field) is not None
        votes[marks[-1]] += 1 if thousands and len(marks) == 1 else 10
    return "." if delimiter == "," else votes.most_common(1)[0][0]


def _column(
    at: int, fields: Sequence[str], decimal: str, headings: Sequence[str], units: Sequence[str]
) -> LineColumn | None:
    parts: list[tuple[str, str, str]] = []
    for field in fields:
        found = _CELL.fullmatch(field)
        if found is None:
            if _NOT_MEASURED.fullmatch(field):
                parts.append(("", "", ""))
                continue
            return None
        parts.append((found[1].rstrip(), found[2].strip(), found[3].strip()))
    there = [part for part in parts if part[1]]
    if len(there) < 0.5 * len(parts) or len({(before, after) for before, _, after in there}) != 1:
        return None
    for _, token, _ in there:
        try:
            number(token, decimal)
        except ValueError:
            return None
    before, _, after = there[0]
    heading = headings[at] if at < len(headings) else ""
    unit = units[at] if at < len(units) else ""
    return LineColumn(at, before, after, heading, unit, tuple(token for _, token, _ in parts))


def _heads(text: str, delimiter: str, n_fields: int) -> list[str]:
    """Return a line of words as headings; parted by blanks a unit belongs to the word before it, and a line of units
    may have none for the counter.
    """
    words = split(text, delimiter)
    if delimiter != " " or len(words) == n_fields:
        return words
    if len(words) == n_fields - 1 and all(unit_in(word) for word in words):
        return ["", *words]
    joined: list[str] = []
    for word in words:
        if joined and unit_in(word):
            joined[-1] += f" {word}"
        else:
            joined.append(word)
    return joined


def _headings(lines: Sequence[Sequence[str]]) -> tuple[list[str], list[str]]:
    """Return the headings and the line of units below them; the first has the longer words."""
    words = [
        line
        for line in lines
        if sum(any(c.isalpha() for c in field) for field in line) >= 0.5 * len(line)
        and not any(re.search(r"[0-9][.,][0-9]", field) for field in line)
    ]
    seen = list(dict.fromkeys(tuple(line) for line in words))
    if not seen:
        return [], []
    seen.sort(key=lambda line: -sum(map(len, line)))
    headings = list(seen[0])
    units = next((list(line) for line in seen[1:] if all(len(field) <= 6 for field in line)), [])
    return headings, units
