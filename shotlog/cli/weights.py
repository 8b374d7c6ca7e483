"""``shotlog weights``: which weighing was taken for which shot, and corrections."""

import argparse
import re
from typing import Any

from shotlog.cli.given import shot_given
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest, opened, print_json
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.wording.numbers import some

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "weights", "show which weighing was taken for which shot, or correct it", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument(
        "--match",
        nargs="+",
        default=[],
        metavar="NUMBER=SHOT",
        help="this weighing is of that shot; NUMBER=none: of none",
    )
    parser.add_argument("--reason", default="", metavar="TEXT", help="why the match was wrong")
    add_initials(parser)
    parser.add_argument("--last", type=int, default=20, metavar="N", help="show so many, the newest (default: 20)")
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.parts import weights

    press = arguments.press
    with entering(arguments) if arguments.match else opened(arguments.config) as (settings, log):
        settings.press(press)
        if arguments.match:
            chosen = dict(_pair(log, press, text) for text in arguments.match)
            now = SystemClock().now()
            weights.match_by_hand(log, press, chosen, now, reason=arguments.reason, initials=arguments.initials)
            judge_rest(log, settings, press)
        found = weights.weighings(log, press)
    shown = found[-arguments.last :] if arguments.last > 0 else []
    if arguments.json:
        rows = [
            {"number": one.weighing_id, "balance": one.balance, "grams": one.grams, "time": iso_utc(one.time),
             "shot": one.shot, "by_hand": one.by_hand, "others": one.others, "why": one.why}
            for one in shown
        ]  # fmt: skip
        print_json({"press": press, "weighings": rows})
        return 0
    none = sum(one.shot is None for one in found)
    print(f"{press}: {some(len(found), 'weighing')}, {none} without a shot")
    for one in shown:
        shot = "NO SHOT" if one.shot is None else f"shot {one.shot}"
        by = " (by hand)" if one.by_hand else ""
        print(f"  {one.weighing_id:>5}  {iso_utc(one.time)}  {one.grams:9.3f} g  {shot}{by}: {one.why}")
    return 0


def _pair(log: Any, press: str, text: str) -> tuple[int, int | None]:
    number, equals, shot = text.partition("=")
    if not re.fullmatch("[0-9]{1,18}", number) or not equals or not shot:
        raise UsageError(f"--match: given {text!r}, allowed: NUMBER=SHOT or NUMBER=none")
    return int(number), None if shot == "none" else shot_given(log, press, shot, "--match", made=True)
