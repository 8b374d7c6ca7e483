"""``python -m dashboard CONFIG [--host H] [--port P] [--ready]``: serve the screens of a configuration."""

from shotlog.own_python import leave_folder

leave_folder()  # before anything else is imported

import argparse
import json
import os
import re
import sys
from collections.abc import Callable

from dashboard.server import serve
from dashboard.shared.apart import end_with
from shotlog.errors import SettingsError, ShotlogError
from shotlog.settings import load
from shotlog.talking import talking

__all__ = ["main"]


def main(arguments: list[str] | None = None) -> int:
    """Serve until stopped; return 0, 1 when the address cannot be had, 2 when the configuration is wrong."""
    parser = argparse.ArgumentParser(prog="python -m dashboard", description="serve the screens of a configuration")
    parser.add_argument("config", metavar="CONFIG", help="configuration file")
    parser.add_argument("--host", help="address to listen on (default: from CONFIG)")
    parser.add_argument(
        "--port", type=_port, metavar="N", help="port to listen on, 0 for any free one (default: from CONFIG)"
    )
    parser.add_argument("--ready", action="store_true", help='write {"url": ...} to standard output once it answers')
    parser.add_argument("--attached", action="store_true", help="end when standard input does: with who started it")
    given = parser.parse_args(arguments)

    def ready(url: str) -> None:
        sys.stderr.write(f"dashboard: {url}\n")
        sys.stderr.flush()
        if given.ready:
            sys.stdout.write(json.dumps({"url": url}) + "\n")
            sys.stdout.flush()

    if given.attached:
        end_with(sys.stdin.fileno(), lambda: os._exit(0))
    with talking():
        return _served(given, ready)


def _port(text: str) -> int:
    if not re.fullmatch("[0-9]{1,5}", text) or int(text) > 65535:
        raise argparse.ArgumentTypeError(f"given {text[:20]!r}, allowed: 0 to 65535")
    return int(text)


def _served(given: argparse.Namespace, ready: Callable[[str], None]) -> int:
    try:
        settings = load(given.config)
        host = settings.dashboard_host if given.host is None else given.host
        port = settings.dashboard_port if given.port is None else given.port
        serve(settings, host, port, ready, strict=given.port is not None)
    except SettingsError as error:
        sys.stderr.write(f"{error}\n")
        return 2
    except ShotlogError as error:
        sys.stderr.write(f"{error}\n")
        return 1
    except KeyboardInterrupt:
        return 0
    return 0


if __name__ == "__main__":
    sys.exit(main())
