"""``shotlog export --follow``: what comes into the log, a JSON document a line, for other programs to read as it comes.

It goes on from wherever its reader stopped (`--after`, with the ``id`` of the last line it took), over a restart of the
logger and over a log that is away for a while; whoever reads sees each row of the log once, in its order.
"""

import argparse
import errno
import json
import os
import select
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from shotlog.cli.given import moment
from shotlog.cli.opening import json_escapes, read_settings
from shotlog.cli.place_of_output import file_for
from shotlog.errors import OutputError, StoreError, UsageError

if TYPE_CHECKING:
    from shotlog.notify.feed import Item
    from shotlog.notify.own_log import OwnLog
    from shotlog.settings import Settings
    from shotlog.store.asked.log_place import Place

__all__ = ["follow"]

_LOOK_S = 0.1
_AWAY_S = 1.0
"""Pause after the log could not be read."""
_NOBODY_READS = (errno.EPIPE, errno.EINVAL)
"""What a pipe says whose reader has read enough; the second is Windows' word for it."""


def follow(arguments: argparse.Namespace, stop: threading.Event | None = None) -> int:
    """Write what comes until stopped, or until nobody reads any more; neither is a failure."""
    from shotlog.notify.own_log import OwnLog

    settings = read_settings(arguments.config)
    if arguments.out is not None:
        file_for(arguments.out, "--out", (".ndjson", ".jsonl"), settings)
    log = OwnLog(settings.store, read_only=True)
    try:
        presses = [settings.press(arguments.press).name] if arguments.press else [one.name for one in settings.presses]
        begin = _place_given(arguments, log)
        with suppress(KeyboardInterrupt):
            if arguments.out is None:
                _to_stdout(lambda out: _go_on(settings, presses, log, begin, out, stop or threading.Event()))
            else:
                _to_file(
                    arguments.out, lambda out: _go_on(settings, presses, log, begin, out, stop or threading.Event())
                )
    finally:
        log.close()
    return 0


def _place_given(arguments: argparse.Namespace, log: "OwnLog") -> "Place":
    from shotlog.store.asked.log_place import Place, newest_place, place_since, stands_in

    if arguments.after is not None and arguments.since is not None:
        raise UsageError("--after and --since: given both, allowed: one of them")
    with log().reading() as connection:
        if arguments.after is not None:
            place = Place.of(arguments.after)
            if not stands_in(connection, place):
                raise UsageError(
                    f"--after: given {arguments.after}, which is of another log, allowed: an id of this one"
                )
            return place
        since = moment(arguments.since)
        return newest_place(connection) if since is None else place_since(connection, since)


def _go_on(
    settings: "Settings", presses: list[str], log: "OwnLog", place: "Place", out: TextIO, stop: threading.Event
) -> None:
    from shotlog.notify.feed import Feed
    from shotlog.store.asked.log_place import newest_place, stands_in

    escapes = json_escapes() if out is sys.stdout else False
    site = None if settings.messages is None else settings.messages.site
    opened, feed, is_away = None, None, False
    while not stop.is_set():
        items: list[Item] = []
        try:
            now = log()
            if now is not opened or feed is None:
                with now.reading() as connection:
                    if not stands_in(connection, place):
                        print("another log lies in its place; it goes on with what comes into that", file=sys.stderr)
                        place = newest_place(connection)
                opened, feed = now, Feed(now, presses, settings.designs, site)
            items, place = feed.after(place)
            is_away = False
        except StoreError as error:
            if not is_away:
                print(f"shotlog export: {error}; it goes on once that can be read again", file=sys.stderr)
            is_away = True
            log.close()
        for item in items:
            out.write(f"{json.dumps(item.document, ensure_ascii=escapes, allow_nan=False)}\n")
            out.flush()
        if not items and (_is_unread(out) or stop.wait(_AWAY_S if is_away else _LOOK_S)):
            return


def _is_unread(out: TextIO) -> bool:
    """Say whether nobody reads any more, where the system tells: there may be no line to find out by for hours."""
    if out is not sys.stdout or not hasattr(select, "poll"):
        return False
    with suppress(OSError, ValueError):
        asked = select.poll()
        asked.register(out.fileno(), 0)
        return any(told & (select.POLLERR | select.POLLNVAL) for _, told in asked.poll(0))
    return False


def _to_stdout(write: Callable[[TextIO], None]) -> None:
    try:
        write(sys.stdout)
    except OSError as error:
        if error.errno not in _NOBODY_READS:
            raise
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _to_file(file: Path, write: Callable[[TextIO], None]) -> None:
    try:
        with file.open("a+b") as whole:
            cut_short = whole.tell() > 0 and whole.seek(-1, os.SEEK_END) >= 0 and whole.read(1) != b"\n"
            if cut_short:  # a power cut in the middle of a line must not spoil the next one as well
                whole.write(b"\n")
        with file.open("a", encoding="utf-8", newline="\n") as out:
            write(out)
    except OSError as error:
        raise OutputError(
            f"{file}: it cannot be written ({error.strerror or error}); what stands there stands"
        ) from error
