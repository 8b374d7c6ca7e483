"""*Presses*: every press's connection, last values, gaps and faults, to see at a glance what is coming in."""

import platform
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

import dash
from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.presses.incoming import Incoming, incoming, last_weighing, log_bytes, read_from, set_read_from
from dashboard.presses.messages import messages_told
from dashboard.shared.address import address_of
from dashboard.shared.attributes import attributes
from dashboard.shared.backups import backup_notices
from dashboard.shared.kept import low_disks
from dashboard.shared.not_yet import not_yet
from dashboard.shared.page import Context, Page
from dashboard.shared.press_reader import Fresh
from dashboard.shared.trouble import Trouble, trouble
from dashboard.shared.views import PressView
from dashboard.shared.zone import zone_note
from shotlog import __version__
from shotlog.channels import CHANNELS
from shotlog.errors import StoreError
from shotlog.records import Fault, Gap, Weighing
from shotlog.store.asked.faults import FaultKind
from shotlog.store.asked.followed import followed
from shotlog.store.asked.kept import KeptNow
from shotlog.store.asked.presence import last_came
from shotlog.store.log.clock_steps import clock_steps
from shotlog.store.log.starts import starts
from shotlog.wording.clock import clock_said, start_said
from shotlog.wording.incoming import bytes_shown, kind_named, missed_said, one_line, unread_said
from shotlog.wording.kept import room_said, waiting_said
from shotlog.wording.not_current import link_unknown
from shotlog.wording.numbers import plain, shots
from shotlog.wording.putting_right import follows_said
from shotlog.wording.set_points import NOT_READ, set_name, set_since
from shotlog.wording.times import at_time, clock_time

__all__ = ["PAGE"]

Cell = str | Component | list[Component]

_SHOWN = 8
_STEPS_SHOWN = 3
_COUNTS = ("Stored", "Missed", "Faults")
_NUMBERS = (*_COUNTS, "Value")
_LONG = ("Connection", "What", "Bytes as they came")
"""Heads of columns that take a line of their own where a row is stacked."""

_RAW_NOTE = (
    "What the last shot came as is told within some seconds: registers as address:value, the line as printed, or the "
    "event with its fields. It is kept of the last shot only; of faults, the bytes of the first few of a kind are "
    "kept, and the others are counted."
)


def layout(context: Context, _rest: str) -> Component:
    """Return the page; its content is filled by the first refresh."""
    return html.Div(
        [
            html.H1("Presses"),
            zone_note(context.source.clock.now()),
            html.Div(not_yet("What comes in from every press"), id="presses"),
            dcc.Store("presses-seen"),
            dcc.Interval("presses-tick", interval=2000),
        ],
        className="sheet",
    )


def register(app: Dash, context: Context) -> None:
    """Refresh the page, sending it only when something on it changed."""

    @app.callback(
        Output("presses", "children"),
        Output("presses-seen", "data"),
        Output("beat", "data", allow_duplicate=True),
        Input("presses-tick", "n_intervals"),
        State("presses-seen", "data"),
        prevent_initial_call="initial_duplicate",
    )
    def refresh(tick: int | None, seen: str | None) -> Any:
        now = context.source.clock.now()
        presses, balances = context.source.presses, tuple(context.source.balances)
        try:
            found, alive = context.reader.look([*presses, *balances])
            weighed = {name: last_weighing(context.source, name) for name in balances}
            kept = context.source.kept.now()
            heard = context.source.heard
            unheard = None if heard is None else heard.unheard()
            waits = kept if heard is None else None  # in the journal of the edge, of which nothing is known here
            wrong = {press: trouble(found[press].view, now, alive, waits, unheard) for press in presses}
            came = [last_came(context.source.reading(), press) for press in presses]
            backups = backup_notices(context.source, now)
            told = messages_told(context.source, now)
            held = repr([[fresh.digest for fresh in found.values()], weighed, wrong, came, _room(kept), backups, told])
            if held == seen:
                return no_update, no_update, tick or 0
            parts = _page(context, found, wrong, weighed, kept, now, backups, told)
        except StoreError as error:
            said = str(error)
            words = html.P(f"{said}.", className="notice", role="alert")
            return ([words], said, tick or 0) if said != seen else (no_update, no_update, tick or 0)
        return parts, held, tick or 0


