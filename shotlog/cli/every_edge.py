"""A command over all edges of a centre, in order, each under its name; over the one log of a configuration as ever."""

import argparse
import json
import shutil
import sys
import tempfile
from collections.abc import Callable, Sequence
from contextlib import redirect_stdout
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.cli.folder_name import folder_name
from shotlog.cli.opening import ONE_EDGE
from shotlog.errors import ShotlogError, UsageError
from shotlog.settings import load

if TYPE_CHECKING:
    from shotlog.store.centre.edges import Edge

__all__ = ["edge_names", "edges_of", "every_edge", "one_of"]

_OF_ONE = ("press", "expect", "after", "parts")
"""What a command is given that is of one edge alone."""

Run = Callable[[argparse.Namespace], int]
ForEdge = Callable[[argparse.Namespace, str], None]


def edge_names(config: Path, aside: bool = False) -> list[str] | None:
    """Return the edges of the centre that a configuration is about; None where it is about one log.

    `aside`: with those that were set aside, which count nowhere.
    """
    found = edges_of(config)
    return None if found is None else [one.name for one in found if aside or one.set_aside is None]


def edges_of(config: Path) -> "list[Edge] | None":
    """Return all that the centre holds that a configuration is about; None where it is about one log."""
    settings = load(config)
    if not settings.is_centre or settings.edge:
        return None

    from shotlog.store.centre.centre import edges

    return edges(settings.store)


def every_edge(run: Run, for_edge: ForEdge | None = None, *, aside: bool = False) -> Run:
    """Return a command that goes over all edges where the configuration is about a whole centre.

    Its JSON is one object then, with that of each edge under its name, null where it failed. `for_edge` sets what an
    edge is to have of its own in the arguments, such as its file, by a name that a file may have. `aside`: it goes over
    those that were set aside too.
    """

    def over(arguments: argparse.Namespace) -> int:
        names = edge_names(arguments.config, aside)
        if names is None:
            return run(arguments)
        for one in _OF_ONE:
            if getattr(arguments, one, None):
                raise UsageError(f"{one}: given of a whole centre, allowed: {one_of(names)}")
        return _over(names, run, arguments, for_edge)

    return over


def one_of(names: Sequence[str]) -> str:
    """Return what a command that is about one edge is to be given, of those there are."""
    return f"one edge, as store with ?edge=NAME behind it: {', '.join(names) or 'none was shipped yet'}"


def _over(names: Sequence[str], run: Run, arguments: argparse.Namespace, for_edge: ForEdge | None) -> int:
    as_json, worst, folders = getattr(arguments, "json", False), 0, set[str]()
    for n, name in enumerate(names):
        of_one = argparse.Namespace(**vars(arguments))
        if for_edge is not None:
            folders.add(folder := folder_name(name, folders.__contains__))
            for_edge(of_one, folder)
        if as_json:
            print(f"{', ' if n else '{'}{json.dumps(name)}: ", end="")
        else:
            print(f"{chr(10) if n else ''}== {name} ==", flush=True)
        token = ONE_EDGE.set(name)
        try:
            worst = max(worst, _as_json(run, of_one) if as_json else run(of_one))
        except ShotlogError as error:
            print(f"shotlog {arguments.command}: {name}: {error}", file=sys.stderr)
            worst = max(worst, 1)
        finally:
            ONE_EDGE.reset(token)
    if as_json:
        print("}" if names else "{}")
    return worst


def _as_json(run: Run, arguments: argparse.Namespace) -> int:
    """Print the JSON of one edge, all of it or null: what fails half-way must not spoil that of the others."""
    with tempfile.TemporaryFile("w+", encoding="ascii") as apart:
        try:
            with redirect_stdout(apart):
                status = run(arguments)
        except ShotlogError:
            print("null", end="")
            raise
        apart.seek(0)
        shutil.copyfileobj(apart, sys.stdout)
    return status
