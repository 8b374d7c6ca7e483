"""The addresses that pages lead to: each is made here, so that pages can be served below another address than ``/``.

An application is told with each request what it lies below (``SCRIPT_NAME`` of WSGI): nothing for a log's own pages,
``/at/hall-2`` for those of an edge at a centre. Its routes never see that; what a page leads to has to bear it. Scripts
of a page read it off the page itself, ``data-at``.
"""

from urllib.parse import quote, unquote

import flask

__all__ = ["address_of", "at", "below"]


def at(path: str) -> str:
    """Return the address of a path of the application that answers; outside of a request, the path.

    Examples
    --------
    >>> at("/press/P25")
    '/press/P25'
    """
    return f"{_below()}{path}"


def address_of(path: str, *names: str) -> str:
    """Return the address of what is named below a path: names of presses and inserts may hold anything.

    Examples
    --------
    >>> address_of("/press", "hall 2/3"), address_of("/parts", "M\\u00fchle")
    ('/press/hall%202%2F3', '/parts/M%C3%BChle')
    """
    return at("/".join([path, *(quote(name, safe="") for name in names)]))


def below(address: str) -> str:
    """Return the path within the application that answers, of an address as a browser has it."""
    lies = flask.request.script_root if flask.has_request_context() else ""
    ends = (n for n in range(len(address) + 1) if address[n : n + 1] in ("", "/") and unquote(address[:n]) == lies)
    return address[next(ends, 0) :]


def _below() -> str:
    return quote(flask.request.script_root) if flask.has_request_context() else ""
