"""Serving the screens with a production server, until told to stop."""

import errno
import logging
import signal
import ssl
import sys
import threading
import urllib.request
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import replace
from types import FrameType
from typing import Any

from dashboard.app import build
from dashboard.centre.app import build_centre, build_edge
from dashboard.shared.source import Source
from dashboard.walls import connections
from dashboard.walls.plain import why_plain
from dashboard.walls.sealed import end_of, sealing, term
from shotlog.access.reach import pages_address, why_no_pages
from shotlog.clock import SystemClock
from shotlog.errors import StoreError, UsageError
from shotlog.settings import Settings, WallSettings

__all__ = ["first_looks", "listening", "serve"]

_DAY_S = 86_400.0
_OTHERS = 9
"""Ports above the one configured that are tried where that is taken."""

logger = logging.getLogger(__name__)


def serve(settings: Settings, host: str, port: int, ready: Callable[[str], None], strict: bool = True) -> None:
    """Serve until Ctrl-C or SIGTERM; `ready` is told the address once it answers (port 0: the one really bound).

    Where the port is taken the next free one is, which is said; not where it is `strict`.

    Raises
    ------
    UsageError
        The address cannot be listened on, or whoever opens the pages has to log in and nobody has an account.
    """
    settings = replace(settings, dashboard_host=host)
    if why := why_no_pages(settings):
        raise UsageError(f"dashboard: {why}")
    walls = settings.walls
    tls = None if walls.certificate is None or walls.key is None else sealing(walls.certificate, walls.key)
    ends = _ending(walls, tls)
    for line in filter(None, (why_plain(settings), ends())):
        sys.stderr.write(f"WARNING: {line}.\n")
    looks: list[Callable[[], object]] = []
    pages, close = _pages(settings, looks)
    server = listening(pages, host, port, 0 if strict or port == 0 else _OTHERS, walls, tls)
    bound = int(getattr(server, "effective_port", None) or server.effective_listen[0][1])
    signal.signal(signal.SIGTERM, _stop)
    first_look = threading.Thread(target=first_looks, args=(looks,), daemon=True)
    first_look.start()
    closed = threading.Event()
    threading.Thread(target=_tell_daily, args=(ends, closed.wait), daemon=True).start()
    if port not in (0, bound):
        sys.stderr.write(
            f"WARNING: port {port} on {host} is taken by {_who(host, port)}; the pages are on port {bound} instead. "
            "To have them where you want them, end that program or set another port under [dashboard].\n"
        )
    try:
        ready(pages_address(host, bound, tls is not None))
        server.run()
    finally:
        closed.set()
        server.close()
        first_look.join()
        close()


def _pages(settings: Settings, looks: list[Callable[[], object]]) -> tuple[Any, Callable[[], None]]:
    """Return the application of a configuration, of a log or of a centre, and what closes it."""
    if settings.is_centre:
        centre = build_edge(settings, looks) if settings.edge else build_centre(settings, looks)
        return centre.server, centre.close
    source = Source(settings)
    return build(source, looks).server, source.close


def listening(
    app: Any, host: str, port: int, others: int, walls: WallSettings, tls: ssl.SSLContext | None = None
) -> Any:
    """Return a server that listens on a port, or where that is taken on one of as many `others` above it."""
    for one in range(port, min(port + others, 65535) + 1):
        try:
            return connections.server(app, host, one, walls, tls)
        except ValueError as error:  # of the library, where a host has no address
            raise UsageError(
                f"dashboard: NO PAGES, cannot listen on {host!r}: this machine has no such name or address"
            ) from error
        except OSError as error:
            if error.errno != errno.EADDRINUSE or one in (port + others, 65535):
                tried = f"port {port}" if one == port else f"any of the ports {port} to {one}"
                raise UsageError(
                    f"dashboard: NO PAGES, cannot listen on {host} {tried}: {error.strerror or error}. Logging does "
                    "without them; serve them with: shotlog dashboard CONFIG --port N"
                ) from error
    raise AssertionError


def _ending(walls: WallSettings, tls: ssl.SSLContext | None) -> Callable[[], str]:
    """Return what tells whether the certificate that is served ends, whatever lies in its file meanwhile."""
    certificate = walls.certificate
    if tls is None or certificate is None:
        return str
    until = end_of(certificate, tls)
    return lambda: term(certificate, until, SystemClock().now().timestamp())


def _tell_daily(ends: Callable[[], str], closed: Callable[[float], bool]) -> None:
    """Tell the log each day that the certificate ends: a service runs for months."""
    while not closed(_DAY_S):
        if said := ends():
            logger.warning("%s", said)


def _who(host: str, port: int) -> str:
    """Say as well as can be told who holds a port: another shotlog names itself on its page."""
    there = pages_address(host, port, False)
    with suppress(OSError, ValueError), urllib.request.urlopen(there, timeout=2) as page:  # noqa: S310  (http, always)
        if b"<title>shotlog</title>" in page.read(4096):
            return "another shotlog"
    return "another program"


def first_looks(looks: Iterable[Callable[[], object]]) -> None:
    """Read what pages want read before somebody asks."""
    with suppress(StoreError):
        for look in looks:
            look()


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt
