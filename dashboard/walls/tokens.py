"""The token that shows that a page of ours sent what writes, and not a foreign one (CSRF).

The server leaves it in a cookie that goes to our own pages alone, and they say it again beside each request that writes
(`assets/token.js`; a form has it in a field). A foreign page can make a browser send the cookie at most, and never read
it. The token is signed with a key of this process and for one log-in: one that was planted, or is of another log-in,
counts for nothing. After a restart pages are given a new one and send again, see `assets/token.js`.
"""

import secrets
from hmac import compare_digest

import flask
from itsdangerous import BadSignature, Signer

__all__ = ["FIELD", "HEADER", "Tokens"]

HEADER = "X-CSRFToken"
FIELD = "csrf_token"
"""Where the token is said again: in a header, or in a field of a form."""

_BYTES = 18


class Tokens:
    """Gives out tokens and looks at those that come back.

    Parameters
    ----------
    cookie
        The name of the cookie, of this log alone: browsers do not tell the ports of one machine apart.
    session
        The name of the cookie that a log-in is known by.
    """

    def __init__(self, cookie: str, session: str) -> None:
        self.cookie, self._session = cookie, session
        self._key = secrets.token_bytes(32)

    def said_again(self) -> bool:
        """Say whether the request that is answered says the token that it carries, and that is one of ours."""
        carried = flask.request.cookies.get(self.cookie, "")
        said = flask.request.headers.get(HEADER) or flask.request.form.get(FIELD, "")
        return self._is_ours(carried) and compare_digest(carried.encode(), said.encode())

    def token(self) -> str:
        """Return the token of whoever is answered: the one that the request carries, else a new one."""
        if "walls_token" not in flask.g:
            carried = flask.request.cookies.get(self.cookie, "")
            flask.g.walls_token = carried if self._is_ours(carried) else self._made()
        token: str = flask.g.walls_token
        return token

    def leave(self, response: flask.Response) -> None:
        """Put the token into the cookie, unless it is there."""
        if self.token() != flask.request.cookies.get(self.cookie):
            secure = flask.request.is_secure
            response.set_cookie(self.cookie, self.token(), secure=secure, samesite="Strict", path="/")

    def _signer(self) -> Signer:
        return Signer(self._key, salt=f"{FIELD} {flask.request.cookies.get(self._session, '')}".encode())

    def _made(self) -> str:
        return self._signer().sign(secrets.token_urlsafe(_BYTES)).decode()

    def _is_ours(self, token: str) -> bool:
        try:
            self._signer().unsign(token)
        except BadSignature:
            return False
        return True
