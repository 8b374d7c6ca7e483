"""``shotlog entries``: what people entered, in force or taken back, with the numbers that ``undo`` takes."""

import argparse
from datetime import datetime
from typing import Any

from shotlog.answers.entered_there import entered_line
from shotlog.cli.opening import Subparsers, add_command, opened, print_json
from shotlog.cli.signing import who_document
from shotlog.cli.starting import start_document, step_document
from shotlog.cli.waiting import waiting_document
from shotlog.clock import SystemClock, iso_utc
from shotlog.wording.clock import clock_said, start_said
from shotlog.wording.entries import made_said
from shotlog.wording.numbers import some
from shotlog.wording.times import at_time
from shotlog.wording.who import by_whom

__all__ = ["add"]

_NEWEST = 200
"""Entries made at a centre that are listed, the newest."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "entries", "list what people entered, with the numbers that undo takes", _run)
    parser.add_argument("press", metavar="PRESS", nargs="?", help="default: all, with the baths and the inserts")
    parser.add_argument(
        "--starts",
        action="store_true",
        help="list the starts of the logger in place of entries, and the steps of the clock; with --json also the "
        "configuration of each, as it was then",
    )
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.asked.entries_made import entries_made
    from shotlog.store.centre.entered import entered_at_centre

    if arguments.starts:
        return _starts(arguments)
    with opened(arguments.config) as (settings, log):
        if arguments.press is not None:
            settings.press(arguments.press)
        found = entries_made(log, arguments.press)
        waiting = [
            one
            for one in entered_at_centre(log, _NEWEST)
            if arguments.press is None or any(said.press == arguments.press for said in one.said)
        ]
    if arguments.json:
        print_json([*map(_document, found), *map(waiting_document, waiting)])
        return 0
    now = SystemClock().now()
    gone = sum(one.taken_back is not None for one in found)
    print(f"{some(len(found), 'entry', 'entries')}, {gone} taken back; times of {now.astimezone():%Z (UTC%z)}")
    for one in found:
        print(f"  {f'{one.kind} {one.number}':<16} {_told(one, now)}")
    if waiting:
        n = sum(one.settled is None for one in waiting)
        print(f"{some(len(waiting), 'entry', 'entries')} made at the centre; {n} of them waiting for {settings.edge}")
    for entry in waiting:
        print(f"  {f'waiting {entry.number}':<16} {entered_line(entry, settings.edge, now)}")
    return 0


def _starts(arguments: argparse.Namespace) -> int:
    from shotlog.store.log.clock_steps import clock_steps
    from shotlog.store.log.starts import starts

    with opened(arguments.config) as (_, log):
        found, steps = starts(log), clock_steps(log)
    if arguments.json:
        documents = [{**start_document(one), "config": one.config} for one in found]
        print_json({"starts": documents, "clock_steps": [step_document(one) for one in steps]})
        return 0
    print(f"{some(len(found), 'start')}, {some(len(steps), 'step')} of the clock")
    for one in found:
        print(f"  {start_said(one)}")
    for step in steps:
        print(f"  {clock_said(step, SystemClock().now())}")
    return 0


def _told(one: Any, now: datetime) -> str:
    line = f"{made_said(one)} ({at_time(one.time, now)}{by_whom(one.who)})"
    if one.taken_back is None:
        return line
    return f"{line}: TAKEN BACK {at_time(one.taken_back, now)}{by_whom(one.who_back)} ({one.why})"


def _document(one: Any) -> dict[str, Any]:
    back = None
    if one.taken_back is not None:
        back = {"at": iso_utc(one.taken_back), "reason": one.why, "initials": one.by, **who_document(one.who_back)}
    return {
        "kind": one.kind,
        "number": one.number,
        "press": one.press or None,
        "first": one.first,
        "last": one.last,
        "cavity": one.cavity,
        "about": one.about,
        "text": one.text,
        "half": one.half or None,
        "at_press": one.at_press or None,
        "initials": one.initials or None,
        **who_document(one.who),
        "entered": iso_utc(one.time),
        "in_force": one.taken_back is None,
        "taken_back": back,
    }
