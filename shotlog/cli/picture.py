"""``shotlog picture``: keep a picture of a part or of what was found, beside the log."""

import argparse
from pathlib import Path

from shotlog.cli.given import moment
from shotlog.cli.opening import Subparsers, add_command, add_initials, entering
from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.wording.pictures import PRIVACY, kept_text

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(subparsers, "picture", "keep a picture of a part or a finding beside the log", _run)
    parser.add_argument("press", metavar="PRESS")
    parser.add_argument("part", metavar="SHOT[/CAVITY]", help="what it shows: a shot, or the part of one cavity")
    parser.add_argument("file", metavar="FILE", type=Path, help="JPEG, PNG or WebP, 8 MB at most")
    parser.add_argument("--remark", default="", metavar="TEXT", help="what is to be seen on it")
    parser.add_argument("--insert", default="", metavar="SERIAL", help="the insert it shows, where it shows one")
    parser.add_argument("--finding", type=int, metavar="NUMBER", help="number of the finding it belongs to")
    parser.add_argument("--at", metavar="TIME", help="when it was taken (local time, or with an offset; default: now)")
    add_initials(parser)


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.parts.picture import Pictured
    from shotlog.store.parts.parts import parts_meant
    from shotlog.store.parts.picture_bytes import MOST_BYTES
    from shotlog.store.parts.pictures import picture_folder, take_picture

    with entering(arguments) as (settings, log):
        settings.press(arguments.press)
        if "-" in arguments.part:
            raise UsageError(f"part: given {arguments.part!r}, allowed: SHOT or SHOT/CAVITY")
        parts = parts_meant(log, arguments.press, settings.designs, arguments.part)
        cavity = parts[0].cavity if "/" in arguments.part else None
        with arguments.file.open("rb") as file:
            given = file.read(MOST_BYTES + 1)
        kept = take_picture(
            log,
            picture_folder(settings.store, settings.file),
            given,
            Pictured(arguments.press, parts[0].shot, cavity, arguments.insert, arguments.finding),
            SystemClock().now(),
            remark=arguments.remark,
            initials=arguments.initials,
            taken=moment(arguments.at),
        )
    print(kept_text(kept))
    print(f"  {kept.file_name}; {PRIVACY[0].lower()}{PRIVACY[1:]}")
    return 0
