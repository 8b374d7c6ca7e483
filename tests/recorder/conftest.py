"""A log on disk, and what tests put in it."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from shotlog.store.log.log import Log, open_log


@pytest.fixture
def url(tmp_path: Path) -> str:
    return f"sqlite:///{(tmp_path / 'trial.db').as_posix()}"


@pytest.fixture(scope="session")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty log, made once: the migrations take longer than most tests."""
    path = tmp_path_factory.mktemp("fresh") / "fresh.db"
    open_log(f"sqlite:///{path.as_posix()}", read_only=False).close()
    return path


@pytest.fixture
def log(url: str, fresh: Path, tmp_path: Path) -> Iterator[Log]:
    shutil.copy(fresh, tmp_path / "trial.db")
    with open_log(url, read_only=False) as opened:
        yield opened
