"""Where nothing can be entered, because the log can only be read, the pages that take entries say so when opened."""

from typing import Any

from dash import Dash, Input, Output, html

from dashboard.shared.page import Context

__all__ = ["notice", "register"]

_NAME = "no-entries"


def notice() -> Any:
    """Return the place for the words; they come by themselves, so that a slow log does not keep the page waiting."""
    return html.Div(id=_NAME, role="status", className="refused")


def register(app: Dash, context: Context) -> None:
    """Fill the place on whichever page has it."""

    @app.callback(Output(_NAME, "children"), Input(_NAME, "id"))
    def told(_name: str) -> str:
        return context.source.refuses_entries()
