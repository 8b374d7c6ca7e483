"""With `--engine postgresql`: the log of every configuration that a test writes lies on the server, empty at first.

What the tests themselves do to a file of SQLite then finds none: such tests bear the mark `file`, and are left out.
"""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import URL

from shotlog.settings import whole
from shotlog.settings.section import Section
from shotlog.settings.store_address import SQLITE, store_url
from tests.postgres import Server

__all__ = ["logs_of_configurations"]


def logs_of_configurations(server: Server, fresh: URL) -> Iterator[None]:
    """Let what configurations call a file be a log on the server, for the length of a test."""
    made: dict[str, URL] = {}

    def on_server(log: Section, file: Path) -> str:
        given = store_url(log, file)
        if not given.startswith(SQLITE):
            return given
        if given not in made:
            made[given] = server.make(template=fresh.database)
        return made[given].render_as_string(hide_password=False)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(whole, "store_url", on_server)
        yield
    for url in made.values():
        server.drop(url)
