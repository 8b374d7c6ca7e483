"""``shotlog acknowledge``: enter that somebody has seen what people are told of; no more messages come of it."""

import argparse
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

from shotlog.cli.opening import INITIALS, Subparsers, add_command, add_initials, entering, opened
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.settings import Settings
from shotlog.settings.messages import ABOUT
from shotlog.wording.getting_out import told_in_short
from shotlog.wording.messages import short_of
from shotlog.wording.times import clock_time

if TYPE_CHECKING:
    from shotlog.store.asked.told import SpellNow
    from shotlog.store.log.log import Log

__all__ = ["add"]

_ABOUT = tuple(one for one in ABOUT if one != "back")


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = (
        "enter that somebody has seen what people are told of; it stops the messages, and nothing at the press. "
        "Without PRESS, --about and --initials it only lists what people are told of now"
    )
    parser = add_command(subparsers, "acknowledge", text, _run)
    parser.add_argument("press", metavar="PRESS", nargs="?", help="only what is told of this press")
    parser.add_argument("--about", metavar="WHAT", choices=_ABOUT, help=" ".join(_ABOUT))
    add_initials(parser, "of who has seen it")
    # what the environment says enters nothing by itself: who only wants to look has typed nothing
    parser.set_defaults(initials=None)


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.asked.told import acknowledge
    from shotlog.store.parts.dispositions import refuse_nameless

    if arguments.press is None and arguments.about is None and arguments.initials is None:
        with opened(arguments.config) as (settings, log):
            _list(_told_now(log, settings, arguments))
        return 0
    if arguments.initials is None:
        arguments.initials = " ".join(os.environ.get(INITIALS, "").split())
    with entering(arguments) as (settings, log):
        now = _told_now(log, settings, arguments)
        new = [one for one in now if one.seen is None]
        if now and not new:
            print("it was seen before: no message comes of it any more")
            return 0
        refuse_nameless("messages are stopped", arguments.initials)
        numbers = acknowledge(log, new, SystemClock().now(), arguments.initials)
    for one, number in zip(new, numbers, strict=True):
        print(f"{short_of(one.said)}: seen, no more messages of it (acknowledgement {number})")
    return 0


def _told_now(log: "Log", settings: Settings, arguments: argparse.Namespace) -> "list[SpellNow]":
    """Return what people are told of now, as far as it is asked for."""
    from shotlog.store.asked.told import spells_now

    if settings.messages is None:
        raise UsageError(f"{settings.file}: there is no table [messages], and nobody is told of anything")
    named = [one.name for one in settings.presses]
    if arguments.press is not None:
        named = [settings.press(arguments.press).name]
    return [
        one
        for one in spells_now(log, named, settings.messages.site)
        if arguments.about in (None, one.about) and (arguments.press is None or one.press is not None)
    ]


def _list(told: "Sequence[SpellNow]") -> None:
    for one in told:
        seen = None if one.seen is None else (one.seen.who.initials, clock_time(one.seen.time))
        print(told_in_short(one.said, clock_time(one.since), seen))
    if not told:
        print("people are told of nothing now")
    elif any(one.seen is None for one in told):
        print(
            "nothing was entered; whoever has seen it: shotlog acknowledge CONFIG [PRESS] [--about WHAT] --initials XY"
        )
