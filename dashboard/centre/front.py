"""What stands in front of all pages at a centre: it leads a request below ``/at/EDGE`` to the pages of that edge.

They are made when they are first asked for, and a bounded number is kept. Who asks has to be let in by the walls and
the gate of the centre before any are made for it; then the pages of the edge look at it once more, as at any request.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable
from typing import Any

import flask

from dashboard.centre.edges import EdgeLogs
from dashboard.shared.page import Context
from shotlog.errors import ShotlogError

__all__ = ["AT", "Front"]

AT = "/at/"
"""Below it and the name of an edge are its pages."""

_FETCHED = ("/_", "/assets/")
"""What pages fetch, and nobody opens."""

_MOST = 40
"""Edges whose pages are kept; of more, those that nobody has asked for the longest are made again (own)."""

Environ = dict[str, Any]


class Front:
    """The application of a web server. `make` makes the pages of an edge, to be served below an address."""

    def __init__(self, centre: flask.Flask, logs: EdgeLogs, make: Callable[[Context, str], flask.Flask]) -> None:
        self._centre, self._logs, self._make = centre, logs, make
        self._making = threading.Lock()
        self._made: OrderedDict[str, tuple[Context, flask.Flask]] = OrderedDict()

    def __call__(self, environ: Environ, start_response: Any) -> Iterable[bytes]:
        """Answer a request."""
        name, rest = _named(environ.get("PATH_INFO", ""))
        pages = self._of(name, environ) if name else None
        if pages is None and rest.startswith(_FETCHED) and environ["REQUEST_METHOD"] in ("GET", "HEAD"):
            # what a page fetches is refused, and led nowhere
            return self._centre({**environ, "PATH_INFO": rest}, start_response)
        if pages is None:
            return self._centre(environ, start_response)
        below = f"{AT}{name}".encode().decode("latin-1")  # as WSGI has it
        within = {"SCRIPT_NAME": environ.get("SCRIPT_NAME", "") + below, "PATH_INFO": rest or "/"}
        return pages({**environ, **within}, start_response)

    def _of(self, name: str, environ: Environ) -> flask.Flask | None:
        """Return the pages of an edge; None where there is none, or who asks is not let in."""
        try:
            if self._logs.edges.of(name) is None or (name not in self._made and self._refuses(environ)):
                return None
            context = self._logs.of(name)
        except ShotlogError:
            made = self._made.get(name)
            return None if made is None else made[1]  # which says so
        with self._making:
            made = self._made.pop(name, None)
            if made is None or made[0] is not context:
                made = context, self._make(context, name)
            self._made[name] = made
            while len(self._made) > _MOST:
                self._made.popitem(last=False)
            return made[1]

    def _refuses(self, environ: Environ) -> bool:
        """Say whether the centre refuses a request, as if it were one to read: what it writes the edge looks at."""
        asked = {**environ, "REQUEST_METHOD": "GET", "CONTENT_LENGTH": "0"}
        with self._centre.request_context(asked):
            return self._centre.preprocess_request() is not None


def _named(path: str) -> tuple[str, str]:
    """Return the edge that a path is below, and the rest of the path; nothing where it is below none.

    Examples
    --------
    >>> _named("/at/hall-2/press/P25"), _named("/at/hall-2"), _named("/press/P25")
    (('hall-2', '/press/P25'), ('hall-2', ''), ('', ''))
    """
    if not path.startswith(AT):
        return "", ""
    name, slash, rest = path[len(AT) :].partition("/")
    try:
        return name.encode("latin-1").decode(), f"{slash}{rest}"
    except UnicodeError:
        return "", ""
