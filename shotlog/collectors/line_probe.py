"""One printed line as rows for commissioning: every field with its number, its text and what it was taken for. Pure."""

from collections.abc import Mapping

from shotlog.collectors.base import Reading
from shotlog.collectors.lines import Line, LineFormat, Piece, Rejection
from shotlog.collectors.set_points import ChosenSetPoint

__all__ = ["rows"]

_SHOWN = 200
"""Characters of a line or a field: longer than presses print."""


def rows(form: LineFormat, named: Mapping[int, str], piece: Piece, said: Line | Rejection | None) -> list[Reading]:
    """Return the line as a whole, then its fields or groups.

    Parameters
    ----------
    named
        What each field is taken for, by its number.
    said
        What `LineReader` made of the line.
    """
    text = piece.raw.decode(form.encoding, errors="backslashreplace")
    remark = "no line of a shot: header, blank or skipped"
    if isinstance(said, Line):
        remark = "; ".join(doubt.detail for doubt in said.doubts)
    elif isinstance(said, Rejection):
        remark = f"not taken: {said.kind}, {said.detail}"
    line = said if isinstance(said, Line) else None
    whole = Reading("line", "as it came", _printable(text), None, "", remark)
    if form.pattern is not None:
        found = form.pattern.search(text)
        groups = found.groupdict() if found else {}
        taken = {group: group for group in groups} | {each.name: each.subject for each in form.set_points}
        return [whole, *(_row(form, taken[one], f"group {one}", token or "", line) for one, token in groups.items())]
    fields = form.split(text)
    return [whole, *(_row(form, named.get(n, ""), f"field {n}", token, line) for n, token in enumerate(fields, 1))]


def _row(form: LineFormat, name: str, where: str, token: str, line: Line | None) -> Reading:
    value: float | None = None
    unit = ""
    if line is not None and name == "shot_counter":
        value = float(line.counter)
    elif line is not None and name in form.channels:
        value, unit = line.values.get(name), form.channels[name][1].channel.unit
    chosen = next((one for one in form.set_points if one.subject == name), None)
    if chosen is not None and line is not None:
        return _set_row(chosen, where, token, line)
    return Reading(name, where, _printable(token), value, unit, "" if name else "not used")


def _set_row(chosen: ChosenSetPoint[int | str], where: str, token: str, line: Line) -> Reading:
    """Return the row of a set-point, which the line holds as it was taken."""
    said = line.set_points.get(chosen.name)
    if said is None:
        why = next(one.why for one in line.untaken if one.name == chosen.name)
        return Reading(chosen.subject, where, _printable(token), None, chosen.unit, f"not taken: {why}")
    return chosen.shown(where, _printable(token), said)


def _printable(text: str) -> str:
    """Show control characters by their escapes, so that a damaged line cannot disturb the screen it is shown on."""
    text = text if len(text) <= _SHOWN else f"{text[:_SHOWN]} (and {len(text) - _SHOWN} more)"
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)
