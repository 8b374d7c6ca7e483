"""Python as we start it ourselves: with nothing on its path from the folder that somebody happened to stand in.

``python -m`` puts that folder before all others, and a file ``statistics.py`` or ``dashboard.py`` in it would be
executed in place of what was meant. Nothing is imported here that is not loaded when Python starts.
"""

import os
import sys
from collections.abc import MutableMapping

__all__ = ["leave_folder", "own_environment", "own_python"]


def leave_folder() -> None:
    """Take the working folder off the import path of this process; first of all things in a ``__main__``.

    Where our own code lies there, in a checkout that is not installed, it goes to the end of the path.
    """
    here, ours = _same("."), _same(os.path.dirname(os.path.dirname(__file__)))  # noqa: PTH120
    sys.path[:] = [path for path in sys.path if path and _same(path) != here] + [here] * (here == ours)


def own_python(*arguments: str) -> list[str]:
    """Return the command that runs Python on `arguments`, with what this process has and no folder before it."""
    return [sys.executable, "-P", *arguments]


def own_environment() -> MutableMapping[str, str]:
    """Return the environment of a Python that finds what this process finds, and leaves the folder off as well."""
    paths = os.pathsep.join(path for path in sys.path if path)
    return {**os.environ, "PYTHONPATH": paths, "PYTHONSAFEPATH": "1", "PYTHONIOENCODING": "utf-8"}


def _same(path: str) -> str:
    return os.path.normcase(os.path.realpath(path))
