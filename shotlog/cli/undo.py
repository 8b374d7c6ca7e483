"""``shotlog undo``: take one entry back; it stays on record, out of force."""

import argparse

from shotlog.cli.opening import Subparsers, add_command, judge_rest, opened
from shotlog.clock import SystemClock

__all__ = ["add"]

_KINDS = {
    "mounting": "mountings",
    "removal": "removals",
    "event": "events",
    "decision": "dispositions",
    "inspection": "inspections",
    "place": "places",
    "picture": "pictures",
    "bath-in": "soaks",
    "bath-out": "soak_ends",
    "bath-check": "bath_checks",
}


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "undo", "take one entry back; it stays on record, out of force", _run)
    parser.add_argument("kind", metavar="KIND", choices=tuple(_KINDS), help=" ".join(_KINDS))
    parser.add_argument("number", metavar="NUMBER", type=int, help="number of the entry, as it was shown")
    parser.add_argument("--reason", required=True, metavar="TEXT", help="why it is taken back")
    parser.add_argument("--initials", default="", metavar="I", help="of who takes it back")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.undo import take_back

    with opened(arguments.config, read_only=False) as (settings, log):
        kind, now = _KINDS[arguments.kind], SystemClock().now()
        take_back(log, kind, arguments.number, now, arguments.reason, arguments.initials)
        for press in settings.presses:
            judge_rest(log, settings, press.name)
    print(f"{arguments.kind} {arguments.number}: out of force ({arguments.reason})")
    return 0
