"""Serving the screens with a production server, until told to stop."""

import signal
import threading
from collections.abc import Callable, Iterable
from contextlib import suppress
from types import FrameType

from waitress.server import create_server

from dashboard.app import build
from dashboard.shared.source import Source
from shotlog.errors import StoreError, UsageError
from shotlog.settings import Settings

__all__ = ["first_looks", "serve"]

_THREADS = 8


def serve(settings: Settings, host: str, port: int, ready: Callable[[str], None]) -> None:
    """Serve until Ctrl-C or SIGTERM; `ready` is told the address once it answers (port 0: the one really bound).

    Raises
    ------
    UsageError
        The address cannot be listened on.
    """
    source = Source(settings)
    looks: list[Callable[[], object]] = []
    app = build(source, looks)
    try:
        server = create_server(app.server, host=host, port=port, threads=_THREADS)
    except OSError as error:
        raise UsageError(f"dashboard: cannot listen on {host} port {port}: {error.strerror or error}") from error
    bound = getattr(server, "effective_port", None) or server.effective_listen[0][1]
    signal.signal(signal.SIGTERM, _stop)
    first_look = threading.Thread(target=first_looks, args=(looks,), daemon=True)
    first_look.start()
    try:
        ready(f"http://{_named(host)}:{bound}/")
        server.run()
    finally:
        server.close()
        first_look.join()
        source.close()


def first_looks(looks: Iterable[Callable[[], object]]) -> None:
    """Read what pages want read before somebody asks."""
    with suppress(StoreError):
        for look in looks:
            look()


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def _named(host: str) -> str:
    return "127.0.0.1" if host in ("", "0.0.0.0", "::") else f"[{host}]" if ":" in host else host
