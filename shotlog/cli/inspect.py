"""``shotlog inspect``: enter what was found on parts: weight, dimensions, findings."""

import argparse
from typing import Any

from shotlog.cli.given import amount, moment, named_amount, span
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering
from shotlog.cli.parts import chosen_parts
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.records import HALVES
from shotlog.settings import Bound, Settings
from shotlog.wording.numbers import some
from shotlog.wording.parts import result_text
from shotlog.wording.waiting import numbered

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "inspect", "enter what was found on a part; without a result: nothing found", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("parts", metavar="PART", help="SHOT, SHOT/CAVITY or SHOT-SHOT")
    parser.add_argument("--weight", metavar="W", help="weight, in g unless said")
    parser.add_argument("--dimension", metavar="NAME=VALUE", help="dimension, in mm unless said")
    parser.add_argument(
        "--tolerance", metavar="LOW..HIGH", help="in g or mm (default: [design.NAME.tolerance] of the configuration)"
    )
    parser.add_argument("--no-tolerance", action="store_true", help="record a dimension that has none on purpose")
    parser.add_argument("--finding", default="", metavar="TEXT", help="what is wrong: flash, short, crack, ...")
    parser.add_argument("--half", default="", choices=("", *HALVES), help="the half to blame, where it is known")
    parser.add_argument("--instrument", default="", metavar="I", help="what it was measured with")
    parser.add_argument("--at", metavar="TIME", help="when (local time, or with an offset; default: now)")
    add_initials(parser, "of who looked")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.parts.inspections import WEIGHT, inspect

    if arguments.weight and arguments.dimension:
        raise UsageError("--weight: given together with --dimension, allowed: one result at a time")
    quantity: str = ""
    value: float | None = None
    unit = ""
    if arguments.weight:
        quantity, (value, unit) = WEIGHT, amount(arguments.weight)
    elif arguments.dimension:
        quantity, value, unit = named_amount(arguments.dimension)
    with entering(arguments) as (settings, log):
        settings.press(arguments.press)
        parts = chosen_parts(log, settings, arguments.press, [arguments.parts])
        if value is not None and len(parts) > 1:
            raise UsageError(f"parts: given {len(parts)} with one value, allowed: one part (SHOT/CAVITY)")
        if arguments.tolerance is None and not arguments.no_tolerance:
            _refuse_unknown(settings, log, parts, quantity)
        for part in parts:
            result = inspect(
                log,
                part,
                SystemClock().now(),
                quantity=quantity,
                value=value,
                unit=unit,
                tolerance=_tolerance(settings, log, part, quantity, arguments.tolerance),
                finding=arguments.finding,
                half=arguments.half,
                instrument=arguments.instrument,
                initials=arguments.initials,
                inspected=moment(arguments.at),
            )
            print(f"{part} ({numbered('inspection', [result.entry_id], log.edge)}): {result_text(result)}")
            if result.bad and not log.edge:
                _say_what_follows(log, settings, part)
    return 0


def _refuse_unknown(settings: Settings, log: Any, parts: list[Any], quantity: str) -> None:
    """Refuse a dimension that no design in the mould has a tolerance for: mostly it is one that has, typed wrong."""
    from shotlog.store.parts.inspections import WEIGHT

    if quantity in ("", WEIGHT):
        return
    for part in parts:
        designs = sorted({held.design for held in log.timeline(part.press).halves(part.shot).values() if held.design})
        known = {
            name for design in designs if design in settings.designs for name in settings.designs[design].tolerance
        }
        if quantity not in known:
            of = ", ".join(designs) or "not said"
            dimensions = ", ".join(sorted(known - {WEIGHT})) or "none has a tolerance"
            raise UsageError(
                f"dimension of {part}: given {quantity!r}, allowed: {dimensions} (design {of}); "
                "any name with --tolerance LOW..HIGH, or with --no-tolerance where it is recorded without one"
            )


def _tolerance(settings: Settings, log: Any, part: Any, quantity: str, given: str | None) -> Bound:
    """Return the tolerance that was typed, else the one that a design in the mould is set to."""
    if given is not None:
        return span(given)
    for held in log.timeline(part.press).halves(part.shot).values():
        if held.design in settings.designs and quantity in settings.designs[held.design].tolerance:
            return settings.designs[held.design].tolerance[quantity]
    return Bound()


def _say_what_follows(log: Any, settings: Settings, part: Any) -> None:
    from shotlog.store.parts.dispositions import held_parts
    from shotlog.store.parts.ends import insert_ends

    timeline = log.timeline(part.press)
    mounted = {stay.mounting.insert.serial for stay in timeline.stays_at(part.shot).values()}
    for end in insert_ends(log, mounted, {part.press: timeline}):
        if end.bad is not None and end.bad.part == part:
            print(f"  the life of {end.serial} ends at this part, after {end.shots} shots (--half names another half)")
    print(f"  held now: {some(len(held_parts(log, part.press, settings.designs)), 'part')} of {part.press}")
