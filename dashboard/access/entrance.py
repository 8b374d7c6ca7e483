"""The way in and out: the addresses of the forms to log in, to log out, and to change one's own password."""

import logging
import re
from collections.abc import Mapping

import flask

from dashboard.access.attempts import Browser
from dashboard.access.door import Door, LetIn, NotLetIn
from dashboard.access.forms import account_page, accounts_page, log_in_page
from dashboard.shared.cookies import browser_cookie, session_cookie
from dashboard.shared.person import Person, here
from dashboard.shared.source import Source
from dashboard.walls.front import TOKENS
from dashboard.walls.plain import why_plain
from dashboard.walls.refusing import Refusing
from dashboard.walls.tokens import FIELD
from shotlog.errors import AccountsUnreadable, ShotlogError, UsageError
from shotlog.records import AccountChange
from shotlog.store.account_changes import account_changes, append_account_changes
from shotlog.wording.accounts import account_said, became_said, change_said
from shotlog.wording.logged_out import logged_out

__all__ = ["LOG_IN", "Entrance", "led_to"]

LOG_IN = "/log-in"
_WITHIN = re.compile(r"/(?![/\\])[^\s\\]{0,500}")
"""An address of these pages, and of no other machine."""
_BROWSER_S = 180 * 86400
_MOST_CHANGES = 30
_NOT_OWN = "That is not your own password: nothing was changed."
_CHANGED = "The password is changed. Whoever else was logged in with this account has to log in anew."

logger = logging.getLogger(__name__)


