"""Where a request comes from, as the browser says it.

A browser lets any page send requests to any address, and says of each from which page it was sent. A page of another
origin may link here and nothing else: what it would embed or fetch is refused, and all that writes.
"""

from collections.abc import Mapping

__all__ = ["WRITES", "foreign"]

WRITES = frozenset({"POST", "PUT", "PATCH", "DELETE"})
"""Methods that may write; whatever is none of these reads."""

_OURS = frozenset({"same-origin", "none"})
"""Sent by a page of ours, or by a person: typed, from a bookmark."""
_NOWHERE, _ANOTHER = "a page that does not say of where it is", "a page of another site"


def foreign(method: str, headers: Mapping[str, str], ours: str) -> str:
    """Return from where a request comes that is refused for it, empty where it is not.

    Parameters
    ----------
    ours
        The origin that the pages have for the browser, ``http://127.0.0.1:8050``.
    """
    origin, site = headers.get("Origin"), headers.get("Sec-Fetch-Site")
    if method in WRITES:
        if origin is not None:
            return "" if origin.lower() == ours.lower() else _NOWHERE if origin in ("", "null") else origin
        return "" if site is None or site in _OURS else _ANOTHER
    followed = headers.get("Sec-Fetch-Mode") == "navigate" and headers.get("Sec-Fetch-Dest") in (None, "document")
    return "" if site is None or site in _OURS or followed else _ANOTHER
