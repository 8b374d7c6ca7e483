"""A client of the pages that does what a browser does with the token against foreign pages."""

from typing import Any

from flask.testing import FlaskClient

__all__ = ["PageClient"]

_WRITES = ("POST", "PUT", "PATCH", "DELETE")


class PageClient(FlaskClient):
    """Loads a page before it writes, and says the token that this left in a cookie beside each request that writes.

    `bare`: it says nothing, as a foreign page.
    """

    bare = False

    def open(self, *asked: Any, **how: Any) -> Any:
        if self.bare or str(how.get("method", "GET")).upper() not in _WRITES:
            return super().open(*asked, **how)
        if not self._token():
            super().open("/help").close()
        return super().open(*asked, **{**how, "headers": {**self._token(), **dict(how.get("headers") or {})}})

    def _token(self) -> dict[str, str]:
        name = next((name for _, _, name in self._cookies if "shotlog-token-" in name), "")
        cookie = self.get_cookie(name)
        return {} if cookie is None else {"X-CSRFToken": cookie.value}
