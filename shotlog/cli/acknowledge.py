"""``shotlog acknowledge``: enter that somebody has seen what people are told of; no more messages come of it."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, add_initials, entering
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.settings.messages import ABOUT
from shotlog.wording.messages import short_of

__all__ = ["add"]

_ABOUT = tuple(one for one in ABOUT if one != "back")


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "enter that somebody has seen what people are told of; it stops the messages, and nothing at the press"
    parser = add_command(subparsers, "acknowledge", text, _run)
    parser.add_argument("press", metavar="PRESS", nargs="?", help="only what is told of this press")
    parser.add_argument("--about", metavar="WHAT", choices=_ABOUT, help=" ".join(_ABOUT))
    add_initials(parser, "of who has seen it")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.asked.told import acknowledge, spells_now

    with entering(arguments) as (settings, log):
        if settings.messages is None:
            raise UsageError(f"{settings.file}: there is no table [messages], and nobody is told of anything")
        named = [one.name for one in settings.presses]
        if arguments.press is not None:
            named = [settings.press(arguments.press).name]
        now = [
            one
            for one in spells_now(log, named, settings.messages.site)
            if arguments.about in (None, one.about) and (arguments.press is None or one.press is not None)
        ]
        new = [one for one in now if one.seen is None]
        if now and not new:
            print("it was seen before: no message comes of it any more")
            return 0
        numbers = acknowledge(log, new, SystemClock().now(), arguments.initials)
    for one, number in zip(new, numbers, strict=True):
        print(f"{short_of(one.said)}: seen, no more messages of it (acknowledgement {number})")
    return 0
