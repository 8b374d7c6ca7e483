"""``shotlog archive``: a finished trial out of the log, into an archive that is a log itself."""

import argparse
from pathlib import Path

from shotlog.cli.opening import Subparsers, add_command, opened, read_settings
from shotlog.cli.outside import written_down
from shotlog.cli.place_of_output import file_for
from shotlog.cli.progress import Progress
from shotlog.clock import SystemClock
from shotlog.wording.numbers import some

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers,
        "archive",
        "copy the log as the archive of a finished trial, and take out of it what of that trial only fills it",
        _run,
    )
    parser.add_argument("--trial", required=True, metavar="NAME", help="the trial, as the configuration named it")
    parser.add_argument(
        "--out", required=True, type=Path, metavar="FILE", help="such as FILE.db: a log, to be read as one"
    )


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.keeping.archive import archive

    settings = read_settings(arguments.config)
    out = file_for(arguments.out, "--out", (".db",), settings)
    with opened(arguments.config, read_only=False) as (settings, log):
        done = archive(settings, log, arguments.trial, out, SystemClock().now(), Progress())
        written_down(log, settings, done.head, f"archive {out.name}")
    n, rows = some(done.head.links, "transaction"), some(done.rows, "verdict")
    print(f"{out}: the log as it stands, {n}, verified; digest {done.head.digest}")
    print(
        f"out of the log went {rows} of {some(done.links, 'transaction')} that say no change seen, and nothing else; "
        "shots, entries, decisions and calls of the trial stay in it"
    )
    if done.packed:
        print(f"the room they took stays in the file and is used for what comes: {done.packed}")
    else:
        print(f"the file had {done.bytes_before / 1e6:.1f} MB and has {done.bytes_after / 1e6:.1f} MB")
    return 0
