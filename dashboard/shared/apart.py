"""Work too heavy for the process that serves the pages, done in a process of its own.

A thread would not do: while it computes, every row another thread reads from the log waits its turn (5 ms each), and
the page at the press with it.
"""

import os
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from tempfile import TemporaryFile
from typing import TypeVar

from shotlog.errors import ShotlogError, StoreUnreachable
from shotlog.own_python import own_environment, own_python
from shotlog.settings import Settings

__all__ = ["apart", "end_with", "main"]

T = TypeVar("T")


def apart(job: Callable[[Settings], T], settings: Settings) -> T:
    """Do a job, a function of a module, in a process of its own and return what it found.

    Raises
    ------
    StoreUnreachable
        The log cannot be read, or the process died.
    """
    command = own_python("-c", "from dashboard.shared.apart import main; main()")
    with (
        TemporaryFile() as errors,
        subprocess.Popen(  # noqa: S603  (our own Python, its arguments ours; no shell)
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=errors, env=own_environment()
        ) as process,
    ):
        said = _ask(process, pickle.dumps((job, settings)))
        if process.wait() != 0:
            errors.seek(0)
            last = errors.read().decode(errors="replace").strip().splitlines()[-1:]
            why = " ".join(last) or "no word why"
            raise StoreUnreachable(f"{job.__module__}: its process ended with {process.returncode}: {why}")
    found: T
    found, refused = pickle.loads(said)  # noqa: S301  (by a pipe that only the two of us hold)
    if refused:
        raise StoreUnreachable(refused)
    return found


def _ask(process: "subprocess.Popen[bytes]", asked: bytes) -> bytes:
    """Send what is asked and return the answer; the pipe stays open meanwhile, as a sign that somebody waits for it."""
    if process.stdin is None or process.stdout is None:
        return b""
    with suppress(BrokenPipeError):
        process.stdin.write(asked)
        process.stdin.flush()
    return process.stdout.read()


def end_with(pipe: int, end: Callable[[], None]) -> threading.Thread:
    """Call `end` once the other end of a pipe is closed: nobody waits for the answer any more."""

    def watch() -> None:
        while os.read(pipe, 1):
            pass
        end()

    thread = threading.Thread(target=watch, name="watch", daemon=True)
    thread.start()
    return thread


def main() -> None:
    """Be that process: read the job and the settings, do it, write what was found."""
    job, settings = pickle.load(sys.stdin.buffer)  # noqa: S301  (by a pipe that only the two of us hold)
    end_with(sys.stdin.fileno(), lambda: os._exit(3))
    found, refused = None, ""
    try:
        found = job(settings)
    except ShotlogError as error:
        refused = str(error)
    sys.stdout.buffer.write(pickle.dumps((found, refused)))
    sys.stdout.buffer.flush()
