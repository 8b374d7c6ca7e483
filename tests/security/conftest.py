"""The shops that the tests of a worker share: one where nobody logs in, one with accounts."""

from collections.abc import Iterator

import pytest

from tests.security.shop import Shop, filled, name_oddly, serving


@pytest.fixture(scope="session")
def alone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop on loopback, where nobody logs in."""
    trial = filled(tmp_path_factory.mktemp("alone"))
    trial.close()
    name_oddly(trial.file)
    with serving(trial.file) as shop:
        yield shop
