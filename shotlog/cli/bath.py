"""``shotlog bath``: the caustic bath that removes single-use halves, and the parts in it."""

import argparse
import sys
from typing import Any

from shotlog.cautions import CAUSTIC
from shotlog.cli.given import amount, moment, span
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, opened, print_json
from shotlog.cli.parts import chosen_parts
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.wording.numbers import some
from shotlog.wording.parts import wrong_text

__all__ = ["add"]

_ACTIONS = ("list", "make-up", "check", "in", "out")


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "bath", "the caustic bath: fill, check, parts in and out, what is due", _run)
    parser.epilog = CAUSTIC
    parser.add_argument("action", metavar="ACTION", choices=_ACTIONS, help=" | ".join(_ACTIONS))
    parser.add_argument(
        "words", metavar="...", nargs="*", help="make-up BATH, check BATH, in BATH PRESS PARTS, out PRESS PARTS"
    )
    parser.add_argument(
        "--concentration", metavar="C", help="mol/l; a range such as 0.9..1.1 with make-up, a value with check"
    )
    parser.add_argument("--temperature", metavar="T", help="degC; a range with make-up, a value with check")
    parser.add_argument("--at", metavar="TIME", help="when it happened (local time, or with an offset; default: now)")
    parser.add_argument("--not-cleared", action="store_true", help="out, but something of the half is left")
    parser.add_argument("--remark", default="", metavar="TEXT")
    add_initials(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    print(f"CAUTION: {CAUSTIC}", file=sys.stderr)
    action, words = arguments.action, arguments.words
    least = {"list": 0, "make-up": 1, "check": 1, "in": 3, "out": 2}[action]
    if len(words) < least or (action in ("make-up", "check") and len(words) > 1) or (action == "list" and words):
        allowed = "make-up BATH | check BATH | in BATH PRESS PARTS | out PRESS PARTS | list"
        raise UsageError(f"bath {action}: given {len(words)} words, allowed: {allowed}")
    with opened(arguments.config) if action == "list" else entering(arguments) as (settings, log):
        _ACTING[action](arguments, settings, log)
        document = _document(log)
    if arguments.json:
        print_json(document)
    elif action == "list":
        _print(document)
    return 0


def _make_up(arguments: argparse.Namespace, settings: Any, log: Any) -> None:
    from shotlog.store.parts import baths

    baths.make_up(
        log,
        arguments.words[0],
        SystemClock().now(),
        made_up=moment(arguments.at),
        concentration=span(arguments.concentration),
        temperature=span(arguments.temperature),
        initials=arguments.initials,
    )
    _say(arguments, f"bath {arguments.words[0]}: made up")


def _check(arguments: argparse.Namespace, settings: Any, log: Any) -> None:
    from shotlog.store.parts import baths

    check = baths.check_bath(
        log,
        arguments.words[0],
        SystemClock().now(),
        concentration=_value(arguments.concentration, "mol/l"),
        temperature=_value(arguments.temperature, "degC"),
        checked=moment(arguments.at),
        initials=arguments.initials,
    )
    found = wrong_text(check.wrong).upper() or "checked, within its ranges"
    _say(arguments, f"bath {arguments.words[0]}: {found} (bath-check {check.entry_id})")


def _put_in(arguments: argparse.Namespace, settings: Any, log: Any) -> None:
    from shotlog.store.parts import soaks

    bath, press, *named = arguments.words
    settings.press(press)
    parts = chosen_parts(log, settings, press, named)
    when = moment(arguments.at)
    now = SystemClock().now()
    soaked = soaks.put_in(log, bath, parts, now, settings.designs, went_in=when, initials=arguments.initials)
    for soak in soaked:
        _say(arguments, f"{soak.part} in bath {bath}, due {iso_utc(soak.due)} (bath-in {soak.entry_id})")
    for part in parts:
        halves = log.timeline(press).halves(part.shot)
        if not any(held.single_use for held in halves.values()):
            _say(arguments, f"  {part}: no single-use half on record for this part")


def _take_out(arguments: argparse.Namespace, settings: Any, log: Any) -> None:
    from shotlog.store.parts import soaks

    press, *named = arguments.words
    settings.press(press)
    for soak in soaks.take_out(
        log,
        chosen_parts(log, settings, press, named),
        SystemClock().now(),
        came_out=moment(arguments.at),
        cleared=not arguments.not_cleared,
        remark=arguments.remark,
        initials=arguments.initials,
    ):
        early = " before it was due" if soak.came_out is not None and soak.came_out < soak.due else ""
        left = "" if soak.cleared else "; something of the half is LEFT"
        _say(arguments, f"{soak.part} out of bath {soak.bath}{early}{left} (bath-out {soak.end_id})")


def _list(arguments: argparse.Namespace, settings: Any, log: Any) -> None:
    """Do nothing: what there is is shown afterwards."""


_ACTING = {"list": _list, "make-up": _make_up, "check": _check, "in": _put_in, "out": _take_out}


def _say(arguments: argparse.Namespace, text: str) -> None:
    print(text, file=sys.stderr if arguments.json else sys.stdout)


def _value(text: str | None, unit: str) -> float | None:
    if text is None:
        return None
    value, given = amount(text)
    if given not in ("", unit):
        raise UsageError(f"value: given {text!r}, allowed: a number in {unit}")
    return value


def _document(log: Any) -> dict[str, Any]:
    from shotlog.store.parts.baths import baths
    from shotlog.store.parts.places import where_is

    now = SystemClock().now()
    return {
        "caution": CAUSTIC,
        "baths": [
            {
                "bath": bath.name,
                "made_up": iso_utc(bath.made_up),
                "concentration_mol_l": [bath.concentration.low, bath.concentration.high],
                "temperature_degc": [bath.temperature.low, bath.temperature.high],
                "old": bath.old,
                "checks": [
                    {"at": iso_utc(check.checked), "concentration_mol_l": check.concentration,
                     "temperature_degc": check.temperature, "wrong": [wrong_text([one]) for one in check.wrong]}
                    for check in bath.checks
                ],
            }
            for bath in baths(log)
        ],
        "parts": [
            {
                "number": soak.entry_id,
                "part": str(soak.part),
                "bath": soak.bath,
                "went_in": iso_utc(soak.went_in),
                "due": iso_utc(soak.due),
                "overdue_h": round(soak.overdue_h(now), 1),
            }
            for soak in where_is(log).soaking
        ],
    }  # fmt: skip


def _print(document: dict[str, Any]) -> None:
    for bath in document["baths"]:
        if not bath["old"]:
            last = bath["checks"][-1] if bath["checks"] else None
            wrong = "never checked" if last is None else "; ".join(last["wrong"]).upper() or "within its ranges"
            print(f"bath {bath['bath']}, made up {bath['made_up']}: {wrong}")
    print(f"{some(len(document['parts']), 'part')} in")
    for part in document["parts"]:
        late = f", OVERDUE by {part['overdue_h']:g} h" if part["overdue_h"] else ""
        print(f"  {part['part']} in bath {part['bath']} since {part['went_in']}, due {part['due']}{late}")
