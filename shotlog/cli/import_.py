"""``shotlog import``: take in shots or inspections recorded elsewhere; a dry run shows what would be taken."""

import argparse
from pathlib import Path
from typing import Any

from shotlog.cli.opening import Subparsers, add_command, add_initials, entering, judge_rest
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.wording.numbers import some

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers, "import", "take in shots (a recording) or inspections of parts recorded elsewhere", _run
    )
    parser.add_argument("file", metavar="FILE.csv", type=Path)
    parser.add_argument("--dry-run", action="store_true", help="show what would be taken; change nothing")
    add_initials(parser, "of who takes it in; what is taken keeps whose it was")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store import importing

    parts = importing.holds_parts(arguments.file)
    # Also a dry run may meet a log that is not there yet: it is made, and stays empty.
    with entering(arguments, "import") as (settings, log):
        now = SystemClock().now()
        if settings.trial is not None and not arguments.dry_run:
            log.use_trial(settings.trial.name, settings.trial.part, settings.trial.resin, iso_utc(now))
        if parts:
            found = importing.read_inspected(log, arguments.file)
            _show_parts(found)
            if not arguments.dry_run:
                importing.take_parts(log, found, now)
        else:
            shots = importing.read_shots(log, arguments.file)
            for press in shots.spans():
                if press not in [known.name for known in settings.presses]:
                    names = ", ".join(known.name for known in settings.presses)
                    raise UsageError(f"{arguments.file}: given press {press!r}, allowed: {names}")
            _show_shots(shots)
            if not arguments.dry_run:
                importing.take_shots(log, shots, now)
                for press in shots.spans():
                    judge_rest(log, settings, press)
    print("nothing was changed (dry run)" if arguments.dry_run else "taken into the log")
    return 0


def _show_shots(file: Any) -> None:
    for press, (first, last, n) in file.spans().items():
        mine = [shot for shot in file.shots if shot.press == press]
        entries = [entry for entry in file.entries if entry.press == press]
        print(f"{press}: {some(n, 'shot')}, {first} to {last}, {iso_utc(mine[0].time)} to {iso_utc(mine[-1].time)}")
        print(f"  {last - first + 1 - n} numbers between are missing; {len(entries)} mountings, removals and events")
    for remark in file.remarks:
        print(f"  not used: {remark}")


def _show_parts(file: Any) -> None:
    parts = {part for part, _, _ in file.rows}
    print(f"{len(file.rows)} inspections of {some(len(parts), 'part')}")
