"""``shotlog backup``: the whole of a log in one file, taken while `run` writes."""

import argparse
from pathlib import Path

from shotlog.cli.opening import Subparsers, add_command, read_settings
from shotlog.cli.outside import written_down
from shotlog.cli.place_of_output import file_for
from shotlog.cli.progress import Progress
from shotlog.clock import SystemClock
from shotlog.errors import StoreDamaged
from shotlog.wording.numbers import some

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers,
        "backup",
        "write the log, its pictures and the configuration to one file, also while run writes",
        _run,
    )
    parser.add_argument(
        "--out", required=True, type=Path, metavar="FILE", help="such as FILE.zip, best on another machine"
    )


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.store.keeping.backup import back_up
    from shotlog.store.log.log import open_log

    settings = read_settings(arguments.config)
    out = file_for(arguments.out, "--out", (), settings)
    made = back_up(settings, out, SystemClock().now(), Progress())
    n, n_pictures = some(made.head.links, "transaction"), some(made.n_pictures, "picture")
    print(f"{out}: {n}, {n_pictures}, read back and verified; digest {made.head.digest}")
    with open_log(settings.store) as log:
        written_down(log, settings, made.head, f"backup {out.name}")
    if made.missing:
        raise StoreDamaged(
            f"{out} was written, but {some(len(made.missing), 'picture')} on record could not be put into it as kept "
            f"({made.missing[0]}); see `shotlog verify`"
        )
    return 0
