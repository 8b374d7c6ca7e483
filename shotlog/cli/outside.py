"""The head of the log, told and written down whenever something leaves the log that will be kept elsewhere."""

import sys
from typing import TYPE_CHECKING

from shotlog.clock import SystemClock
from shotlog.errors import StoreUnreachable
from shotlog.wording.numbers import some

if TYPE_CHECKING:
    from shotlog.settings import Settings
    from shotlog.store.keeping.head import Head
    from shotlog.store.log.log import Log

__all__ = ["head_told", "written_down"]


def head_told(log: "Log", settings: "Settings", head: "Head", by: str) -> None:
    """Say a head on stderr, for `shotlog verify --expect`, and write it down outside; see `written_down`."""
    print(f"log: {some(head.links, 'transaction')}, last digest {head.digest}", file=sys.stderr)
    written_down(log, settings, head, by)


def written_down(log: "Log", settings: "Settings", head: "Head", by: str) -> None:
    """Write a head down in the folder of anchors, if there is one.

    A folder out of reach is said, and is no failure of what was asked for.

    Raises
    ------
    StoreDamaged
        The log is not what was written down there before.
    """
    from shotlog.store.keeping.anchors import write_anchor

    if settings.anchor is None:
        return
    try:
        write_anchor(log, settings.anchor, by, SystemClock().now(), head)
    except StoreUnreachable as error:
        print(f"WARNING: the head of the log is not written down outside: {error}", file=sys.stderr)
