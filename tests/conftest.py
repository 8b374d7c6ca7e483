"""A log on disk for every room that needs one; generated examples are the same in every run, and none is timed."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import flask
import hypothesis
import pytest
from sqlalchemy import Engine, inspect

from shotlog.settings import Settings
from shotlog.store.log import engine as store_engine
from shotlog.store.log.log import Log, open_log
from tests.page_client import PageClient

# what writes says the token that the server left in a cookie, as a page does
flask.Flask.test_client_class = PageClient

hypothesis.settings.register_profile("repeatable", deadline=None, derandomize=True)
hypothesis.settings.load_profile("repeatable")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what is marked long unless it was asked for."""
    if "long" in config.getoption("-m"):
        return
    long = [item for item in items if item.get_closest_marker("long")]
    items[:] = [item for item in items if item not in long]
    config.hook.pytest_deselected(items=long)


@pytest.fixture
def url(tmp_path: Path) -> str:
    return f"sqlite:///{(tmp_path / 'trial.db').as_posix()}"


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
        statements = list(made.iterdump())[1:-1]  # without the begin and the commit

    def make(engine: Engine) -> None:
        with engine.begin() as connection:
            if engine.dialect.name == "sqlite" and not inspect(connection).get_table_names():
                for statement in statements:
                    connection.exec_driver_sql(statement)
                return
        _migrate(engine)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(store_engine, "_migrate", make)
        yield


@pytest.fixture
def by_migrations(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make new logs by the migrations, as in earnest."""
    monkeypatch.setattr(store_engine, "_migrate", _migrate)


@pytest.fixture
def log(url: str, fresh: Path, tmp_path: Path) -> Iterator[Log]:
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
