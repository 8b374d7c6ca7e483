"""``shotlog mount``: enter that an insert was put in a press. Works while ``shotlog run`` is running."""

import argparse

from shotlog.cli.given import shot_given
from shotlog.cli.opening import Subparsers, add_command, judge_rest, opened
from shotlog.clock import SystemClock
from shotlog.records import HALVES
from shotlog.wording.entries import since_shot

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
    parser.add_argument("--initials", default="", metavar="I", help="of who put it in")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import entries

    with opened(arguments.config, read_only=False) as (settings, log):
        settings.press(arguments.press)
        mounting = entries.mount(
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
        ).record
        n = judge_rest(log, settings, arguments.press)
    what = "a new piece each shot, beginning with " if mounting.single_use else ""
    print(
        f"{mounting.press}: {what}{mounting.insert.serial} in {mounting.half} {since_shot(mounting.at_shot)}{_again(n)}"
    )
    return 0


def _again(n: int) -> str:
    return f"; {n} shots judged again" if n else ""
