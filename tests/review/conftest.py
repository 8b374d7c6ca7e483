"""The made-up afternoon as a log on disk, made once: reviews only read it."""

from pathlib import Path

import pytest

from shotlog.settings import Settings
from tests.review.made_up_log import fill, settings_in


@pytest.fixture(scope="session")
def afternoon(tmp_path_factory: pytest.TempPathFactory) -> Settings:
    folder: Path = tmp_path_factory.mktemp("afternoon")
    settings = settings_in(folder)
    fill(settings)
    return settings
