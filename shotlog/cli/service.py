"""``shotlog service``: what leaves a logger running, as a service of systemd or a task of Windows, with its steps.

It prints; with ``--install`` it puts the files in their places, after asking, and prints what is left to the person. It
starts and stops nothing, and writes over no file but its own.
"""

import argparse
import os
import shlex
import sys
from pathlib import Path

from shotlog.cli.opening import Subparsers, add_command, print_json, read_settings
from shotlog.errors import UsageError
from shotlog.outputs import written_aside
from shotlog.service import systemd, windows
from shotlog.service.cautions import cautions
from shotlog.service.explained import Chapter, for_linux, for_windows, said
from shotlog.service.facts import PlacedFile, ServiceFacts, facts_of

__all__ = ["add"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers,
        "service",
        "print what leaves run, or the pages of a centre, going: a systemd unit or Windows task",
        _run,
    )
    parser.add_argument("--install", action="store_true", help="put the files in their places; asks first")
    parser.add_argument("--yes", action="store_true", help="do not ask")
    parser.add_argument("--for", dest="system", choices=("linux", "windows"), help="which system (default: this one)")
    parser.add_argument("--name", help="of the service (default: shotlog- and that of the configuration)")
    parser.add_argument("--user", default="shotlog", help="on Linux, who it runs as (default: %(default)s)")
    parser.add_argument(
        "--root", type=Path, metavar="FOLDER", help="on Linux, place the files below FOLDER, not below /"
    )
    parser.add_argument("--json", action="store_true", help="print one JSON document")


def _run(arguments: argparse.Namespace) -> int:
    from shotlog.collectors.folders_shared import folders_shared
    from shotlog.collectors.ports_read import reads_serial, serial_group

    settings = read_settings(arguments.config)
    serial, shared = reads_serial(settings), folders_shared(settings)
    facts = facts_of(settings, arguments.name, arguments.user, serial, serial_group(), *shared)
    system = arguments.system or ("windows" if os.name == "nt" else "linux")
    files = windows.files(facts) if system == "windows" else systemd.files(facts, not _is_there(facts.user))
    wrong = cautions(facts) if system == "linux" else []
    if arguments.install:
        files = [_below(arguments.root, one) for one in files] if system == "linux" else files
        _place(files, facts, arguments.yes, "utf-16" if system == "windows" else "utf-8")
    for line in wrong:
        print(f"WARNING: {line}", file=sys.stderr)
    chapters = (for_windows if system == "windows" else for_linux)(facts, files, arguments.install)
    _show(files, chapters, wrong, arguments.install, arguments.json)
    return 0


def _show(files: list[PlacedFile], chapters: list[Chapter], wrong: list[str], placed: bool, as_json: bool) -> None:
    if as_json:
        texts = {str(one.path): one.text for one in files}
        print_json({"files": texts, "placed": placed, "explained": dict(chapters), "cautions": wrong})
        return
    for one in files:
        print(f"placed {one.path}" if placed else f"==> {one.path}\n{one.text}")
    if placed:
        print()
    print(said(chapters))


def _is_there(user: str) -> bool:
    try:
        import pwd

        pwd.getpwnam(user)
    except (ImportError, KeyError):
        return False
    return True


def _below(root: Path | None, one: PlacedFile) -> PlacedFile:
    return one if root is None else PlacedFile(root / one.path.relative_to("/"), one.text)


def _place(files: list[PlacedFile], facts: ServiceFacts, yes: bool, encoding: str) -> None:
    """Write the files, or none of them where one may not be written.

    Raises
    ------
    UsageError
        Something else stands there, this user may not write there, or nobody agreed to it.
    OutputError
        One cannot be written.
    """
    for one in files:
        _refuse_others(one.path, facts, encoding)
        _refuse_without_rights(one.path.parent, facts)
    if not yes and not _agreed(files):
        raise UsageError("--install: nothing is placed; answer y, or give --yes")
    for one in files:
        one.path.parent.mkdir(parents=True, exist_ok=True)
        with written_aside(one.path) as aside:
            aside.write_bytes(one.text.encode(encoding))
            aside.chmod(0o644)


def _refuse_others(path: Path, facts: ServiceFacts, encoding: str) -> None:
    if not os.path.lexists(path):
        return
    try:
        text = path.read_bytes().decode(encoding)
    except (OSError, UnicodeDecodeError):
        text = ""
    ours = (f"{systemd.MARK} {facts.config}\n", f"{windows.MARK} {facts.config}:")
    if not any(mark in text for mark in ours):
        raise UsageError(
            f"--install: {path} is there and was not written by this command for {facts.config}; it is left as it is: "
            "move it away, or give another --name"
        )


def _refuse_without_rights(folder: Path, facts: ServiceFacts) -> None:
    there = next(one for one in (folder, *folder.parents) if one.is_dir())
    if not os.access(there, os.W_OK):
        again = shlex.join(facts.command("service", str(facts.config), "--install"))
        raise UsageError(f"--install: only root may write to {there}: sudo {again}")


def _agreed(files: list[PlacedFile]) -> bool:
    for one in files:
        print(f"{'writes anew' if one.path.exists() else 'writes'} {one.path}", file=sys.stderr)
    if sys.stdin is None or not sys.stdin.isatty():
        raise UsageError("--install: nobody is there to be asked, allowed: --yes")
    print("Write them? [y/N] ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip().lower() in ("y", "yes")
