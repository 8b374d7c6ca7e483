"""What every request passes before a page is asked, and every answer on its way out."""

import flask
from dash import Dash

from dashboard.walls import headers
from dashboard.walls.hosts import Hosts, machine_names
from dashboard.walls.origins import WRITES, foreign
from dashboard.walls.payloads import Payloads
from dashboard.walls.refusing import Refusing, one_line
from dashboard.walls.tokens import Tokens
from shotlog.access.reach import is_loopback
from shotlog.settings import Settings

__all__ = ["TOKENS", "register"]

TOKENS = "shotlog.tokens"
"""Where `server.extensions` holds the tokens, for a form that needs one in a field."""


def register(app: Dash, settings: Settings, tokens: Tokens) -> None:
    """Put the walls up. First of all that looks at requests, and once all callbacks are registered."""
    server: flask.Flask = app.server
    bound = settings.dashboard_host
    hosts = Hosts(bound, settings.walls.hosts, () if is_loopback(bound) else machine_names())
    server.extensions[TOKENS] = tokens
    payloads, refusing = Payloads(app, [press.name for press in settings.presses]), Refusing()
    content_policy = headers.policy(app.csp_hashes())

    def misnamed() -> flask.Response | None:
        given = flask.request.headers.get("Host", "")
        if hosts.answer_to(given):
            return None
        words = (
            f"These pages do not answer to the name {one_line(given) or 'that was left out'}. If it is a name of this "
            "machine, put it into the configuration: hosts under [dashboard]."
        )
        return refusing.refuse(421, "a name that is none of this machine", words)

    def from_elsewhere() -> flask.Response | None:
        came_from = foreign(flask.request.method, dict(flask.request.headers), flask.request.host_url.rstrip("/"))
        if not came_from:
            return None
        words = (
            f"This was asked for by {one_line(came_from)}, and only pages of this server may. Behind a proxy that "
            "serves them by another address, set proxy under [dashboard]."
        )
        return refusing.refuse(403, "a page of another origin", words)

    def untold() -> flask.Response | None:
        if flask.request.method not in WRITES or tokens.said_again():
            return None
        answer = refusing.refuse(
            403, "what came without its token", "The token of this page is out of date: load it anew."
        )
        answer.headers["X-Token"] = "new"
        tokens.leave(answer)
        return answer

    def misshapen() -> flask.Response | None:
        wrong = payloads.wrong(flask.request)
        if not wrong:
            return None
        return refusing.refuse(
            400, f"what no page asks ({wrong})", "No page of this release asks for that. Load the page anew."
        )

    @server.before_request
    def walls() -> flask.Response | None:
        return misnamed() or from_elsewhere() or untold() or misshapen()

    @server.after_request
    def said(response: flask.Response) -> flask.Response:
        headers.put_on(response, content_policy)
        if response.mimetype == "text/html":
            tokens.leave(response)
        return response
