"""``shotlog note``: enter what a person did or saw at the press."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, judge_rest, opened
from shotlog.clock import SystemClock
from shotlog.entries import KINDS

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "note", "enter what a person did or saw at the press", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("kind", metavar="KIND", choices=tuple(KINDS), help=" ".join(KINDS))
    parser.add_argument("text", metavar="TEXT")
    seen = " or ".join(name for name, kind in KINDS.items() if kind.seen)
    parser.add_argument("--at-shot", type=int, metavar="N", help=f"default: the next shot; for a {seen}, the last shot")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import entries

    with opened(arguments.config, read_only=False) as (settings, log):
        settings.press(arguments.press)
        event = entries.note(
            log, arguments.press, arguments.kind, arguments.text, SystemClock().now(), at_shot=arguments.at_shot
        ).record
        judge_rest(log, settings, arguments.press)
    print(f"{event.press}: {event.kind} at shot {event.at_shot}: {event.text}")
    return 0
