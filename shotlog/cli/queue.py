"""``shotlog queue``: the single-use pieces waiting for the next shots."""

import argparse
from typing import Any

from shotlog.cli.given import shot_given
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest, opened, print_json
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.records import HALVES

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "queue", "queue single-use pieces, drop one, or show the queues", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument(
        "serials", metavar="SERIAL", nargs="*", help="pieces in the order of use; S-001..S-020 is a run"
    )
    parser.add_argument("--half", choices=HALVES, default="moving", help="default: moving")
    parser.add_argument("--at-shot", metavar="N", help="begin a new series with this shot")
    parser.add_argument("--design", metavar="D")
    parser.add_argument("--print-batch", metavar="B")
    parser.add_argument("--plate", metavar="P", help="build plate or job")
    parser.add_argument("--positions", default="", metavar="A,B,...", help="place on the plate of each piece")
    parser.add_argument("--drop", metavar="SERIAL", help="this piece was not used: the shots after it move up")
    parser.add_argument("--reason", default="", metavar="TEXT", help="why it is dropped")
    add_initials(parser)
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.inserts import queue

    press = arguments.press
    said = {name: getattr(arguments, name) for name in ("design", "print_batch", "plate")}
    if arguments.drop and arguments.serials:
        raise UsageError("--drop: given together with serials to queue, allowed: one at a time")
    writes = bool(arguments.drop or arguments.serials)
    with entering(arguments) if writes else opened(arguments.config) as (settings, log):
        settings.press(press)
        now = SystemClock().now()
        if arguments.drop:
            queue.drop(log, press, arguments.drop, now, arguments.reason, arguments.initials)
        elif arguments.serials:
            queue.enqueue(
                log,
                press,
                queue.serials_named(arguments.serials),
                now,
                half=arguments.half,
                at_shot=shot_given(log, arguments.press, arguments.at_shot),
                said={name: text for name, text in said.items() if text is not None},
                positions=[place.strip() for place in arguments.positions.split(",") if place.strip()],
                initials=arguments.initials,
            )
        if writes:
            judge_rest(log, settings, press)
        found = queue.queues(log, press)
        twice = queue.used_twice(log)
    if arguments.json:
        print_json({"press": press, "queues": [_document(one) for one in found], "used_twice": _places(twice)})
        return 0
    for one in found:
        _print(one)
    if not found:
        print(f"{press}: no single-use pieces entered")
    for serial, shots in _places(twice).items():
        print(f"  USED TWICE: {serial} at {', '.join(shots)}; an entry about it is wrong")
    return 0


def _document(queue: Any) -> dict[str, Any]:
    return {
        "half": queue.half,
        "first": queue.first,
        "numbered": queue.numbered,
        "taken": queue.taken,
        "waiting": [{"serial": piece.serial, "print_batch": piece.print_batch} for piece in queue.waiting],
        "without": queue.without,
        "mounted": queue.mounted,
    }


def _places(twice: dict[str, Any]) -> dict[str, list[str]]:
    return {serial: [f"{taken.press}/{taken.shot}" for taken in shots] for serial, shots in twice.items()}


def _print(queue: Any) -> None:
    where = f"{queue.press} {queue.half} from shot {queue.first}"
    if queue.numbered:
        print(f"{where}: numbered on, {queue.taken} taken")
        return
    names = ", ".join(piece.serial for piece in queue.waiting[:5])
    more = f" and {len(queue.waiting) - 5} more" if len(queue.waiting) > 5 else ""
    waiting = f"{len(queue.waiting)} waiting ({names}{more})" if queue.waiting else "none waiting"
    print(f"{where}: {queue.taken} taken, {waiting if queue.mounted else 'ended'}")
    if queue.without:
        print(f"  RAN OUT: {queue.without} shots have no piece on record; queue the pieces that were used")
