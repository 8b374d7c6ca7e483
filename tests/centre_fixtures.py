"""Centres for tests: a database on the server of this run for each."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from shotlog.store.centre.centre import open_centre
from tests.postgres import Server


@pytest.fixture
def empty_database(server: Server) -> Iterator[str]:
    """The address of an empty database."""
    url = server.make()
    yield url.render_as_string(hide_password=False)
    server.drop(url)


@pytest.fixture(scope="session")
def made_centre(server: Server, of_this_run: Path) -> str:
    """The name of a centre of this release with no edge yet, made once."""
    return str(server.made_once("centre", of_this_run, lambda url: open_centre(url, "1.0").close()).database)


@pytest.fixture
def centre_url(server: Server, made_centre: str) -> Iterator[str]:
    """The address of a centre with no edge yet."""
    url = server.make(template=made_centre)
    yield url.render_as_string(hide_password=False)
    server.drop(url)
