"""``shotlog note``: enter what a person did or saw at the press."""

import argparse

from shotlog.cli.given import shot_given
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest
from shotlog.clock import SystemClock
from shotlog.entries import KINDS
from shotlog.errors import UsageError
from shotlog.records import HALVES
from shotlog.wording.entries import at_the_shot, checked_said, half_named
from shotlog.wording.waiting import numbered

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "note", "enter what a person did or saw at the press", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("kind", metavar="KIND", choices=tuple(KINDS), help=" ".join(KINDS))
    parser.add_argument("text", metavar="TEXT")
    seen = " or ".join(name for name, kind in KINDS.items() if kind.seen)
    parser.add_argument("--at-shot", metavar="N", help=f"default: the next shot; for a {seen}, the last shot")
    parser.add_argument("--half", default="", choices=HALVES, help="the half that it is about")
    parser.add_argument("--yes", action="store_true", help="change the lot or set-up of parts checked already as well")
    add_initials(parser, "of who noted it")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import entries
    from shotlog.store.parts.checked import checked_parts

    with entering(arguments) as (settings, log):
        settings.press(arguments.press)
        at_shot = shot_given(log, arguments.press, arguments.at_shot)
        n = checked_parts(log, arguments.press, arguments.kind, arguments.text, at_shot)
        if n and not arguments.yes:
            raise UsageError(f"{checked_said(KINDS[arguments.kind].word, n)}; --yes to go on")
        made = entries.note(
            log,
            arguments.press,
            arguments.kind,
            arguments.text,
            SystemClock().now(),
            at_shot=at_shot,
            half=arguments.half,
            initials=arguments.initials,
        )
        judge_rest(log, settings, arguments.press)
        number = numbered("event", [made.entry_id], log.edge)
    event = made.record
    about = f", {half_named(event.half)}" if event.half else ""
    print(f"{event.press}: {event.kind} {at_the_shot(event.at_shot)}{about}: {event.text} ({number})")
    return 0