def _message(said: str, is_wrong: bool) -> Component:
    return html.Li(html.Strong(f"{said}.") if is_wrong else f"{said}.")


def _page(
    context: Context,
    found: dict[str, Fresh],
    wrong: dict[str, list[Trouble]],
    weighed: dict[str, Weighing | None],
    kept: KeptNow,
    now: datetime,
    backups: list[str],
    messages: list[tuple[str, bool]],
) -> list[Component]:
    waits = waiting_said(kept.shots or 0, kept.place, kept.since, kept.why, kept.unsafe)
    told = [*filter(None, [waits]), *low_disks(kept), *backups]
    parts: list[Component] = [html.P(f"{one}.", className="notice", role="alert") for one in told]
    parts += [_overview({press: found[press].view for press in wrong}, wrong, now)]
    if weighed:
        parts += [html.H2("Balances"), _balances({name: found[name].view for name in weighed}, weighed, context, now)]
    if messages:
        parts += [html.H2("Messages"), html.Ul([_message(*one) for one in messages])]
    for name, fresh in found.items():
        came = incoming(context.source, name, _SHOWN)
        values = [_values(fresh.view, came, read_from(context.source, name))] if name in wrong else []
        values += _set_to(name, came, set_read_from(context.source, name)) if name in wrong else []
        lists = [*_kinds(came.kinds, now), *_gaps(came.gaps, now), *_faults(came.faults, now)]
        if values or lists:
            parts.append(html.Section([html.H2(name), *values, *lists], **attributes(aria_label=name)))
    room = [html.P(f"{one}.") for one in _room(kept)]
    return [*parts, html.P(_RAW_NOTE), html.H2("Log"), *_log(context), *room]


def _room(kept: KeptNow) -> list[str]:
    """Return how much room there is for the log and its journal."""
    said = [room_said(one.what, one.folder, one.free_bytes, one.shots, one.hours, one.reserve) for one in kept.disks]
    return [f"{one[0].upper()}{one[1:]}" for one in said]


def _overview(views: dict[str, PressView], wrong: dict[str, list[Trouble]], now: datetime) -> Component:
    heads = ("Press", "Connection", "Last shot", *_COUNTS)
    rows: list[list[Cell]] = []
    for press, view in views.items():
        last = "none" if view.shot is None or view.time is None else f"{view.shot} at {at_time(view.time, now)}"
        link = dcc.Link(press, href=address_of("/press", press), className="touch")
        counts = (view.n_shots, missed_said(view.n_missed, view.uncertain), view.n_faults)
        rows.append(
            [
                link,
                [
                    *_connection(view, now, wrong[press]),
                    *(html.Div(str(one), className="away") for one in wrong[press]),
                ],
                last,
            ]
        )
        rows[-1] += [str(n) for n in counts]
    return _table("Every press", heads, rows, heading_rows=True, stacks=True)


def _balances(
    views: dict[str, PressView], weighed: dict[str, Weighing | None], context: Context, now: datetime
) -> Component:
    rows: list[list[Cell]] = []
    for name, view in views.items():
        one = weighed[name]
        last = "none" if one is None else f"{one.grams:.3f} g at {at_time(one.time, now)}"
        rows.append([name, context.source.balances[name], _connection(view, now), last, str(view.n_faults)])
    heads = ("Balance", "Weighs the parts of", "Connection", "Last weight", "Faults")
    return _table("Every balance", heads, rows, heading_rows=True, stacks=True)


def _connection(view: PressView, now: datetime, wrong: Sequence[Trouble] = ()) -> list[Component]:
    link = view.link
    if link is None:
        return [html.Span("not connected yet")]
    is_heard = not any(one.kind == "unheard" for one in wrong)
    if not is_heard or (link.state != "stopped" and any(one.ends_reading for one in wrong)):
        return [html.Span(link_unknown(link.state, is_heard=is_heard))]
    detail = [html.Br(), html.Small(one_line(link.detail))] if link.detail else []
    return [html.Span(f"{link.state} since {at_time(link.time, now)}"), *detail]


