"""What is said where pages that others reach are served without TLS: in the log, and to whoever is about to log in."""

from shotlog.access.reach import is_loopback
from shotlog.settings import Settings

__all__ = ["why_plain"]


def why_plain(settings: Settings) -> str:
    """Return a sentence, without its full stop, that says so; empty where they are not.

    A proxy in front is taken at its word: what lies before it is its own. One on this machine needs no other address
    than loopback, and at any other it can be gone round.
    """
    walls = settings.walls
    if is_loopback(settings.dashboard_host) or walls.certificate is not None:
        return ""
    if walls.proxy and is_loopback(walls.proxy):
        return (
            "past the proxy on this machine the pages are open to the network without TLS, where others can read "
            'passwords and change entries; set host = "127.0.0.1" under [dashboard]'
        )
    if walls.proxy:
        return ""
    return (
        "passwords and entries cross the network so that others on it can read and change them, for these pages are "
        "served without TLS; set certificate and key under [dashboard], or put a proxy in front"
    )
