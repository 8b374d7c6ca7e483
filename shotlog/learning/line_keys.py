"""A proposal of printed columns as the keys of a configuration, and in plain words. Pure."""

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise

from shotlog.channels import CHANNELS
from shotlog.collectors.line_reader import LineReader
from shotlog.collectors.lines import Line, LineFormat, Rejection
from shotlog.learning.config_text import ONLY_POSSIBLE, MapText, toml_value
from shotlog.learning.layout import Layout, LineColumn
from shotlog.learning.line_guesses import LineFound, LineProposal

__all__ = ["channel_keys", "column_said", "layout_said", "map_of", "needs_pattern", "taken", "why"]


def channel_keys(found: LineFound, by_pattern: bool) -> dict[str, object]:
    """Return the keys of a channel; under a pattern its group has its name."""
    keys: dict[str, object] = {} if by_pattern else {"field": found.column.at + 1}
    if found.guess.scale != 1.0:
        keys["scale"] = found.guess.scale
    return keys | {"unit": found.guess.unit}


def map_of(proposal: LineProposal, raws: Sequence[bytes], there: Mapping[str, Mapping[str, object]]) -> MapText | None:
    """Return what is to be written, what is only possible as remarks; None where nothing is sure enough."""
    usable = [found for found in _in_order(proposal.channels) if found.sure != "possible"]
    if not usable:
        return None
    by_pattern = needs_pattern(proposal, usable)
    layout = proposal.layout
    last_count = _last_count(proposal.counts)
    keys: dict[str, object] = {"decimal": layout.decimal, "fields": None}
    if layout.encoding != "latin-1":
        keys["encoding"] = layout.encoding
    counter: dict[str, object] = {} if by_pattern else {"field": proposal.counter.at + 1}
    counter |= {"last_count": last_count} if last_count else {}
    keys["delimiter"] = None if by_pattern else layout.delimiter
    keys["pattern"] = pattern_of(proposal, usable) if by_pattern else None
    keys["skip"] = _skip(proposal, raws, usable) or None
    keys["shot_counter"] = counter or None
    channels = {found.channel: channel_keys(found, by_pattern) for found in usable}
    gone = [name for name in there if name not in channels and (by_pattern or there[name].get("field") is None)]
    gone += [
        name
        for name in there
        if name not in channels and name not in gone and there[name].get("field") in _fields(usable)
    ]
    remarks = [
        f"{found.channel} = {toml_value(channel_keys(found, False))}  {ONLY_POSSIBLE}"
        for found in _in_order(proposal.channels)
        if found.sure == "possible" and found.channel not in there and not by_pattern
    ]
    return MapText(keys, channels, remarks, gone)


def _fields(usable: Sequence[LineFound]) -> set[object]:
    return {found.column.at + 1 for found in usable}


def needs_pattern(proposal: LineProposal, usable: Sequence[LineFound]) -> bool:
    """Say whether something else than its number stands in a column that is read."""
    return not all(column.bare for column in (proposal.counter, *(found.column for found in usable)))


def pattern_of(proposal: LineProposal, usable: Sequence[LineFound]) -> str:
    """Return a regular expression for a line of a shot, with a group for the counter and each channel."""
    names = {found.column.at: found.channel for found in usable} | {proposal.counter.at: "shot_counter"}
    columns = {found.column.at: found.column for found in usable} | {proposal.counter.at: proposal.counter}
    blank = proposal.layout.delimiter == " "
    inside = r"\S" if blank else f"[^{re.escape(proposal.layout.delimiter)}]"
    parts = []
    for at in range(max(names) + 1):
        if at not in names:
            parts.append(f"{inside}+" if blank else f"{inside}*")
            continue
        column = columns[at]
        digits = "[0-9]+" if names[at] == "shot_counter" else f"{inside}*?"
        before, after = (re.escape(text).replace(r"\ ", " ") for text in (column.before, column.after))
        group = f"(?P<{names[at]}>{digits})"
        group = rf"{before}\s*{group}" if before else group
        group = rf"{group}\s*(?:{after})?" if after else group
        parts.append(group if blank else rf"\s*{group}\s*")
    end = r"(?:\s|$)" if blank else rf"(?:{re.escape(proposal.layout.delimiter)}|$)"
    return (r"^\s*" if blank else "^") + (r"\s+" if blank else re.escape(proposal.layout.delimiter)).join(parts) + end


