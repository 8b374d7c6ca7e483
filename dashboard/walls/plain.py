"""What is said where pages that others reach are served without TLS: in the log, and to whoever is about to log in."""

from shotlog.access.reach import is_loopback
from shotlog.settings import Settings

__all__ = ["why_plain"]


def why_plain(settings: Settings) -> str:
    """Return a sentence, without its full stop, that says so; empty where they are not.

    A proxy in front is taken at its word: what lies before it is its own.
    """
    walls = settings.walls
    if is_loopback(settings.dashboard_host) or walls.certificate is not None or walls.proxy:
        return ""
    return (
        "passwords and entries cross the network so that others on it can read and change them, for these pages are "
        "served without TLS; set certificate and key under [dashboard], or put a proxy in front"
    )
