"""``shotlog review``: what happened on a shift or trial, as one HTML file or one JSON document."""

import argparse
import sys
from datetime import UTC
from pathlib import Path

from shotlog.cli.given import moment
from shotlog.cli.opening import Subparsers, add_command, opened, print_json
from shotlog.clock import SystemClock

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "review", "write what happened on a shift or trial as one HTML file", _run)
    parser.add_argument(
        "--since",
        metavar="T",
        help="only shots since this time (ISO 8601; without an offset it is this computer's local time)",
    )
    parser.add_argument("--out", type=Path, metavar="FILE", help="the HTML file (default: review.html)")
    parser.add_argument("--json", action="store_true", help="print one JSON document; a file only with --out")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.review import plain, review

    since = moment(arguments.since)
    out = arguments.out or (None if arguments.json else Path("review.html"))
    with opened(arguments.config) as (settings, log):
        now = SystemClock().now()
        found = review(log, settings, now, since)
    if out is not None:
        from shotlog.report import render

        zone = now.astimezone().tzinfo
        out.write_text(render(found, zone or UTC), encoding="utf-8", newline="\n")
        print(f"{out}: {sum(one.n_seen for one in found.presses)} shots reviewed", file=sys.stderr)
    if arguments.json:
        print_json(plain(found))
    return 0
