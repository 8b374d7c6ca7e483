"""A report of a press as rows for commissioning: each token, its text and what it is taken for; and what to propose."""

from collections.abc import Callable, Mapping
from math import ceil

from shotlog.channels import CHANNELS
from shotlog.collectors.base import Reading
from shotlog.collectors.euromap_follow import Follower
from shotlog.collectors.euromap_lists import KnownToken
from shotlog.collectors.euromap_report import ReportReader, ReportRow, SetToken, TokenMap
from shotlog.collectors.euromap_rows import is_absent, token_key
from shotlog.collectors.euromap_session import Pause
from shotlog.collectors.euromap_usual import keys_of, proposed
from shotlog.collectors.lines import Rejection
from shotlog.collectors.set_points import Raw

__all__ = ["proposals", "rows_of"]

_STEP_S = 0.25


def rows_of(report: Follower, reader: ReportReader, wait_s: float, pause: Pause) -> list[Reading]:
    """Wait for a line of a report, and return what each of its tokens is taken for.

    Raises
    ------
    PressUnreachable
        The folder is away.
    """
    rejected: Rejection | None = None
    row: ReportRow | None = None
    begun = report.backlog()
    for n in range(ceil(wait_s / _STEP_S) + 1):
        if n:
            pause(_STEP_S)
        lines, begun = [*begun, *report.look()], []
        for raw in lines:
            said = reader.read(raw)
            row = said if isinstance(said, ReportRow) else row
            rejected = said if isinstance(said, Rejection) else rejected
        if row is not None:
            return _rows(reader.map, reader, row)
    remark = f"no shot was written in {wait_s:g} s: does the press make shots, in automatic mode?"
    if rejected is not None:
        remark = f"not taken: {rejected.kind}, {rejected.detail}"
    elif reader.columns is not None:
        remark += f" It has written the names: {', '.join(reader.columns)[:200]}"
    raw_line = "" if rejected is None else rejected.raw[:200].decode(reader.encoding, errors="replace")
    return [Reading("report", report.name, "".join(c if c.isprintable() else " " for c in raw_line), None, "", remark)]


def _rows(tokens: TokenMap, reader: ReportReader, row: ReportRow) -> list[Reading]:
    line = row.line
    counter = row.fields.get(token_key(tokens.counter), "")
    rows = [Reading("shot_counter", f"token {tokens.counter}", counter, float(line.counter), "")]
    doubts = {doubt.channel: doubt.detail for doubt in line.doubts}
    for name, (token, scaling) in tokens.channels.items():
        came = row.fields.get(token_key(token))
        remark = f"the report has no {token}" if came is None else doubts.get(name, str(scaling))
        rows.append(Reading(name, f"token {token}", came or "", line.values.get(name), scaling.channel.unit, remark))
    for one in tokens.set_points:
        shown = row.fields.get(token_key(one.place), "")
        rows.append(one.row(f"token {one.place}", shown, _raw_of(row), tokens.units.get(token_key(one.place), "")))
    if row.moment is not None:
        remark = "the press's clock, local time without a zone"
        rows.append(Reading("", "DATE, TIME", row.moment.isoformat(" "), None, "", remark))
    taken = {token_key(token) for token in (*tokens.tokens, "DATE", "TIME")}
    others = [key for key in reader.columns or () if key and key not in taken]
    return rows + [Reading("", f"token {key}", row.fields[key], None, "", "not used") for key in others]


def _raw_of(row: ReportRow) -> Callable[[SetToken], Raw]:
    def raw_of(one: SetToken) -> Raw:
        came = row.fields.get(token_key(one.place), "")
        if is_absent(came):
            raise ValueError(f"{one.place} came as {came!r}" if came else f"the report has no {one.place}")
        return came

    return raw_of


def proposals(tokens: TokenMap, known: Mapping[str, KnownToken]) -> list[Reading]:
    """Return a row for each channel that is not read and whose usual token the press knows."""
    rows = []
    for channel, token in proposed(known).items():
        if channel in tokens.channels:
            continue
        keys = ", ".join(f'{key} = "{value}"' for key, value in keys_of(channel, token).items())
        unit = f"in {token.unit}" if token.unit else "without a unit"
        remark = f"proposed: {channel} = {{ {keys} }} ({token.text or CHANNELS[channel].label}, {unit})"
        rows.append(Reading("", f"token {token.name}", "", None, token.unit, remark))
    return rows
