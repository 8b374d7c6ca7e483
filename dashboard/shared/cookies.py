"""The names of the cookies that the pages leave in a browser.

A browser keeps one set of cookies for all ports of a machine. Where one machine serves the pages of several logs, each
has its own: the name holds a digest of where the configuration lies, which stays the same over a restart.
"""

from hashlib import sha256

from shotlog.settings import Settings

__all__ = ["browser_cookie", "session_cookie", "token_cookie"]


def token_cookie(settings: Settings) -> str:
    """Return the name of the cookie that holds the token against foreign pages."""
    return _named("token", settings)


def session_cookie(settings: Settings) -> str:
    """Return the name of the cookie that a log-in is known by."""
    return _named("session", settings)


def browser_cookie(settings: Settings) -> str:
    """Return the name of the cookie that a browser is known again by, in which somebody was logged in before."""
    return _named("browser", settings)


def _named(what: str, settings: Settings) -> str:
    """Return a name; the prefix, where the pages are served over TLS, keeps other machines from setting the cookie."""
    prefix = "__Host-" if settings.walls.certificate is not None else ""
    return f"{prefix}shotlog-{what}-{sha256(str(settings.file.resolve()).encode()).hexdigest()[:8]}"
