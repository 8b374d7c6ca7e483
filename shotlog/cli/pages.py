"""The pages beside the logging: a process of their own, so that a busy page delays no poll."""

import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from shotlog.access.reach import why_no_pages
from shotlog.cli.beside import Beside
from shotlog.own_python import own_environment, own_python
from shotlog.settings import Settings

__all__ = ["pages", "pages_process"]


@contextmanager
def pages(settings: Settings, wanted: bool, stop: threading.Event) -> Iterator[None]:
    """Serve the pages for the length of the block, or until `stop`."""
    if not wanted:
        yield
        return
    kept = Beside(
        "the pages",
        lambda: pages_process(settings.file, stderr=subprocess.PIPE),
        stop,
        lambda: why_no_pages(settings),
    )
    kept.start()
    try:
        yield
    finally:
        kept.end()


def pages_process(config: Path, *options: str, stderr: int | None = None) -> "subprocess.Popen[bytes]":
    """Start the process that serves the pages; it ends when the end of its standard input that we hold is closed."""
    command = own_python("-m", "dashboard", str(config), "--attached", *options)
    return subprocess.Popen(command, stdin=subprocess.PIPE, stderr=stderr, env=own_environment())  # noqa: S603  (our own Python, its arguments ours; no shell)
