"""What was entered at a centre and waits for its edge, on the pages where it was entered; and what became of it."""

from typing import Any

from dash import ALL, Dash, Input, Output, State, ctx, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.shared.attributes import attributes
from dashboard.shared.page import Context
from dashboard.shared.person import allowed, here
from dashboard.shared.sent import Typed
from dashboard.shared.source import Source
from dashboard.shared.who import INITIALS, signing
from shotlog.answers.entered_there import entered_line
from shotlog.errors import ShotlogError, UsageError
from shotlog.store.centre.entered import WAITING, WaitingEntry, entered_at_centre
from shotlog.store.centre.entering import withdraw_entry
from shotlog.wording.waiting import what_said

__all__ = ["place", "register"]

_NAME = "waiting"
_BACK = "waiting-back"
_TICK_MS = 3000
_NEWEST = 8
"""Entries that are shown, the newest: `shotlog entries` lists all."""


def place(edge: str) -> list[Component]:
    """Return the place for the list of what was entered for an edge; none where the log is at its own place."""
    if not edge:
        return []
    refused = html.Div(id=f"{_NAME}-refused", role="alert", className="refused")
    return [html.Div(id=_NAME), refused, dcc.Interval(f"{_NAME}-tick", interval=_TICK_MS)]


def register(app: Dash, context: Context) -> None:
    """Keep the list current on whichever page has it, and take back what is touched there."""
    source = context.source

    @app.callback(Output(_NAME, "children"), Input(f"{_NAME}-tick", "n_intervals"))
    def told(_tick: int | None) -> list[Component]:
        try:
            return _list(source)
        except ShotlogError:
            return []  # which the page says

    @app.callback(
        Output(_NAME, "children", allow_duplicate=True),
        Output(f"{_NAME}-refused", "children"),
        Input({"type": _BACK, "name": ALL}, "n_clicks"),
        State(INITIALS, "data"),
        prevent_initial_call=True,
    )
    def withdrawn(clicks: list[int | None], initials: Typed) -> Any:
        if not any(clicks):
            return no_update, no_update  # the list was drawn anew
        try:
            touched = ctx.triggered_id
            _withdraw(source, str(touched["name"]) if isinstance(touched, dict) else "", initials)
            return _list(source), ""
        except ShotlogError as error:
            return no_update, str(error)


def _withdraw(source: Source, number: str, initials: Typed) -> None:
    if not (number.isascii() and number.isdigit() and len(number) <= 18):
        raise UsageError(f"waiting: given {number!r}, allowed: one that is shown with a button to take it back")
    with source.entering("enter", signing(initials) or "") as (log, _):
        if log.signature is not None:
            withdraw_entry(log, int(number), log.signature, "at the screen")


def _list(source: Source) -> list[Component]:
    entries = entered_at_centre(source.reading(), _NEWEST)
    if not entries:
        return []
    now, edge = source.clock.now(), source.settings.edge
    rows = [
        html.Li([html.Span(entered_line(one, edge, now)), *_back(one)], className=one.state)
        for one in reversed(entries)
    ]
    title = html.H2(f"Entered here for {edge}")
    return [html.Section([title, html.Ul(rows)], className="entered-here", **attributes(role="status"))]


def _back(one: WaitingEntry) -> list[Component]:
    """Return the button that takes back what waits, for who made it: the edge has not begun with it."""
    person = here()
    if one.state != WAITING or not allowed("enter") or (person and person.account != one.signature.account):
        return []
    spoken = attributes(aria_label=f"Take back {what_said(one.said)}")
    return [html.Button("Take back", id={"type": _BACK, "name": str(one.number)}, className="touch undo", **spoken)]
