"""What is answered where a request cannot be: one line, told once in the log, and never a page of program text.

A request that no page of this release makes is refused (a tab of another release, or somebody trying). What fails in
our own code is a mistake in this program, and keeps its traceback in the log.
"""

import logging
import traceback
from pathlib import Path

import flask
from werkzeug.exceptions import HTTPException
from werkzeug.wrappers import Response

from shotlog.errors import StoreUnreachable

__all__ = ["register"]

_OURS = Path(__file__).resolve().parents[2]
_PACKAGES = tuple(str(_OURS / name) for name in ("dashboard", "shotlog"))

_WORDS = {404: "There is nothing at this address", 405: "This cannot be done at this address"}

logger = logging.getLogger(__name__)


def register(server: flask.Flask) -> None:
    """Answer what is raised while a request is answered."""

    @server.errorhandler(Exception)
    def failed(error: Exception) -> Response:
        if isinstance(error, HTTPException):
            return _plainly(error)
        if isinstance(error, StoreUnreachable):  # which is no mistake in here, and lasts
            logger.warning("%s cannot be answered: %s", ascii(flask.request.path[:200]), error)
            return _said("The log cannot be read now.", 503)
        what = f"{flask.request.method} {flask.request.path[:200]!a}: {type(error).__name__}"
        if any(frame.filename.startswith(_PACKAGES) for frame in traceback.extract_tb(error.__traceback__)):
            logger.error("the pages failed at %s", what, exc_info=error)
            return _said("This failed on the server, which keeps a note of how. Load the page anew.", 500)
        logger.warning("the pages were asked for what no page asks: %s", what)
        return _said("No page of this release asks for that. Load the page anew.", 400)


def _plainly(error: HTTPException) -> Response:
    """Return what the library answers, with its headers, and one line of ours in place of its page."""
    answer = error.get_response()
    if answer.status_code >= 400:
        answer.set_data(f"{_WORDS.get(answer.status_code, error.name)}.\n")
        answer.mimetype = "text/plain"
    return answer


def _said(text: str, status: int) -> flask.Response:
    return flask.Response(text, status, mimetype="text/plain")
