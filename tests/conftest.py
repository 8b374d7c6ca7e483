"""A log on disk for every room that needs one; generated examples are the same in every run, and none is timed."""

import gc
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, nullcontext
from pathlib import Path
from typing import Any

import flask
import hypothesis
import pytest
from sqlalchemy import URL, Engine, create_engine, inspect
from sqlalchemy.dialects.postgresql.psycopg import PGDialect_psycopg
from sqlalchemy.dialects.sqlite.pysqlite import SQLiteDialect_pysqlite
from sqlalchemy.util import LRUCache

from shotlog.settings import Settings
from shotlog.store.log import engine as store_engine
from shotlog.store.log import server as store_server
from shotlog.store.log.log import Log, open_log
from tests.logs_on_server import LogsOnServer, is_about_a_file
from tests.page_client import PageClient
from tests.postgres import Server, server_for_tests

# what writes says the token that the server left in a cookie, as a page does
flask.Flask.test_client_class = PageClient

hypothesis.settings.register_profile("repeatable", deadline=None, derandomize=True)
hypothesis.settings.load_profile("repeatable")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the logs of tests lie on a server: see `make test-postgres`."""
    parser.addoption("--engine", choices=("sqlite", "postgresql"), default="sqlite", help="where logs of tests lie")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what is marked long unless it was asked for, and what is about files where the logs lie on a server."""
    out = [] if "long" in config.getoption("-m") else ["long"]
    left = [item for item in items if any(item.get_closest_marker(name) for name in out)]
    if config.getoption("--engine") == "postgresql":
        left += [item for item in items if item not in left and is_about_a_file(item)]
    items[:] = [item for item in items if item not in left]
    config.hook.pytest_deselected(items=left)


# What is read to collect the tests stays to the end: no worker looks through it for garbage, then or later.
gc.disable()


def pytest_collection_finish() -> None:
    """Look for garbage from here on, in what the tests make."""
    gc.freeze()
    gc.enable()


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run what is marked `either` on a server as well."""
    if metafunc.definition.get_closest_marker("either") and metafunc.config.getoption("--engine") == "sqlite":
        metafunc.parametrize("logs_on_server", ("file", "server"), indirect=True)


@pytest.fixture(scope="session")
def of_this_run(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that all processes of this run share."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if hasattr(request.config, "workerinput") else own


@pytest.fixture(scope="session")
def server(of_this_run: Path) -> Iterator[Server]:
    """The PostgreSQL server of this run."""
    with server_for_tests(of_this_run) as found:
        yield found


@pytest.fixture(scope="session")
def fresh_on_server(server: Server, of_this_run: Path) -> URL:
    """An empty log on the server, made once."""
    return server.made_once("fresh", of_this_run, lambda url: open_log(url, read_only=False).close())


@pytest.fixture
def server_url(server: Server, fresh_on_server: URL) -> Iterator[str]:
    """The address of an empty log on the server, of this test alone."""
    url = server.make(template=fresh_on_server.database)
    yield url.render_as_string(hide_password=False)
    server.drop(url)


@pytest.fixture(scope="session")
def all_logs_on_server(server: Server, fresh_on_server: URL) -> Iterator[LogsOnServer]:
    """What stands for logs in files where those of tests lie on a server."""
    logs = LogsOnServer(server, fresh_on_server)
    yield logs
    logs.drop_in()


@pytest.fixture(scope="session", autouse=True)
def _everywhere_on_server(request: pytest.FixtureRequest) -> Iterator[None]:
    """With `--engine postgresql`, let no log lie in a file."""
    if request.config.getoption("--engine") == "sqlite":
        yield
        return
    with request.getfixturevalue("all_logs_on_server").configured():
        yield


@pytest.fixture(autouse=True)
def logs_on_server(request: pytest.FixtureRequest) -> Iterator[LogsOnServer | None]:
    """The logs on a server where those of this test lie there, None where they lie in files.

    What a test made there in its own folder is dropped, so that no other test reads it.
    """
    everywhere = request.config.getoption("--engine") != "sqlite"
    if not everywhere and getattr(request, "param", "file") == "file":
        yield None
        return
    logs, folder = request.getfixturevalue("all_logs_on_server"), request.getfixturevalue("tmp_path")
    with nullcontext() if everywhere else logs.configured():
        yield logs
    assert logs.drop_in(folder) or everywhere, "marked to run on a server, and has no log there"


@pytest.fixture
def url(logs_on_server: LogsOnServer | None, tmp_path: Path) -> str:
    in_file = f"sqlite:///{(tmp_path / 'trial.db').as_posix()}"
    return in_file if logs_on_server is None else logs_on_server.at(in_file)


@pytest.fixture(scope="session")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty log, made once: the migrations take longer than most tests."""
    path = tmp_path_factory.mktemp("fresh") / "fresh.db"
    open_log(f"sqlite:///{path.as_posix()}", read_only=False).close()
    return path


