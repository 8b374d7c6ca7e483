"""What most commands begin with: read the configuration, open its log, find the press."""

import argparse
import gc
import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shotlog.clock import SystemClock
from shotlog.errors import UsageError
from shotlog.records import initials_of
from shotlog.settings import Settings, load
from shotlog.settings.store_address import with_edge
from shotlog.talking import keep_text
from shotlog.wording.waiting import waits_said
from shotlog.writable_folders import find_places

if TYPE_CHECKING:
    from shotlog.store.log.held_log import HeldLog
    from shotlog.store.log.log import Log

__all__ = [
    "ONE_EDGE",
    "Subparsers",
    "add_command",
    "add_initials",
    "entering",
    "json_escapes",
    "judge_rest",
    "opened",
    "opened_to_log",
    "print_json",
    "read_settings",
    "say_of_server",
]

Subparsers = Any

ONE_EDGE: ContextVar[str] = ContextVar("one_edge", default="")
"""The edge that a command is at, of those of a whole centre (`cli.every_edge`)."""

_RECORDS = 50_000
"""Records made between two looks through the newest of them (own); Python's own number is 700."""

INITIALS = "SHOTLOG_INITIALS"
"""The variable of the environment that says whose initials stand where a command is given none."""


def add_command(subparsers: Subparsers, name: str, help_text: str, run: Any) -> argparse.ArgumentParser:
    """Add a command that takes the configuration file first."""
    parser: argparse.ArgumentParser = subparsers.add_parser(name, help=help_text, description=help_text)
    parser.add_argument("config", metavar="CONFIG", type=Path, help="configuration file (TOML)")
    parser.set_defaults(run=run)
    return parser


def add_initials(parser: argparse.ArgumentParser, of: str = "of who enters it") -> None:
    """Add the option that says who enters; where it is not given, the environment may."""
    said = os.environ.get(INITIALS, "")  # as given, it is cut to shape by `type`
    parser.add_argument(
        "--initials", default=said, type=_in_short, metavar="XY", help=f"{of} (default: {INITIALS} of the environment)"
    )


def _in_short(initials: str) -> str:
    return " ".join(initials.split())


def read_settings(config: Path) -> Settings:
    """Read a configuration; what it would better write otherwise is said on stderr, once.

    Of an edge's log at a centre it says what that log keeps of the edge's own.
    """
    settings = load(config)
    find_places(settings.text_log.parent)
    if ONE_EDGE.get():
        settings = replace(settings, store=with_edge(settings.store, ONE_EDGE.get()))
    if settings.edge:
        from shotlog.store.centre.configured import configured

        settings = configured(settings)
    for hint in settings.hints:
        _say_once(hint)
    return settings


@cache
def _say_once(hint: str) -> None:
    print(f"HINT: {hint}", file=sys.stderr)


_AT_CENTRE = ("parts", "inspect", "note", "undo")
"""The commands that enter something at a centre as well."""


@contextmanager
def opened(config: Path, read_only: bool = True) -> Iterator[tuple[Settings, "Log"]]:
    """Read a configuration and open its log for the length of the block."""
    from shotlog.store.log.log import open_log

    settings = read_settings(config)
    with open_log(settings.store, read_only=read_only) as log, _seldom_looked_through():
        yield settings, log


@contextmanager
def _seldom_looked_through() -> Iterator[None]:
    """Let Python look less often for what nobody refers to: of a long log there are records by the ten thousand, which
    stay until the command ends, and going through them again and again took a fifth of its time.
    """
    usual = gc.get_threshold()
    gc.set_threshold(_RECORDS, *usual[1:])
    try:
        yield
    finally:
        gc.set_threshold(*usual)


def say_of_server(log: "Log") -> None:
    """Say it where the server of a log brings nothing to its disk, for those who ask how things stand."""
    from shotlog.store.log.server import warn_of_unsafe

    with log.reading() as connection:
        warn_of_unsafe(connection, f"log {log.url}")


@contextmanager
def entering(arguments: argparse.Namespace, via: str = "command") -> Iterator[tuple[Settings, "Log"]]:
    """Open the log as `opened` does, for what somebody enters: each entry is signed, with the initials given.

    Nothing is entered for a press that is not configured, unless it was recorded elsewhere and is imported. At a centre
    it waits for the edge, which is said.
    """
    from shotlog.store.centre.entering import ELSEWHERE, open_for_entries
    from shotlog.store.log.signed import at_this_computer

    settings = read_settings(arguments.config)
    if settings.edge and arguments.command not in _AT_CENTRE:
        raise UsageError(f"{settings.edge}: {ELSEWHERE}")
    with open_for_entries(settings.store) as log:
        log.presses_open = None if via == "import" else [press.name for press in settings.presses]
        log.signature = at_this_computer(via, initials_of(arguments.initials))
        yield settings, log
        if log.waiting:
            print(waits_said(log.edge, log.waiting), file=sys.stderr)


@contextmanager
def opened_to_log(config: Path) -> Iterator[tuple[Settings, "HeldLog"]]:
    """Read a configuration, hold it and its log, and open that for the length of the block, put right if need be.

    Where it is out of reach, and was reached before, it is opened later, by whoever delivers to it.

    Raises
    ------
    StoreHeld
        Another process logs by this configuration or into this log; says which.
    StoreUnreachable
        It is out of reach, and this configuration never logged into it.
    StoreDamaged
        It is no log, or a newer release wrote it.
    """
    settings = read_settings(config)
    settings.need_presses()

    # what judges is loaded only now: reading the configuration has found it a place to keep what it compiles
    from shotlog.recorder.reaching import reach
    from shotlog.store.holding import held
    from shotlog.store.log.held_log import held_log

    names = [press.name for press in settings.presses] + [balance.name for balance in settings.balances]
    with held(settings.file, settings.store, names) as holder, held_log(settings.store, holder.hold) as log:
        keep_text(settings.text_log, settings.keep_text_mb)
        reach(log, settings)
        yield settings, log


def judge_rest(log: "Log", settings: Settings, press: str) -> int:
    """Judge what an entry left unjudged, unless a running recorder got there first; return how many shots.

    Before the first shot there is nothing to judge, nor at a centre, and what judges takes a while to load. Where it is
    not compiled yet on this machine, a logger at work is left to do it: it is about to.
    """
    if log.edge or log.last_shot(press) is None:
        return 0

    from shotlog.recorder import Judge
    from shotlog.recorder.compiling import compile_apart_then_rehearse, is_compiled
    from shotlog.store.asked.logger_state import Listening

    if not is_compiled():
        if Listening(SystemClock()).look(log).state == "running":
            return 0
        if sys.stderr is not None and sys.stderr.isatty():
            print("judging gets ready, once on this machine: some 15 s", file=sys.stderr)
    # before, not while it judges: nobody else can write then, and no shot of a press must wait for the compiler
    compile_apart_then_rehearse()
    return Judge(log, press, settings.designs, SystemClock(), settings.false_calls).catch_up()


def json_escapes() -> bool:
    """Say whether letters beyond ASCII go as escapes into JSON on stdout: where its encoding has not all of them."""
    return (sys.stdout.encoding or "").lower().replace("-", "") != "utf8"


def print_json(document: object) -> None:
    """Print one JSON document on stdout."""
    print(json.dumps(document, ensure_ascii=json_escapes(), allow_nan=False))
