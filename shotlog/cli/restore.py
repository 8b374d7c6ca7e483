"""``shotlog restore``: a log put back from a backup, over nothing or with what stood there put aside."""

import argparse
from pathlib import Path

from shotlog.cli.opening import Subparsers, add_command
from shotlog.cli.progress import Progress
from shotlog.clock import SystemClock
from shotlog.wording.numbers import some
from shotlog.wording.times import clock_time

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers, "restore", "put the log back from a backup, and the configuration too where there is none", _run
    )
    parser.add_argument("backup", metavar="FILE", type=Path, help="a file that `shotlog backup` wrote")
    parser.add_argument("--force", action="store_true", help="put the log that is there aside, and this in its place")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.keeping.restore import restore

    done = restore(arguments.config, arguments.backup, arguments.force, SystemClock().now(), Progress())
    if done.configuration:
        print(f"{arguments.config}: the configuration, as it was")
    if done.aside is not None:
        print(f"{done.aside}: what stood there, put aside; nothing of it was deleted")
    if done.n_waiting:
        print(f"{some(done.n_waiting, 'shot')} that waited in the journal wait again: `shotlog run` brings them in")
    print(
        f"{done.log}: {some(done.backup.head.links, 'transaction')}, {some(done.backup.n_pictures, 'picture')}, as of "
        f"{clock_time(done.backup.made)}; it verifies. What was logged after that is not in it."
    )
    return 0
