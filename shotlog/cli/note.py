"""``shotlog note``: enter what a person did or saw at the press."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, judge_again, opened
from shotlog.clock import SystemClock
from shotlog.records import EVENT_KINDS

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "note", "enter a lot change, set-up change, pause, purge, finding or note", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("kind", metavar="KIND", choices=EVENT_KINDS, help=" ".join(EVENT_KINDS))
    parser.add_argument("text", metavar="TEXT")
    parser.add_argument(
        "--at-shot", type=int, metavar="N", help="default: the next shot; for a finding or note, the last shot"
    )


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import entries

    with opened(arguments.config, read_only=False) as (settings, log):
        settings.press(arguments.press)
        event = entries.note(
            log, arguments.press, arguments.kind, arguments.text, SystemClock().now(), at_shot=arguments.at_shot
        )
        judge_again(log, settings, arguments.press)
    print(f"{event.press}: {event.kind} at shot {event.at_shot}: {event.text}")
    return 0
