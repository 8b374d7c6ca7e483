"""Who enters on a page: whose initials stand under what is entered there."""

from dash import html
from dash.development.base_component import Component

from dashboard.shared.person import here

__all__ = ["INITIALS", "who_enters"]

INITIALS = "initials"
"""The store that keeps the initials of whoever enters on this device, on every page (`assets/who.js`)."""


def who_enters() -> Component:
    """Return whose initials stand under what is entered here: those of who is logged in, else the field for them."""
    person = here()
    if person is None:
        return html.Div(className="who")
    return html.P(f"Entered by {person.initials}, logged in as {person.account}.", className="entered-by")
