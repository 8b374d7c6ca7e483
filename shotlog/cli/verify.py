"""``shotlog verify``: recompute the hash chain over the log."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, opened

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    add_command(subparsers, "verify", "check that nothing in the log was changed after it was written", _run)


def _run(arguments: argparse.Namespace) -> int:
    with opened(arguments.config) as (settings, log):
        n, last = log.verify()
    print(f"log {settings.store_shown}: {n} transactions, nothing changed later; last digest {last}")
    return 0
