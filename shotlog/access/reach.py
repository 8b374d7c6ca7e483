"""From where the pages can be reached, and what follows from it: who has to log in, and whether they are served at all.

It is told by the address that they are bound to, never by whoever asks: behind a proxy everybody asks from here.
"""

import ipaddress
import shlex
from pathlib import Path

from shotlog.access.accounts import Accounts
from shotlog.clock import SystemClock
from shotlog.errors import AccountsUnreadable
from shotlog.settings import Settings

__all__ = ["asks_login", "first_account", "is_loopback", "pages_address", "why_no_pages"]


def is_loopback(host: str) -> bool:
    """Say whether what is bound to an address is reached from this machine alone.

    Examples
    --------
    >>> [is_loopback(host) for host in ("127.0.0.1", "localhost", "::1", "", "0.0.0.0", "press-pc")]
    [True, True, True, False, False, False]
    """
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return host.casefold() == "localhost"


def pages_address(host: str, port: int, sealed: bool) -> str:
    """Return the address by which this machine itself opens pages that are bound to one; `sealed`: over TLS.

    Examples
    --------
    >>> pages_address("0.0.0.0", 8050, False), pages_address("::1", 8050, True)
    ('http://127.0.0.1:8050/', 'https://[::1]:8050/')
    """
    everywhere = host in ("", "0.0.0.0", "::")  # noqa: S104  (names what was bound to; binds nothing)
    named = "127.0.0.1" if everywhere else f"[{host}]" if ":" in host else host
    return f"{'https' if sealed else 'http'}://{named}:{port}/"


def asks_login(settings: Settings) -> bool:
    """Say whether whoever opens the pages has to log in: where others can, also by a proxy that stands in front."""
    return settings.login.wanted or bool(settings.walls.proxy) or not is_loopback(settings.dashboard_host)


def first_account(config: Path) -> tuple[str, ...]:
    """Return the words, after that of the program, of the command that makes the first account."""
    return ("account", str(config), "add", "NAME", "--role", "admin", "--initials", "I")


def why_no_pages(settings: Settings) -> str:
    """Return why no pages are served, and what to do; empty where they are."""
    if not asks_login(settings):
        return ""
    try:
        if Accounts(settings.accounts, SystemClock()).is_any():
            return ""
    except AccountsUnreadable as error:
        return f"NO PAGES: {error}"
    why = (
        f"they would be open to other machines at {settings.dashboard_host!r}"
        if not is_loopback(settings.dashboard_host)
        else "everybody is to log in"
    )
    command = shlex.join(("shotlog", *first_account(settings.file)))
    return f"NO PAGES: {why}, and nobody has an account; make one with: {command}"
