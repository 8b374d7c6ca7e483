"""As of when the pages of an edge are, at the centre: on every page, for all of it is a copy."""

from collections.abc import Callable

from dash import Dash, Input, Output, dcc, html
from dash.development.base_component import Component

from shotlog.errors import StoreError

__all__ = ["place", "register"]

_NAME = "as-of"
_TICK_MS = 5000


def place() -> list[Component]:
    """Return the place for the words."""
    return [html.Div(id=_NAME, role="status", className="as-of"), dcc.Interval(f"{_NAME}-tick", interval=_TICK_MS)]


def register(app: Dash, says: Callable[[], str]) -> None:
    """Keep the words in their place current."""

    @app.callback(Output(_NAME, "children"), Input(f"{_NAME}-tick", "n_intervals"))
    def told(_tick: int | None) -> str:
        try:
            return says()
        except StoreError:
            return "The server of the plant cannot be reached"
