"""Every example configuration loads, and every collector in it checks its keys."""

from pathlib import Path

import pytest

from shotlog.collectors import balance_options, options
from shotlog.settings import load

CONFIGS = sorted((Path(__file__).parents[2] / "config").glob("*.toml"))


def test_there_are_examples() -> None:
    assert CONFIGS


@pytest.mark.parametrize("file", CONFIGS, ids=lambda file: file.name)
def test_an_example_loads(file: Path) -> None:
    settings = load(file)
    for press in settings.presses:
        assert options(press).describe()
    for balance in settings.balances:
        assert balance_options(balance).describe()
    assert settings.cautions == settings.hints == ()
