"""A log on disk, and what tests put in it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from shotlog.store.log import Log, open_log


@pytest.fixture
def url(tmp_path: Path) -> str:
    return f"sqlite:///{(tmp_path / 'trial.db').as_posix()}"


@pytest.fixture
def log(url: str) -> Iterator[Log]:
    with open_log(url, read_only=False) as opened:
        yield opened
