"""The gate: before anything is answered, who asks is found out, and whether they may.

On the machine itself nobody logs in: there the gate is not put up at all. Elsewhere a page leads to the one to log in
on, and everything else (callbacks, layout, pictures, downloads) is refused. What is refused is a line in the text log.
"""

import json
from functools import cached_property
from urllib.parse import urlencode

import flask
from dash import Dash

from dashboard.access.door import Door
from dashboard.access.entrance import LOG_IN, Entrance, led_to
from dashboard.access.needed import ASSETS, AT_CENTRE, CALLBACKS, OPEN, needed_by
from dashboard.shared.address import at
from dashboard.shared.cookies import session_cookie
from dashboard.shared.person import Person, here, set_person
from dashboard.shared.source import Source
from dashboard.walls.callbacks import PATH, asked_of, made_of
from dashboard.walls.refusing import Refusing
from shotlog.access.roles import may
from shotlog.errors import AccountsUnreadable
from shotlog.wording.accounts import not_allowed

__all__ = ["register"]

_PAGES = ("/", "/<path:path>", "/account", "/accounts")
_BEAT = ".n_intervals"
"""What changes on a page that nobody touches; so does whatever callbacks make of it."""
_SHOWN = ("/assets/", "/pictures/", "/_dash-component-suites/")
"""What a page shows is fetched by the browser, also when what is shown changed by itself."""
_FIRST = "Log in first."
_SOON_S = 60.0
"""From so long before a log-in ends, each answer says so: a page with something typed on it warns."""


def register(app: Dash, source: Source, door: Door | None, *, is_entrance: bool = True) -> None:
    """Put the gate up where whoever opens the pages has to log in: behind the walls, which look first.

    `door`: None where nobody has to. `is_entrance`: one logs in here, and not at other pages of the same server.
    """
    if door is None:
        return
    refusing = Refusing()
    gate = _Gate(app, door, session_cookie(source.settings), refusing)
    app.server.before_request(gate.look)
    app.server.after_request(gate.say_less)
    app.server.after_request(gate.say_soon)
    if is_entrance:
        Entrance(app.server, source, door, refusing).open()


class _Gate:
    def __init__(self, app: Dash, door: Door, cookie: str, refusing: Refusing) -> None:
        self._app, self._door, self._cookie, self._refusing = app, door, cookie, refusing

    def look(self) -> flask.Response | None:
        """Return why a request is not answered, None where it is."""
        request = flask.request
        rule = "" if request.url_rule is None else request.url_rule.rule
        act, person = needed_by(rule, request.method), self._person()
        set_person(person)
        if act == OPEN or (rule.startswith("/assets/") and request.path.removeprefix("/assets/") in ASSETS):
            return None
        if person is None:
            return self._to_log_in(rule)
        acts = [act, *([self._of_callback()] if rule == PATH else [])]
        if rule and None in acts:
            return self._refuse(403, "what no row says who may", "Nobody may do that here.")
        for one in acts:
            if one is not None and not may(person.role, one):
                return self._refuse(403, "what a role may not", not_allowed(person.role, one))
        return None

    def say_less(self, response: flask.Response) -> flask.Response:
        """Let whoever is not logged in know of the logging whether it is at work, and nothing of what it logs."""
        if flask.request.path == "/healthz" and here() is None:
            response.set_data(json.dumps({"ok": response.status_code == 200}))
        return response

    def say_soon(self, response: flask.Response) -> flask.Response:
        """Say that a log-in is about to end, and by what: ``idle``, which a touch puts off, or ``over``."""
        if "log_in_ends" in flask.g:
            response.headers["X-Log-In-Ends"] = flask.g.log_in_ends
        return response

    def _person(self) -> Person | None:
        token = flask.request.cookies.get(self._cookie, "")
        if not token:
            return None
        try:
            account = self._door.sessions.account_of(token, self._door.accounts.find, touched=self._is_touched())
        except AccountsUnreadable as error:
            self._refusing.note("everybody", str(error))
            return None
        if account is None:
            return None
        why, left_s = self._door.sessions.left(token, account)
        if left_s <= _SOON_S:
            flask.g.log_in_ends = why
        return Person(account.name, account.initials, account.role)

    def _of_callback(self) -> str | None:
        """Return what the callback takes that is asked, None where it has no row or there is none."""
        callback = asked_of(self._app, flask.request.get_json(silent=True))
        if callback is None:
            return None
        named = f"{callback.function.__module__}.{callback.function.__name__}"
        return CALLBACKS.get(named, AT_CENTRE.get(named))

    def _is_touched(self) -> bool:
        """Say whether somebody touched the page: what it asks by itself, however far on, keeps no log-in."""
        if flask.request.path != PATH:
            return not (flask.request.method == "GET" and flask.request.path.startswith(_SHOWN))
        asked = flask.request.get_json(silent=True)
        changed = asked.get("changedPropIds") if isinstance(asked, dict) else None
        return not (isinstance(changed, list) and changed and self._by_itself.issuperset(map(str, changed)))

    @cached_property
    def _by_itself(self) -> frozenset[str]:
        """What changes on the pages without a touch: known once the first page has asked, as then the callbacks are."""
        return made_of(self._app, _BEAT)

    def _to_log_in(self, rule: str) -> flask.Response:
        request = flask.request
        ended = self._cookie in request.cookies
        if rule in _PAGES and request.method in ("GET", "HEAD"):
            query = {"next": at(request.full_path.rstrip("?"))} | ({"ended": "1"} if ended else {})
            return led_to(f"{LOG_IN}?{urlencode(query, safe='/')}", 302)
        words = self._door.why_logged_out(request.cookies[self._cookie]) if ended else _FIRST
        return self._refuse(401, "what came without a log-in", words or _FIRST)

    def _refuse(self, status: int, what: str, words: str) -> flask.Response:
        person = here()
        answer = self._refusing.refuse(status, what if person is None else f"{what} ({person.account})", words)
        answer.headers["X-Refused"] = "role" if status == 403 else "log-in"
        return answer
