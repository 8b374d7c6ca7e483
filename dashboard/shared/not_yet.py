"""What stands in a part of a page before the log has filled it: an empty box would read as if there were nothing."""

from dash import html
from dash.development.base_component import Component

__all__ = ["WAITS", "not_yet"]

WAITS = "Waiting for the log."


def not_yet(what: str = "") -> Component:
    """Return the words for a part that waits for the log; `what`: what will stand there, as the subject of a sentence.

    Examples
    --------
    >>> not_yet("The list of presses").children
    'Waiting for the log. The list of presses is being worked out.'
    """
    return html.P(f"{WAITS} {what} is being worked out." if what else WAITS, className="not-yet")