class Entrance:
    """Serves the forms; `open` puts them under their addresses."""

    def __init__(self, server: flask.Flask, source: Source, door: Door, refusing: Refusing) -> None:
        self._server, self._source, self._door, self._refusing = server, source, door, refusing
        self._session, self._browser = session_cookie(source.settings), browser_cookie(source.settings)

    def open(self) -> None:
        """Put the forms under their addresses."""
        self._server.add_url_rule(LOG_IN, "log_in", self._log_in, methods=["GET", "POST"])
        self._server.add_url_rule("/log-out", "log_out", self._log_out, methods=["POST"])
        self._server.add_url_rule("/account", "account", self._account, methods=["GET", "POST"])
        self._server.add_url_rule("/accounts", "accounts", self._accounts, methods=["GET", "POST"])
        self._server.after_request(self._once_more)

    def _log_in(self) -> flask.Response:
        request = flask.request
        if request.method != "POST":
            return self._form(self._why_ended(), back=request.args.get("next", ""))
        name, back = request.form.get("name", ""), request.form.get("next", "")
        try:
            let_in = self._door.let_in(name, request.form.get("password", ""), *self._from())
        except NotLetIn as error:
            self._note(error)
            answer = self._form(str(error), name, back, 429 if error.wait_s else 401)
            if error.wait_s:
                answer.headers["Retry-After"] = str(int(error.wait_s) + 1)
            return answer
        except UsageError as error:  # what was typed is no text
            return self._form(str(error), "", back, 400)
        except AccountsUnreadable as error:
            self._refusing.note("everybody", str(error))
            return self._form(
                "The accounts cannot be read, so nobody is let in. `shotlog account` says why.", status=503
            )
        self._door.sessions.end(request.cookies.get(self._session, ""))
        return self._let_in(led_to(back if _WITHIN.fullmatch(back) else "/"), let_in)

    def _why_ended(self) -> str:
        """Return why who comes here was logged out; empty for somebody who comes anew."""
        token = flask.request.cookies.get(self._session, "")
        if not flask.request.args.get("ended"):
            return ""
        return self._door.why_logged_out(token) if token else logged_out("left", 0.0, 0.0)

    def _let_in(self, answer: flask.Response, let_in: LetIn) -> flask.Response:
        self._leave(answer, self._session, let_in.token)
        self._leave(answer, self._browser, let_in.browser.signed(self._door.accounts.key), _BROWSER_S)
        return answer

    def _leave(self, answer: flask.Response, name: str, value: str, keep_s: int | None = None) -> None:
        secure = flask.request.is_secure
        answer.set_cookie(name, value, keep_s, httponly=True, samesite="Strict", secure=secure, path="/")

    def _log_out(self) -> flask.Response:
        self._door.sessions.end(flask.request.cookies.get(self._session, ""))
        answer = led_to(LOG_IN)
        answer.delete_cookie(self._session, path="/", secure=flask.request.is_secure, httponly=True, samesite="Strict")
        return answer

    def _account(self) -> flask.Response:
        person, form = here(), flask.request.form
        if person is None:
            return led_to(LOG_IN)
        if flask.request.method != "POST":
            return self._own_page(person, _CHANGED if flask.request.args.get("changed") else "")
        try:
            token = self._changed(person, form.get("password", ""), form.get("new", ""), form.get("again", ""))
        except (ShotlogError, OSError) as error:
            if isinstance(error, NotLetIn):
                self._note(error)
            return self._own_page(person, str(error), 422)
        self._tell()
        answer = led_to("/account?changed=1")
        self._leave(answer, self._session, token)
        return answer

    def _own_page(self, person: Person, said: str, status: int = 200) -> flask.Response:
        return _page(account_page(person, self._last(person), self._token(), said=said), status)

    def _last(self, person: Person) -> list[str]:
        """Return what was changed of an account, of each kind the last, newest first: its owner is to know of each."""
        own = {one.change: one for one in self._changes() if one.account == person.account}
        newest = sorted(own.values(), key=lambda one: one.time, reverse=True)
        return [became_said(one, self._source.clock.now()) for one in newest]

    def _accounts(self) -> flask.Response:
        person, form = here(), flask.request.form
        if person is None:
            return led_to(LOG_IN)
        said, status = "", 200
        if flask.request.method == "POST":
            try:
                self._door.confirm(person.account, form.get("own", ""), *self._from())
                said = self._kept(form, person.account)
            except NotLetIn as error:
                self._note(error)
                said, status = str(error) if error.wait_s else _NOT_OWN, 422
            except (ShotlogError, OSError) as error:
                said, status = str(error), 422
            self._tell()
        return _page(accounts_page(self._door.accounts.all(), self._became(), self._token(), said=said), status)

    def _kept(self, form: Mapping[str, str], by: str) -> str:
        """Make the change of an account that was asked for; return what to say."""
        accounts, name = self._door.accounts, form.get("name", "")
        match form.get("what"):
            case "add":
                made = accounts.add(name, form.get("initials", ""), form.get("role", ""), form.get("new", ""), by)
                return f"{account_said(made.name, made.role, made.initials)}: made."
            case "role":
                made = accounts.set_role(name, form.get("role", ""), by)
                return f"{account_said(made.name, made.role, made.initials)}: from the next touch on."
            case "password":
                made = accounts.set_password(name, form.get("new", ""), by)
                return f"{made.name}: another password; whoever is logged in with it logs in anew."
            case "close":
                return f"{accounts.close(name, by).name}: closed, and out of the pages at once."
            case _:
                raise UsageError("No page of this release asks for that. Load the page anew.")

    def _became(self) -> list[str]:
        """Return the newest changes of accounts."""
        newest = self._changes()[: -_MOST_CHANGES - 1 : -1]
        return [change_said(one, self._source.clock.now()) for one in newest]

    def _changes(self) -> list[AccountChange]:
        """Return what was changed of accounts, as the log has it; nothing where it cannot be read."""
        try:
            return account_changes(self._source.reading())
        except ShotlogError:
            return []

    def _changed(self, person: Person, now: str, new: str, again: str) -> str:
        """Change the password of who asks; return the token of a new log-in."""
        account = self._door.accounts.find(person.account)
        if account is None or new != again:
            raise UsageError("The new password was typed in two ways: type the same twice.")
        return self._door.change_password(account, now, new, *self._from())

    def _from(self) -> tuple[str, Browser]:
        """Return from which address a request comes, and by which browser."""
        return flask.request.remote_addr or "", self._door.browser(flask.request.cookies.get(self._browser, ""))

    def _tell(self) -> None:
        """Tell the log what became of accounts; where it cannot be written it is told with the next change."""
        if self._source.settings.is_centre:
            return  # what it holds are the logs of others
        try:
            with self._source.writing() as log:
                self._door.accounts.tell(lambda changes: append_account_changes(log, changes))
        except ShotlogError as error:
            logger.warning("the log is told of a change of an account with the next one: %s", error)

    def _note(self, error: NotLetIn) -> None:
        who = error.known or "a name that nobody has"
        what = "a log-in that has to wait" if error.wait_s else "a log-in by a wrong name or password"
        self._refusing.note(f"{what} ({who})", f"from {flask.request.remote_addr}")

    def _form(self, said: str, name: str = "", back: str = "", status: int = 200) -> flask.Response:
        plain = "" if flask.request.is_secure else why_plain(self._source.settings)
        return _page(log_in_page(self._token(), said=said, name=name, back=back, plain=plain), status)

    def _token(self) -> tuple[str, str]:
        """Return name and value of the field that shows that a form of ours was sent."""
        return FIELD, self._server.extensions[TOKENS].token()

    def _once_more(self, response: flask.Response) -> flask.Response:
        """Show the form again where the one that was sent is older than these pages."""
        if flask.request.path == LOG_IN and response.headers.get("X-Token") == "new":
            return self._form("The pages were started anew: type it once more.")
        return response


def led_to(address: str, status: int = 303) -> flask.Response:
    """Return the answer that leads a browser to another address of these pages."""
    answer = flask.Response("", status)
    answer.headers["Location"] = address
    return answer


def _page(text: str, status: int = 200) -> flask.Response:
    return flask.Response(text, status, mimetype="text/html")
