"""``shotlog dashboard``: only the pages, for looking at a log while nothing is running."""

import argparse
import subprocess
import sys

from shotlog.cli.opening import Subparsers, add_command
from shotlog.settings import load

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "dashboard", "serve the pages only", _run)
    parser.add_argument("--host", metavar="H", help="address to serve on (default: as configured)")
    parser.add_argument("--port", type=int, metavar="N", help="port to serve on (default: as configured)")


def _run(arguments: argparse.Namespace) -> int:
    load(arguments.config)
    extra = [word for name in ("host", "port") if getattr(arguments, name) is not None
             for word in (f"--{name}", str(getattr(arguments, name)))]  # fmt: skip
    return subprocess.run([sys.executable, "-m", "dashboard", str(arguments.config), *extra], check=False).returncode
