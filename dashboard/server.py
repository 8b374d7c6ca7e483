"""Serving the screens with a production server, until told to stop."""

import signal
import threading
from collections.abc import Callable
from contextlib import suppress
from types import FrameType

from waitress.server import create_server

from dashboard.app import build
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from dashboard.shift import ShiftReader
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
    reader, shifts = PressReader(source), ShiftReader(source)
    app = build(source, reader, shifts)
    try:
        server = create_server(app.server, host=host, port=port, threads=_THREADS)
    except OSError as error:
        raise UsageError(f"dashboard: cannot listen on {host} port {port}: {error.strerror or error}") from error
    bound = getattr(server, "effective_port", None) or server.effective_listen[0][1]
    signal.signal(signal.SIGTERM, _stop)
    first_look = threading.Thread(target=first_looks, args=(source, reader, shifts), daemon=True)
    first_look.start()
    try:
        ready(f"http://{_named(host)}:{bound}/")
        server.run()
    finally:
        server.close()
        first_look.join()
        source.close()


def first_looks(source: Source, reader: PressReader, shifts: ShiftReader) -> None:
    """Read what is kept before somebody asks for it: over a long log the first look takes longest."""
    with suppress(StoreError):
        reader.look(source.presses)
        shifts.timelines()


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def _named(host: str) -> str:
    return "127.0.0.1" if host in ("", "0.0.0.0", "::") else f"[{host}]" if ":" in host else host
