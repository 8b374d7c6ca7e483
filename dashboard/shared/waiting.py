"""What was entered at a centre and waits for its edge, on the pages where it was entered; and what became of it."""

from datetime import datetime

from dash import Dash, Input, Output, dcc, html
from dash.development.base_component import Component

from dashboard.shared.attributes import attributes
from dashboard.shared.page import Context
from shotlog.errors import ShotlogError
from shotlog.records import Who
from shotlog.store.centre.entered import WaitingEntry, entered_at_centre
from shotlog.wording.times import at_time
from shotlog.wording.waiting import became_said, what_said
from shotlog.wording.who import by_whom

__all__ = ["place", "register"]

_NAME = "waiting"
_TICK_MS = 3000
_NEWEST = 8
"""Entries that are shown, the newest: `shotlog entries` lists all."""


def place(edge: str) -> list[Component]:
    """Return the place for the list of what was entered for an edge; none where the log is at its own place."""
    return [html.Div(id=_NAME), dcc.Interval(f"{_NAME}-tick", interval=_TICK_MS)] if edge else []


def register(app: Dash, context: Context) -> None:
    """Keep the list current on whichever page has it."""

    @app.callback(Output(_NAME, "children"), Input(f"{_NAME}-tick", "n_intervals"))
    def told(_tick: int | None) -> list[Component]:
        source = context.source
        try:
            entries = entered_at_centre(source.reading(), _NEWEST)
        except ShotlogError:
            return []  # which the page says
        now = source.clock.now()
        rows = [html.Li(_row(one, source.settings.edge, now), className=one.state) for one in reversed(entries)]
        title = html.H2(f"Entered here for {source.settings.edge}")
        return (
            [html.Section([title, html.Ul(rows)], className="entered-here", **attributes(role="status"))]
            if rows
            else []
        )


def _row(one: WaitingEntry, edge: str, now: datetime) -> str:
    who = by_whom(Who(one.signature.initials, one.signature))
    became = became_said(one.state, edge, one.became, one.why)
    return f"{what_said(one.said)} ({at_time(one.made, now)}{who}): {became}"
