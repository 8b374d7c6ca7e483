"""Who enters on a page: whose initials stand under what is entered there."""

from dash import html
from dash.development.base_component import Component

from dashboard.shared.attributes import attributes
from dashboard.shared.person import here, initials
from dashboard.shared.sent import Typed

__all__ = ["INITIALS", "ask_who", "signing", "who_enters", "who_is_kept"]

INITIALS = "initials"
"""The store that keeps the initials of whoever enters on this device, on every page (`assets/who.js`)."""


def signing(kept: Typed) -> str | None:
    """Return what signs an entry, of who is logged in or as kept on the device; None where nobody was asked there."""
    return None if kept is None and here() is None else initials(kept or "")


def who_enters() -> Component:
    """Return whose initials stand under what is entered here: those of who is logged in, else the field for them."""
    person = here()
    if person is None:
        return html.Div(className="who")
    return html.P(f"Entered by {person.initials}, logged in as {person.account}.", className="entered-by")


def who_is_kept() -> Component:
    """Return the initials that entries bear, in short; those kept on the device are filled in by the browser."""
    person = here()
    return html.Small(None if person is None else f"by {person.initials}", className="who-is-kept")


def ask_who(*buttons: Component) -> Component:
    """Return the question who enters on this device, with the buttons that enter what was touched before."""
    return html.Div(
        [html.B("Who enters this?"), who_enters(), html.Div(list(buttons), className="row")],
        className="asks-who",
        role="group",
        **attributes(aria_label="Who enters this"),
    )
