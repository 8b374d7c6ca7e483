"""The shops that the tests of a worker share: one where nobody logs in, one with accounts; each logs in once."""

from collections.abc import Iterator

import pytest

from tests.security.shop import ROLES, SECRETS, Shop, accounts, filled, name_oddly, serving
from tests.security.visitor import Visitor


@pytest.fixture(scope="session")
def alone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop on loopback, where nobody logs in."""
    trial = filled(tmp_path_factory.mktemp("alone"), 'hosts = ["shop-pc"]')
    trial.close()
    name_oddly(trial.file)
    with serving(trial.file) as shop:
        yield shop


@pytest.fixture(scope="session")
def guarded(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """A shop where everybody logs in."""
    trial = filled(tmp_path_factory.mktemp("guarded"), "login = true")
    trial.close()
    accounts(trial.file)
    with serving(trial.file) as shop:
        yield shop


@pytest.fixture(scope="session")
def people(guarded: Shop) -> dict[str, Visitor]:
    """Everybody who has an account there, logged in."""
    visitors = {name: guarded.visitor() for name in ROLES}
    for name, visitor in visitors.items():
        assert visitor.log_in(name, SECRETS[name]).status == 303
    return visitors
