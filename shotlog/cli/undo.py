"""``shotlog undo``: take one entry back; it stays on record, out of force. ``--again`` enters it once more."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest
from shotlog.clock import SystemClock
from shotlog.entries import UNDO_KINDS
from shotlog.errors import UsageError
from shotlog.wording.entries import made_said

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "undo", "take one entry back; it stays on record, out of force", _run)
    parser.add_argument("kind", metavar="KIND", choices=UNDO_KINDS, help=" ".join(UNDO_KINDS))
    parser.add_argument("number", metavar="NUMBER", type=int, help="number of the entry, as `shotlog entries` lists it")
    parser.add_argument("--reason", default="", metavar="TEXT", help="why it is taken back; needed but with --again")
    parser.add_argument("--again", action="store_true", help="it was taken back: enter the same once more")
    add_initials(parser, "of who takes it back")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.asked.entries_made import made_entry
    from shotlog.store.undo import UNDO, enter_again, take_back

    kind, number, now = arguments.kind, arguments.number, SystemClock().now()
    with entering(arguments) as (settings, log):
        entry = made_entry(log, kind, number)
        if entry is None:
            raise UsageError(f"{kind} {number}: there is none; `shotlog entries` lists what was entered")
        if arguments.again:
            number, _ = enter_again(log, UNDO[kind].name, number, now, arguments.initials)
        else:
            take_back(log, UNDO[kind].name, number, now, arguments.reason, arguments.initials)
        for press in settings.presses:
            judge_rest(log, settings, press.name)
    done = "entered again" if arguments.again else f"taken back ({arguments.reason})"
    print(f"{kind} {number}: {made_said(entry)}: {done}")
    return 0
