"""*All edges*: every press of every edge of a centre on one screen, and the edges themselves."""

import hashlib
from typing import Any

from dash import Dash, Input, Output, State, dcc, html, no_update
from dash.development.base_component import Component

from dashboard.centre.plant import CentrePlant, EdgeNow
from dashboard.plant.show import gone, plant
from dashboard.shared.address import address_of
from dashboard.shared.at_centre import ALL_EDGES
from dashboard.shared.attributes import attributes
from dashboard.shared.not_yet import not_yet
from dashboard.shared.page import Context, Page

__all__ = ["centre_page"]

_TICK_MS = 2000
_NONE = "Nothing was shipped here yet. At a PC beside presses: shotlog ship CONFIG --to the address of this centre."


def centre_page(reader: CentrePlant) -> Page:
    """Return the page that shows what a reader reads."""

    def register(app: Dash, context: Context) -> None:
        @app.callback(
            Output("centre", "children"),
            Output("centre-seen", "data"),
            Output("beat", "data", allow_duplicate=True),
            Input("centre-tick", "n_intervals"),
            State("centre-seen", "data"),
            prevent_initial_call="initial_duplicate",
        )
        def refresh(tick: int | None, seen: str | None) -> Any:
            now, edges = reader.look(context.source.clock.now())
            held = hashlib.blake2b(f"{now.digest} {edges}".encode(), digest_size=12).hexdigest()
            if held == seen:
                return no_update, no_update, tick or 0
            notices = [html.P(f"{one}.", className="notice", role="alert") for one in now.notices]
            presses = plant(now.presses) if now.presses else [] if edges or notices else [html.P(_NONE)]
            return [*notices, *presses, *gone(now.gone), *_edges(edges)], held, tick or 0

    return Page(ALL_EDGES, "/plant", _layout, register)


def _layout(_context: Context, _rest: str) -> Component:
    return html.Div(
        [
            html.H1(ALL_EDGES, className="spoken"),
            html.Div(not_yet("How every press stands"), id="centre", className="presses-now"),
            dcc.Store("centre-seen"),
            dcc.Interval("centre-tick", interval=_TICK_MS),
        ],
        className="plant",
    )


def _edges(edges: tuple[EdgeNow, ...]) -> list[Component]:
    """Return the edges, each with the way to its own pages."""
    if not edges:
        return []
    ways = [
        html.A([html.B(f"{one.said}."), html.Small(_presses(one.n_presses))], href=f"{address_of('/at', one.name)}/",
               className="touch")
        for one in edges
    ]  # fmt: skip
    return [html.Nav(ways, className="edges-now", **attributes(aria_label="Edges"))]


def _presses(n: int) -> str:
    return "no press yet" if not n else "1 press" if n == 1 else f"{n} presses"
