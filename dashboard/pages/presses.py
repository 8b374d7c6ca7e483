"""*Presses*: every press's connection, last values, gaps and faults, to see at a glance what is coming in."""

from datetime import datetime
from typing import Any
from urllib.parse import quote

from dash import Dash, Input, Output, State, dcc, html, no_update

from dashboard.data import Fresh
from dashboard.pages.base import Context, Page
from dashboard.standing import at_time, trouble
from shotlog import __version__
from shotlog.channels import CHANNELS
from shotlog.errors import StoreError
from shotlog.records import Fault

__all__ = ["PAGE"]

Component = Any

_FAULTS_SHOWN = 12
_COUNTS = ("Stored", "Missed", "Faults")


def layout(_context: Context, _rest: str) -> Component:
    """Return the page; its content is filled by the first refresh."""
    return html.Div(
        [
            html.H1("Presses"),
            html.Div(id="presses"),
            html.P(f"shotlog {__version__}"),
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
        try:
            alive = context.reader.logger_seen()
            found = {press: context.reader.fresh(press) for press in context.source.presses}
            wrong = {press: trouble(fresh.view, now, alive) for press, fresh in found.items()}
        except StoreError as error:
            said = str(error)
            return ([html.P(said)], said, tick or 0) if said != seen else (no_update, no_update, tick or 0)
        held = repr([(press, fresh.digest, wrong[press]) for press, fresh in found.items()])
        if held == seen:
            return no_update, no_update, tick or 0
        parts = [_table(found, wrong, now)]
        for press in found:
            parts.extend(_faults(press, context.reader.faults(press, _FAULTS_SHOWN), now))
        return parts, held, tick or 0


def _table(found: dict[str, Fresh], wrong: dict[str, list[str]], now: datetime) -> Component:
    heads = ("Press", "Connection", "Last shot", "Values", *_COUNTS)
    rows = [_row(press, fresh, wrong[press], now) for press, fresh in found.items()]
    head = [html.Th(text, scope="col", className="number" if text in _COUNTS else "") for text in heads]
    return html.Table([html.Thead(html.Tr(head)), html.Tbody(rows)])


def _row(press: str, fresh: Fresh, wrong: list[str], now: datetime) -> Component:
    view = fresh.view
    state = "not connected yet" if view.link is None else f"{view.link.state} since {at_time(view.link.time, now)}"
    values = [
        f"{channel.label} {view.values[name]:.{channel.decimals}f} {channel.unit}"
        for name, channel in CHANNELS.items()
        if name in view.values
    ]
    detail = [html.Br(), html.Small(view.link.detail)] if view.link is not None and view.link.detail else []
    last = "none" if view.shot is None or view.time is None else f"{view.shot} at {at_time(view.time, now)}"
    return html.Tr(
        [
            html.Th(dcc.Link(press, href=f"/press/{quote(press, safe='')}", className="touch"), scope="row"),
            html.Td([html.Span(state), *detail, *(html.Div(text, className="away") for text in wrong)]),
            html.Td(last),
            html.Td([html.Div(text) for text in values] or "none"),
            html.Td(str(view.n_shots), className="number"),
            html.Td(str(view.n_missed), className="number"),
            html.Td(str(view.n_faults), className="number"),
        ]
    )


def _faults(press: str, faults: list[Fault], now: datetime) -> list[Component]:
    if not faults:
        return []
    rows = [
        html.Tr([html.Td(at_time(one.time, now)), html.Td(one.kind), html.Td(one.detail), html.Td(_shown(one.raw))])
        for one in faults
    ]
    heads = html.Tr([html.Th(head, scope="col") for head in ("Time", "Kind", "What", "Bytes as they came")])
    return [html.H2(f"Newest faults of {press}"), html.Table([html.Thead(heads), html.Tbody(rows)])]


def _shown(raw: bytes) -> str:
    """Return raw bytes as text where they are text, as hexadecimal where not."""
    text = raw.decode("ascii", errors="replace")
    return text if text.isprintable() and "\N{REPLACEMENT CHARACTER}" not in text else raw.hex(" ")


PAGE = Page("Presses", "/presses", layout, register)
