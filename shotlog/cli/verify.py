"""``shotlog verify``: recompute the hash chain over the log."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, opened
from shotlog.wording.numbers import some

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    add_command(
        subparsers, "verify", "check that nothing in the log, and no picture, was changed after it was written", _run
    )


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.parts.pictures import check_pictures, picture_folder

    with opened(arguments.config) as (settings, log):
        n, last = log.verify()
        n_files = check_pictures(log, picture_folder(settings.store, settings.file))
    if n_files:
        print(f"pictures: {some(n_files, 'file')}, each there and as it was kept")
    print(f"log {settings.store_shown}: {some(n, 'transaction')}, nothing changed later; last digest {last}")
    return 0
