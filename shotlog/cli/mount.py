"""``shotlog mount``: enter that an insert was put in a press. Works while ``shotlog run`` is running."""

import argparse

from shotlog.cli.given import shot_given
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.records import HALVES
from shotlog.wording.entries import series_asked, series_said, since_shot
from shotlog.wording.numbers import some

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers, "mount", "enter that an insert was mounted (it replaces the one in its half)", _run
    )
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("serial", metavar="SERIAL", help="serial of the insert")
    parser.add_argument("--half", choices=HALVES, help="default: where this insert was before, else moving")
    parser.add_argument("--at-shot", metavar="N", help="first shot made with it (default: the next shot)")
    parser.add_argument("--design", default="", metavar="D", help="design of the insert, with its revision")
    parser.add_argument("--print-batch", default="", metavar="B", help="print batch of the insert")
    parser.add_argument("--single-use", action="store_true", help="each shot takes the next serial after this one")
    parser.add_argument("--yes", action="store_true", help="the serial is that of a piece, though it ends like a name")
    parser.add_argument("--reason", default="", metavar="TEXT", help="why the insert that it replaces came out")
    add_initials(parser, "of who put it in")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import entries
    from shotlog.store.inserts.series import is_doubtful, next_pieces
    from shotlog.wording.verdicts import understood

    if arguments.single_use and not arguments.yes and is_doubtful(arguments.serial):
        raise UsageError(f"{series_asked(next_pieces(arguments.serial))}; --yes where they are, else `shotlog queue`")
    with entering(arguments) as (settings, log):
        settings.press(arguments.press)
        made = entries.mount(
            log,
            arguments.press,
            arguments.serial,
            SystemClock().now(),
            half=arguments.half,
            at_shot=shot_given(log, arguments.press, arguments.at_shot),
            design=arguments.design,
            print_batch=arguments.print_batch,
            single_use=arguments.single_use,
            initials=arguments.initials,
            reason=arguments.reason,
        )
        n = judge_rest(log, settings, arguments.press)
    mounting = made.record
    what = f"{series_said(next_pieces(arguments.serial))} " if mounting.single_use else f"{mounting.insert.serial} "
    where = f"{mounting.half} {since_shot(mounting.at_shot)}"
    print(f"{mounting.press}: {what}in {where} (mounting {made.entry_id}){_again(n)}")
    if arguments.reason:
        print(f"  {understood(arguments.reason)}")
    return 0


def _again(n: int) -> str:
    return f"; {some(n, 'shot')} judged again" if n else ""
