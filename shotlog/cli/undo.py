"""``shotlog undo``: take one entry back; it stays on record, out of force. ``--again`` enters it once more."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest
from shotlog.clock import SystemClock
from shotlog.entries import UNDO_KINDS
from shotlog.errors import UsageError
from shotlog.wording.entries import made_said
from shotlog.wording.waiting import what_said

__all__ = ["add"]

WAITING = "waiting"
"""The kind of what was entered at a centre and waits there for its edge."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "undo", "take one entry back; it stays on record, out of force", _run)
    parser.add_argument("kind", metavar="KIND", choices=(*UNDO_KINDS, WAITING), help=" ".join(UNDO_KINDS))
    parser.add_argument("number", metavar="NUMBER", type=int, help="number of the entry, as `shotlog entries` lists it")
    parser.add_argument("--reason", default="", metavar="TEXT", help="why it is taken back; needed but with --again")
    parser.add_argument("--again", action="store_true", help="it was taken back: enter the same once more")
    add_initials(parser, "of who takes it back")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.asked.entries_made import made_entry
    from shotlog.store.undo import UNDO, enter_again, take_back

    kind, number, now = arguments.kind, arguments.number, SystemClock().now()
    if kind == WAITING:
        return _withdraw(arguments)
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
        edge = log.edge
    done = "entered again" if arguments.again else f"taken back ({arguments.reason})"
    done = f"{done}; waits for {edge}" if edge else done
    print(f"{kind} {number}: {made_said(entry)}: {done}")
    return 0


def _withdraw(arguments: argparse.Namespace) -> int:
    """Take back what waits at a centre."""
    from shotlog.store.centre.entering import withdraw_entry

    with entering(arguments) as (settings, log):
        if not settings.edge or log.signature is None:
            raise UsageError(f"{WAITING}: nothing waits here, allowed where the log is an edge's at a centre")
        entry = withdraw_entry(log, arguments.number, log.signature, arguments.reason)
    print(f"{WAITING} {arguments.number}: {what_said(entry.said)}: taken back ({arguments.reason})")
    return 0