def _values(view: PressView, came: Incoming, places: Mapping[str, str]) -> Component:
    if view.shot is None:
        return html.P("No shot yet.")
    rows: list[list[Cell]] = [["Shot counter", str(view.shot), "", f"reads {came.counter}"]]
    for name, channel in CHANNELS.items():
        if name in view.values:
            value = plain(name, view.values[name])
            rows.append([channel.label, value, channel.unit, places.get(name, "")])
        elif name in places:
            rows.append([channel.label, "no value", "", places[name]])
    table = _table(f"Last shot of {view.press}", ("Channel", "Value", "Unit", "Read from"), rows, heading_rows=True)
    if came.came is None:
        return table
    shot, text = came.came
    return html.Div([table, html.P([html.B(f"Shot {shot} as it came: "), html.Code(one_line(text))])])


def _set_to(press: str, came: Incoming, places: Mapping[str, str]) -> list[Component]:
    """Return what a press is set to, and what of it was never read; nothing where nothing of it is to be read."""
    rows: list[list[Cell]] = [
        [
            set_name(one.name),
            one.value or NOT_READ,
            one.unit,
            set_since(one.since, one.by, one.is_change or not one.value),
            places.get(one.name, ""),
        ]
        for one in came.set_points
    ]
    known = {one.name for one in came.set_points}
    rows += [[set_name(name), NOT_READ, "", "", place] for name, place in places.items() if name not in known]
    heads = ("Set-point", "Value", "Unit", "Since", "Read from")
    return [_table(f"What {press} is set to", heads, rows, heading_rows=True, stacks=True)] if rows else []


def _kinds(kinds: tuple[FaultKind, ...], now: datetime) -> list[Component]:
    if not kinds:
        return []
    counted = "; ".join(f"{kind_named(one.kind)} {one.n}" for one in kinds)
    unread = [
        html.Li(one_line(unread_said(one.told, one.n, at_time(one.first, now), one.first_shot)))
        for one in kinds
        if one.channel
    ]
    said = [html.P(html.B("Values that could not be taken; the shots are logged without them:")), html.Ul(unread)]
    return [html.P([html.B("Faults by kind: "), counted]), *(said if unread else [])]


def _gaps(gaps: tuple[Gap, ...], now: datetime) -> list[Component]:
    rows: list[list[Cell]] = [
        [at_time(g.time, now), shots(g.first, g.last), missed_said(g.n_shots, [g]), g.reason] for g in gaps
    ]
    return [_table("Newest gaps", ("Time", "Shots", "Missed", "How noticed"), rows)] if rows else []


def _faults(faults: tuple[Fault, ...], now: datetime) -> list[Component]:
    rows: list[list[Cell]] = [
        [at_time(one.time, now), kind_named(one.kind), one_line(one.detail), html.Code(bytes_shown(one.raw))]
        for one in faults
    ]
    heads = ("Time", "Kind", "What", "Bytes as they came")
    return [_table("Newest faults", heads, rows, stacks=True)] if rows else []


def _log(context: Context) -> list[Component]:
    size = log_bytes(context.source) / 1e6
    versions = f"shotlog {__version__}, Python {platform.python_version()}, Dash {dash.__version__}"
    before = followed(context.source.reading())
    since = [html.P(f"It {follows_said(clock_time(one.time), one.reason)}.", className="away") for one in before]
    log, now = context.source.reading(), context.source.clock.now()
    record = [f"{start_said(one)}." for one in starts(log, 1)]
    record += [clock_said(one, now) for one in reversed(clock_steps(log, _STEPS_SHOWN))]
    here = html.P(f"{context.source.settings.store_shown}: {size:.1f} MB.")
    return [here, *since, *map(html.P, record), html.P(f"{versions}.")]


def _table(
    caption: str, heads: tuple[str, ...], rows: list[list[Cell]], heading_rows: bool = False, stacks: bool = False
) -> Component:
    """Return a table; with `heading_rows`, the first cell of a row names it; one that `stacks` does so on a phone."""

    def cell(n: int, what: Cell) -> Component:
        if n == 0 and heading_rows:
            return html.Th(what, scope="row")
        return html.Td(what, className=looks[n], **attributes(data_head=heads[n]))

    looks = ["number" if text in _NUMBERS else "" if text not in _LONG else "wide" for text in heads]
    head = [html.Th(text, scope="col", className=look) for text, look in zip(heads, looks, strict=True)]
    body = [html.Tr([cell(n, what) for n, what in enumerate(row)]) for row in rows]
    parts = [html.Caption(caption), html.Thead(html.Tr(head)), html.Tbody(body)]
    return html.Table(parts, className="stacks" if stacks else "")


PAGE = Page("Presses", "/presses", layout, register)
