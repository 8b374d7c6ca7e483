"""With `--engine postgresql`: the log of every configuration that a test writes lies on the server, empty at first.

What tests themselves do to a file of SQLite then finds none: such tests bear the mark `file`, or are told by their
text, and are left out.
"""

import inspect
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TypeVar

import pytest
from sqlalchemy import URL

from shotlog.settings import whole
from shotlog.settings.section import Section
from shotlog.settings.store_address import SQLITE, store_url
from shotlog.store.log import log as log_module
from shotlog.store.log.log import Log, opened_as
from tests.postgres import Server

__all__ = ["LogsOnServer", "is_about_a_file"]

Opened = TypeVar("Opened", bound=Log)


def is_about_a_file(item: pytest.Item) -> bool:
    """Say whether a test looks into the file of its log itself."""
    if item.get_closest_marker("file") or not isinstance(item, pytest.Function):
        return bool(item.get_closest_marker("file"))
    return hasattr(item.module, "sqlite3") or ".db" in inspect.getsource(item.function)


class LogsOnServer:
    """Logs on a server in place of files: one for each address of a file that is asked for."""

    def __init__(self, server: Server, fresh: URL) -> None:
        self._server, self._fresh = server, fresh
        self._made: dict[str, URL] = {}

    def __len__(self) -> int:
        return len(self._made)

    def at(self, address: str) -> str:
        """Return the address of the log that stands for the one in a file."""
        if address not in self._made:
            self._made[address] = self._server.make(template=self._fresh.database)
        return self._made[address].render_as_string(hide_password=False)

    @contextmanager
    def configured(self) -> Iterator[None]:
        """Let configurations that name a file name the log on the server, for the length of the block."""

        def on_server(log: Section, file: Path) -> str:
            given = store_url(log, file)
            return self.at(given) if given.startswith(SQLITE) else given

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(whole, "store_url", on_server)
            patch.setattr(log_module, "opened_as", self._opened_as)
            yield

    def _opened_as(self, kind: type[Opened], url: str, read_only: bool) -> Opened:
        """Open a log as it stands in a file, if it does: a backup, an archive; else the one on the server."""
        path = Path(url.removeprefix(SQLITE))
        return opened_as(kind, self.at(url) if url.startswith(SQLITE) and not path.exists() else url, read_only)

    def drop_since(self, number: int) -> None:
        """Drop all that were made after so many."""
        for address in list(self._made)[number:]:
            self._server.drop(self._made.pop(address))
