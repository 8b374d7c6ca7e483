"""*Plant*: all presses on one screen, those that need a person first; read at two metres, without colour."""

from typing import Any

from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.plant.reader import PlantReader
from dashboard.plant.show import gone, plant
from dashboard.shared.not_yet import not_yet
from dashboard.shared.page import Context, Page

__all__ = ["MANY", "PAGE"]

MANY = 5
"""From so many presses on this page is the first: up to four stand side by side on top of the page at the press."""

_TICK_MS = 2000


def layout(_context: Context, _rest: str) -> Component:
    """Return the page; its content is filled by the first refresh."""
    return html.Div(
        [
            html.H1("Plant", className="spoken"),
            html.Div(not_yet("How every press stands"), id="plant", className="presses-now"),
            dcc.Store("plant-seen"),
            dcc.Interval("plant-tick", interval=_TICK_MS),
        ],
        className="plant",
    )


def register(app: Dash, context: Context) -> None:
    """Refresh the page, sending it only when something on it changed."""
    reader = PlantReader(context)
    context.first_looks.append(lambda: reader.look(context.source.clock.now()))

    @app.callback(
        Output("plant", "children"),
        Output("plant-seen", "data"),
        Output("beat", "data", allow_duplicate=True),
        Input("plant-tick", "n_intervals"),
        State("plant-seen", "data"),
        prevent_initial_call="initial_duplicate",
    )
    def refresh(tick: int | None, seen: str | None) -> Any:
        now = reader.look(context.source.clock.now())
        held = now.digest
        if held == seen:
            return no_update, no_update, tick or 0
        notices = [html.P(f"{one}.", className="notice", role="alert") for one in now.notices]
        return [*notices, *plant(now.presses), *gone(now.gone)], held, tick or 0


PAGE = Page("Plant", "/plant", layout, register, least_presses=2)
