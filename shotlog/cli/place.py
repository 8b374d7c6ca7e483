"""``shotlog place``: where parts were put, in one word, and when something is due with them."""

import argparse
from typing import Any

from shotlog.cli.given import moment
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, opened, print_json
from shotlog.cli.parts import chosen_parts
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.wording.numbers import shots_named, some
from shotlog.wording.times import clock_time

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "place", "say where parts were put: bag, box, shelf; or list where they are", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("parts", metavar="PARTS", nargs="?", help="SHOT, SHOT-SHOT, SHOT/CAVITY (none: list them all)")
    parser.add_argument("place", metavar="PLACE", nargs="?", help="one word, typed or scanned, such as bag-7")
    parser.add_argument("--due", default="", metavar="T", help="when something is due: 24h, 2d, 14:30, or ISO 8601")
    parser.add_argument("--at", metavar="TIME", help="when they were put there (default: now)")
    add_initials(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.parts import places

    now = SystemClock().now()
    if arguments.parts and not arguments.place:
        raise UsageError("place: given nothing, allowed: a word for the bag, box or shelf, after the parts")
    with entering(arguments) if arguments.parts else opened(arguments.config) as (settings, log):
        settings.press(arguments.press)
        if arguments.parts:
            chosen = chosen_parts(log, settings, arguments.press, [arguments.parts])
            put, due = moment(arguments.at), places.due_from(arguments.due, now)
            found = places.put_at(log, chosen, arguments.place, now, put=put, due=due, initials=arguments.initials)
        else:
            found = _current(places.where_is(log, arguments.press))
    if arguments.json:
        print_json([_document(one) for one in found])
    elif not found:
        print(f"{arguments.press}: nobody has said where a part was put")
    else:
        for one in found:
            print(_line(one, now))
    return 0


def _current(where: Any) -> list[Any]:
    """Return what was said of where parts are, each with only the parts that are still there."""
    from dataclasses import replace

    from shotlog.parts.part import spans_of

    return [
        replace(said, first=first.shot, last=last.shot)
        for said in where.places
        for first, last in spans_of(where.still_at(said))
    ]


def _line(one: Any, now: Any) -> str:
    cavity = "" if one.cavity in (None, 1) else f", cavity {one.cavity}"
    n = some(one.last - one.first + 1, "part")
    late = ", OVERDUE" if one.due is not None and one.due < now else ""
    due = "" if one.due is None else f", due {clock_time(one.due)}{late}"
    by = f" by {one.initials}" if one.initials else ""
    return (
        f"{one.press}, {shots_named(one.first, one.last)}{cavity}, {n}: {one.place} since {clock_time(one.put)}{due}"
        f"{by} (place {one.entry_id})"
    )


def _document(one: Any) -> dict[str, Any]:
    span = {"press": one.press, "first": one.first, "last": one.last, "cavity": one.cavity}
    times = {"put": iso_utc(one.put), "due": None if one.due is None else iso_utc(one.due)}
    return {"number": one.entry_id, **span, "place": one.place, **times, "initials": one.initials}
