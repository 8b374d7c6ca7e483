"""Long statistical tests: run by hand with `pytest -m long tests/long`, left out otherwise."""

import pytest


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out what is marked long unless it was asked for."""
    if "long" in config.getoption("-m"):
        return
    long = [item for item in items if item.get_closest_marker("long")]
    items[:] = [item for item in items if item not in long]
    config.hook.pytest_deselected(items=long)
