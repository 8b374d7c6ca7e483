"""What can be entered on the pages of an edge at a centre: nothing is offered there that would be refused.

Which edge that is, is told to the application once; a button asks, wherever on a page it stands.
"""

import flask

from dashboard.shared.person import here
from shotlog.records import Who
from shotlog.store.centre.content import TABLES_AT_CENTRE, VIA

__all__ = ["ALL_EDGES", "ELSEWHERE", "UNDONE_ELSEWHERE", "edge_here", "is_taken_back_here", "tell_edge"]

ALL_EDGES = "All edges"
"""The name of the start page of a centre, there and on the pages of each edge, which may have a *Plant* of its own."""

ELSEWHERE = "Answer at the press."
UNDONE_ELSEWHERE = "What has no button was entered elsewhere, and is taken back there."

_EDGE = "SHOTLOG_EDGE"


def tell_edge(server: flask.Flask, edge: str) -> None:
    """Tell an application whose log its pages show; empty for a log at its own place."""
    server.config[_EDGE] = edge


def edge_here() -> str:
    """Return the edge whose log at a centre the pages that answer show; empty for a log at its own place."""
    return str(flask.current_app.config.get(_EDGE, "")) if flask.has_app_context() else ""


def is_taken_back_here(entry: str, who: Who | None) -> bool:
    """Say whether an entry (``dispositions:12``) can be taken back on these pages by who is logged in.

    At a centre that is what was entered there, by who did; where nobody has to log in, initials tell when it is sent.
    """
    if not edge_here():
        return True
    made, person = None if who is None else who.signature, here()
    if made is None or made.via != VIA or entry.partition(":")[0] not in TABLES_AT_CENTRE:
        return False
    return made.account == ("" if person is None else person.account)
