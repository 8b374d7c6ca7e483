"""Long work on a file that can be broken off at any moment: between two steps, and in the middle of the database's own.

Whoever begins such work says when it is to end, for itself alone: what others do at the same time goes on.
"""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TypeVar

from sqlalchemy import Engine, event

__all__ = ["BrokenOffError", "break_off_when", "copy_all", "go_on", "heeding"]

_AFTER_STEPS = 20_000
"""Steps of the database's machine between two looks: some milliseconds."""
_PAGES = 1_000
"""Pages that are copied between two looks."""

Opened = TypeVar("Opened", sqlite3.Connection, Engine)

_wish: ContextVar[Callable[[], bool] | None] = ContextVar("wish", default=None)


class BrokenOffError(BaseException):
    """The work is to end now; no `Exception`, for what is broken off must not be taken for a file that is damaged."""


@contextmanager
def break_off_when(wish: Callable[[], bool]) -> Iterator[None]:
    """For the length of the block, and for this thread, break off long work once `wish` says so."""
    token = _wish.set(wish)
    try:
        yield
    finally:
        _wish.reset(token)


def _wished() -> bool:
    wish = _wish.get()
    return wish is not None and wish()


def go_on() -> None:
    """Do nothing, between two steps.

    Raises
    ------
    BrokenOffError
        The work is to end.
    """
    if _wished():
        raise BrokenOffError


def heeding(opened: Opened) -> Opened:
    """Return a connection, or an engine, whose long statements end as interrupted; `go_on` then tells why."""
    if isinstance(opened, Engine):
        event.listen(opened, "connect", lambda connection, _: _heed(connection))
    else:
        _heed(opened)
    return opened


def _heed(connection: sqlite3.Connection) -> None:
    wish = _wish.get()
    if wish is not None:
        connection.set_progress_handler(lambda: int(wish()), _AFTER_STEPS)


def copy_all(source: sqlite3.Connection, target: sqlite3.Connection) -> None:
    """Copy a database page by page, as far as nobody wants it to end."""
    source.backup(target, pages=_PAGES, progress=lambda *_: go_on())
