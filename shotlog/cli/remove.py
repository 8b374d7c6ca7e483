"""``shotlog remove``: enter that an insert was taken out of a press, and why."""

import argparse

from shotlog.cli.given import shot_given
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest
from shotlog.clock import SystemClock

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "remove", "enter that an insert was taken out, and why", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("serial", metavar="SERIAL")
    parser.add_argument("--at-shot", metavar="N", help="first shot made without it (default: the next shot)")
    parser.add_argument("--reason", required=True, metavar="TEXT", help="why it was taken out")
    add_initials(parser, "of who took it out")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import entries
    from shotlog.wording.entries import since_shot
    from shotlog.wording.verdicts import understood

    with entering(arguments) as (settings, log):
        settings.press(arguments.press)
        made = entries.remove(
            log,
            arguments.press,
            arguments.serial,
            SystemClock().now(),
            reason=arguments.reason,
            at_shot=shot_given(log, arguments.press, arguments.at_shot),
            initials=arguments.initials,
        )
        judge_rest(log, settings, arguments.press)
    removal = made.record
    since = since_shot(removal.at_shot)
    print(f"{removal.press}: {removal.serial} out {since}: {removal.reason} (removal {made.entry_id})")
    print(f"  {understood(removal.reason)}")
    return 0
