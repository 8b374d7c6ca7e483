"""``shotlog dashboard``: only the pages, for looking at a log while nothing is running."""

import argparse
import signal
from types import FrameType

from shotlog.cli.opening import Subparsers, add_command, read_settings
from shotlog.cli.pages import pages_process
from shotlog.errors import UsageError

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "dashboard", "serve the pages only", _run)
    parser.add_argument("--host", metavar="H", help="address to serve on (default: as configured)")
    parser.add_argument("--port", type=int, metavar="N", help="port to serve on (default: as configured)")


def _run(arguments: argparse.Namespace) -> int:
    read_settings(arguments.config)
    if arguments.port is not None and not 0 <= arguments.port <= 65535:
        raise UsageError(f"--port: given {arguments.port}, allowed: 0 to 65535")
    extra = [word for name in ("host", "port") if getattr(arguments, name) is not None
             for word in (f"--{name}", str(getattr(arguments, name)))]  # fmt: skip
    with pages_process(arguments.config, *extra) as serving:

        def pass_on(_number: int, _frame: FrameType | None) -> None:
            serving.terminate()

        signal.signal(signal.SIGTERM, pass_on)
        while True:
            try:
                return serving.wait()
            except KeyboardInterrupt:  # a console tells both of Ctrl-C: the server ends, and this waits for it
                continue