_migrate = store_engine._migrate


@pytest.fixture(scope="session", autouse=True)
def _tables_at_once(fresh: Path) -> Iterator[None]:
    """Give a log that a test makes anew the tables of `fresh` at once, as the migrations left them there."""
    with closing(sqlite3.connect(fresh)) as made:
        statements = list(made.iterdump())[1:-1]  # without the begin and the commit; none where it lies on a server

    def make(engine: Engine) -> None:
        with engine.begin() as connection:
            if engine.dialect.name == "sqlite" and statements and not inspect(connection).get_table_names():
                for statement in statements:
                    connection.exec_driver_sql(statement)
                return
        _migrate(engine)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(store_engine, "_migrate", make)
        yield


_write_settings = store_engine._write_settings


@pytest.fixture(scope="session", autouse=True)
def _disk_not_waited_for() -> Iterator[None]:
    """Let what a test commits here be on the disk when the system likes: no power is cut, and many shots are made."""

    def settings(connection: sqlite3.Connection, record: object) -> None:
        _write_settings(connection, record)
        connection.execute("PRAGMA synchronous=OFF").close()

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(store_engine, "_write_settings", settings)
        yield


@pytest.fixture
def disk_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """Commit as in earnest."""
    monkeypatch.setattr(store_engine, "_write_settings", _write_settings)


@pytest.fixture(scope="session", autouse=True)
def _statements_compiled_once() -> Iterator[None]:
    """Let all logs share what the library made of a statement: each engine keeps its own, and tests open many logs."""
    shared = LRUCache[Any, Any](2000)

    def make(*given: Any, **how: Any) -> Engine:
        engine = create_engine(*given, **how)
        engine.update_execution_options(compiled_cache=shared)
        return engine

    with pytest.MonkeyPatch.context() as patch:
        for kind in (SQLiteDialect_pysqlite, PGDialect_psycopg):  # part of what a statement is kept by
            patch.setattr(kind, "__eq__", lambda one, other: type(one) is type(other))
            patch.setattr(kind, "__hash__", lambda one: hash(type(one)))
        for module in (store_engine, store_server):
            patch.setattr(module, "create_engine", make)
        yield


@pytest.fixture
def by_migrations(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make new logs by the migrations, as in earnest."""
    monkeypatch.setattr(store_engine, "_migrate", _migrate)


@pytest.fixture
def log(url: str, fresh: Path, tmp_path: Path) -> Iterator[Log]:
    if url.startswith("sqlite"):
        shutil.copy(fresh, tmp_path / "trial.db")
    with open_log(url, read_only=False) as opened:
        yield opened


@pytest.fixture(scope="session")
def afternoon(tmp_path_factory: pytest.TempPathFactory) -> Settings:
    """The made-up afternoon as a log on disk, made once: reviews and reports only read it."""
    from tests.review.made_up_log import fill, settings_in

    settings = settings_in(tmp_path_factory.mktemp("afternoon"))
    fill(settings)
    return settings
