"""Work too heavy for the process that serves the pages, done in a process of its own.

A thread would not do: while it computes, every row another thread reads from the log waits its turn (5 ms each), and
the page at the press with it.
"""

import os
import pickle
import subprocess
import sys
from importlib import import_module
from typing import Any

from shotlog.errors import ShotlogError, StoreUnreachable
from shotlog.settings import Settings

__all__ = ["JOBS", "apart"]

JOBS = {"ledger": ("dashboard.ledger", "work_out"), "doubts": ("dashboard.held", "work_out")}
"""What can be done apart: module and function, which is given the settings; loaded when it is asked for."""


def apart(job: str, settings: Settings) -> Any:
    """Do a job in a process of its own and return what it found.

    Raises
    ------
    StoreUnreachable
        The log cannot be read, or the process died.
    """
    paths = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    command = [sys.executable, "-m", "dashboard.apart", job]
    ran = subprocess.run(command, input=pickle.dumps(settings), capture_output=True, check=False, env=paths)
    if ran.returncode != 0:
        last = ran.stderr.decode(errors="replace").strip().splitlines()[-1:]
        raise StoreUnreachable(f"{job}: its process ended with {ran.returncode}: {' '.join(last) or 'no word why'}")
    found, refused = pickle.loads(ran.stdout)
    if refused:
        raise StoreUnreachable(refused)
    return found


def _main() -> None:
    module, function = JOBS[sys.argv[1]]
    found, refused = None, ""
    try:
        found = getattr(import_module(module), function)(pickle.load(sys.stdin.buffer))
    except ShotlogError as error:
        refused = str(error)
    sys.stdout.buffer.write(pickle.dumps((found, refused)))


if __name__ == "__main__":
    _main()
