"""``shotlog backup``: the whole of a log in one file, taken while `run` writes.

Without ``--out`` it goes into the folder of `log.backup`, beside those before it, of which the oldest make room; that
is what a timer calls. Whether it worked is noted in the log, where `status` and the pages see it.
"""

import argparse
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.cli.opening import Subparsers, add_command, read_settings
from shotlog.cli.outside import written_down
from shotlog.cli.place_of_output import file_for
from shotlog.cli.progress import Progress
from shotlog.clock import SystemClock
from shotlog.errors import ShotlogError, StoreDamaged, StoreError, UsageError
from shotlog.settings import Settings
from shotlog.wording.numbers import some

if TYPE_CHECKING:
    from shotlog.store.keeping.backup import Backup

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers,
        "backup",
        "write the log, its pictures and the configuration to one file, also while run writes",
        _run,
    )
    into = "such as FILE.zip, best on another machine (default: a new file in the folder log.backup)"
    parser.add_argument("--out", type=Path, metavar="FILE", help=into)


def _run(arguments: argparse.Namespace) -> int:
    settings = read_settings(arguments.config)
    if arguments.out is not None:
        out = file_for(arguments.out, "--out", (), settings)
        _say_missing(out, _made(settings, out))
        return 0
    if settings.backup is None:
        raise UsageError("--out: given nothing, allowed: the name of a file, or a folder as log.backup in CONFIG")
    from shotlog.store.asked.backed_up import note_backup
    from shotlog.store.keeping.copying import log_file
    from shotlog.store.keeping.routine import clear_half_made, make_room, next_backup
    from shotlog.store.log.log import open_log

    file = log_file(settings.store, "backup")
    with _failure_noted(settings):
        out = next_backup(settings.backup, file, SystemClock().now())
        clear_half_made(settings.backup, file)
        made = _made(settings, out)
        with open_log(settings.store) as log:
            old = make_room(settings.backup, file, log, out, made)
        for one in old:
            print(f"{one}: deleted, log.backup_keep is {settings.backup.keep}")
        _say_missing(out, made)
        with open_log(settings.store, read_only=False) as opened:
            note_backup(opened, out.name, SystemClock().now())
    return 0


def _made(settings: Settings, out: Path) -> "Backup":
    from shotlog.store.keeping.backup import back_up
    from shotlog.store.log.log import open_log

    made = back_up(settings, out, SystemClock().now(), Progress())
    n, n_pictures = some(made.head.links, "transaction"), some(made.n_pictures, "picture")
    print(f"{out}: {n}, {n_pictures}, read back and verified; digest {made.head.digest}")
    with open_log(settings.store) as log:
        written_down(log, settings, made.head, f"backup {out.name}")
    return made


def _say_missing(out: Path, made: "Backup") -> None:
    if made.missing:
        raise StoreDamaged(
            f"{out} was written, but {some(len(made.missing), 'picture')} on record could not be put into it as kept "
            f"({made.missing[0]}); see `shotlog verify`"
        )


@contextmanager
def _failure_noted(settings: Settings) -> Iterator[None]:
    """Note in the log what keeps a backup from being made, where the log can be written."""
    from shotlog.store.asked.backed_up import note_failure
    from shotlog.store.log.log import open_log

    try:
        yield
    except (ShotlogError, OSError) as error:
        if not isinstance(error, UsageError):
            with suppress(StoreError), open_log(settings.store, read_only=False) as log:
                note_failure(log, str(error), SystemClock().now())
        raise