def _last_count(counts: Sequence[int]) -> int | None:
    """Return where the counter was seen to begin again at the digits of a display."""
    tops = [a for a, b in pairwise(counts) if b in (0, 1) and re.fullmatch("9{2,9}", str(a))]
    return max(tops, default=None)


def form_of(proposal: LineProposal, usable: Sequence[LineFound], skip: str = "") -> LineFormat:
    """Return the format as the collector will have it."""
    from shotlog.collectors.scaling import read_scaling
    from shotlog.settings import Section

    by_pattern = needs_pattern(proposal, usable)
    parent = Section(
        "", "", {found.channel: {"unit": found.guess.unit, "scale": found.guess.scale} for found in usable}
    )
    scalings = {name: read_scaling(parent, name, table) for name, table in parent.items()}
    return LineFormat(
        "shot_counter" if by_pattern else proposal.counter.at + 1,
        {one.channel: (one.channel if by_pattern else one.column.at + 1, scalings[one.channel]) for one in usable},
        "" if by_pattern else proposal.layout.delimiter,
        proposal.layout.decimal,
        re.compile(skip) if skip else None,
        re.compile(pattern_of(proposal, usable)) if by_pattern else None,
        None,
        proposal.layout.encoding,
    )


def _skip(proposal: LineProposal, raws: Sequence[bytes], usable: Sequence[LineFound]) -> str:
    """Return an expression for the lines that the collector would take for damaged shots: means, alarms, headings."""
    reader = LineReader(form_of(proposal, usable))
    shots = set(proposal.layout.lines)
    starts: dict[str, None] = {}
    for raw in raws:
        text = raw.decode(proposal.layout.encoding, errors="replace")
        if text.strip("\x00\x01\x02\x04\x11\x13") in shots:
            reader.read(raw)
            continue
        if isinstance(reader.read(raw), Rejection):
            found = re.match(r"\s*([^\W\d_]{2,}|[*#!=-]+)", text)
            if found is not None:
                starts[found[1]] = None
    safe = [start for start in starts if not any(line.lstrip().startswith(start) for line in shots)]
    return rf"^\s*({'|'.join(re.escape(start) for start in safe)})" if safe else ""


def taken(proposal: LineProposal, raws: Sequence[bytes]) -> tuple[int, list[str]]:
    """Return how many lines the collector takes for shots under this map, and why it rejects others."""
    usable = [found for found in proposal.channels if found.sure != "possible"]
    reader = LineReader(form_of(proposal, usable, _skip(proposal, raws, usable)))
    said = [reader.read(raw) for raw in raws]
    return sum(isinstance(one, Line) for one in said), [one.detail for one in said if isinstance(one, Rejection)]


def _in_order(found: Sequence[LineFound]) -> list[LineFound]:
    names = list(CHANNELS)
    return sorted(found, key=lambda one: names.index(one.channel))


def column_said(column: LineColumn) -> str:
    """Return a column for people: its number from 1, and its heading or label."""
    label = column.before.strip(" =:") or column.heading
    return f"field {column.at + 1}" + (f" ({label})" if label else "")


def why(found: LineFound) -> str:
    """Say in plain words why this column, and what else fits."""
    said = []
    if found.guess.n_fits:
        figures = "figure" if found.guess.n_fits == 1 else f"{found.guess.n_fits} figures"
        said.append(f"shows the {figures} read off the screen")
    if found.named:
        said.append("its heading says so")
    if found.unit:
        said.append(f"printed in {found.unit}")
    else:
        agreed = "as on the screen" if found.guess.n_fits else "only assumed"
        said.append(f"its unit is not printed: {found.guess.unit} {agreed}")
    if found.guess.series.timing.kind == "still":
        said.append("never moves: it may be a set-point")
    if found.rivals:
        said.append("fits about as well: " + ", ".join(column_said(one) for one in found.rivals[:3]))
    if found.sure == "possible":
        said.append("read the screen to settle it")
    return "; ".join(said)


def layout_said(layout: Layout) -> str:
    """Say how a line of a shot parts."""
    mark = {" ": "blanks", "\t": "tabs"}.get(layout.delimiter, repr(layout.delimiter))
    fields = f"{layout.n_fields} fields parted by {mark}"
    return f"a shot is one line of {fields}, decimal mark {layout.decimal!r}, text in {layout.encoding}"
