"""The shops that the tests of a worker share: one where nobody logs in, one with accounts; each logs in once."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.security.shop import ROLES, SECRETS, Shop, filled, name_oddly, serving
from tests.security.visitor import Visitor


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Let the tests of this room follow one another, so that one worker has them and the shops are opened once."""
    items.sort(key=lambda item: item.path.parent != Path(__file__).parent)


@pytest.fixture(scope="session")
def alone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop on loopback, where nobody logs in."""
    file = filled(tmp_path_factory.mktemp("alone"), 'hosts = ["shop-pc"]')
    name_oddly(file)
    with serving(file) as shop:
        yield shop


@pytest.fixture(scope="session")
def guarded(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop where everybody logs in."""
    with serving(filled(tmp_path_factory.mktemp("guarded"), "login = true", with_accounts=True)) as shop:
        yield shop


@pytest.fixture(scope="session")
def people(guarded: Shop) -> dict[str, Visitor]:
    """Everybody who has an account there, logged in."""
    visitors = {name: guarded.visitor() for name in ROLES}
    for name, visitor in visitors.items():
        assert visitor.log_in(name, SECRETS[name]).status == 303
    return visitors
