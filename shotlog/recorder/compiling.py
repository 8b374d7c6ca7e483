"""Compiling in a process of its own, the first time on a machine.

Beside the threads that read presses, in their own interpreter, the compiler holds them up for tenths of a second again
and again; and what a press shows may be gone by then. What the other process made is fetched from where it is kept.
"""

import hashlib
import logging
import os
import subprocess
import sys
import threading
from pathlib import Path

from shotlog.own_python import own_environment, own_python
from shotlog.recorder.rehearsal import rehearse
from shotlog.wear.compiled.compiler import compiler_named, compiles
from shotlog.writable_folders import code_can_be_kept, compiled_folder

__all__ = ["compile_apart_then_rehearse", "is_compiled", "main"]

_LOOPS = Path(__file__).parents[1] / "wear" / "compiled"
_NICE = 10

logger = logging.getLogger(__name__)


def compile_apart_then_rehearse() -> None:
    """Make all ready for judging; what cannot be done apart is done here."""
    if not is_compiled() and code_can_be_kept():
        _compile_apart()
    rehearse()


def is_compiled() -> bool:
    """Say whether judging needs no compiler any more, as far as is known."""
    return not compiles() or _done_before().exists()


def _compile_apart() -> None:
    command = own_python("-c", "from shotlog.recorder.compiling import main; main()")
    below = getattr(subprocess, "BELOW_NORMAL_PRIORITY_CLASS", 0)
    try:
        done = subprocess.Popen(  # noqa: S603  (our own Python, its arguments ours; no shell)
            command, stdin=subprocess.PIPE, stderr=subprocess.DEVNULL, env=own_environment(), creationflags=below
        )
        with done:
            done.wait()
        if done.returncode == 0:
            _done_before().touch()
    except OSError as error:
        logger.warning("compiling beside the logging could not be done apart: %s", error)


def _done_before() -> Path:
    """Return the file that says that these loops were compiled by this compiler on this machine."""
    sources = [(file.name, file.stat().st_mtime_ns, file.stat().st_size) for file in sorted(_LOOPS.glob("*.py"))]
    named = hashlib.sha256(repr((compiler_named(), sys.version, sources)).encode()).hexdigest()[:16]
    return compiled_folder() / f"shotlog-{named}.compiled"


def main() -> None:
    """Be that process: compile, at a low priority, and end at once when whoever started it does."""
    threading.Thread(target=_end_with_who_started_it, daemon=True).start()
    if hasattr(os, "nice"):
        os.nice(_NICE)
    rehearse()


def _end_with_who_started_it() -> None:
    while os.read(sys.stdin.fileno(), 1):
        pass
    os._exit(1)
