"""A function called in a process of its own, so that the libraries it loads leave with it."""

import pickle
import subprocess
import sys
from collections.abc import Callable
from signal import SIG_IGN, SIGINT, signal
from typing import Any

from shotlog.errors import ShotlogError
from shotlog.own_python import own_environment, own_python

__all__ = ["apart", "main"]


def apart(function: Callable[..., Any], *given: object) -> Any:
    """Return what a function of a module returns; it runs in a new interpreter that loads nothing of the caller.

    Raises
    ------
    ShotlogError
        That process died; its last word is on stderr.
    """
    command = own_python("-c", "from shotlog.review.apart import main; main()")
    done = subprocess.run(  # noqa: S603  (our own Python, its arguments ours; no shell)
        command, input=pickle.dumps((function, given)), stdout=subprocess.PIPE, env=own_environment(), check=False
    )
    if done.returncode != 0:
        raise ShotlogError(f"{function.__name__}: its process ended with {done.returncode}")
    return pickle.loads(done.stdout)  # noqa: S301  (by a pipe that only the two of us hold)


def main() -> None:
    """Be that process: read function and arguments, write what it returned. Ctrl-C is for who asked, who ends it."""
    signal(SIGINT, SIG_IGN)
    function, given = pickle.load(sys.stdin.buffer)  # noqa: S301  (by a pipe that only the two of us hold)
    sys.stdout.buffer.write(pickle.dumps(function(*given)))
