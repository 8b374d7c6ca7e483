"""Accounts as they are made at the machine: what is kept of them, what is told of them, and what works without."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.security.shop import SECRETS, account, filled, serving


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filled(tmp_path_factory.mktemp("accounts"), with_accounts=True)


def all_files(file: Path) -> Iterator[bytes]:
    return (one.read_bytes() for one in file.parent.rglob("*") if one.is_file())


def test_the_file_holds_no_password(file: Path) -> None:
    assert not [kept for kept in all_files(file) if SECRETS["anna"].encode() in kept]
    (kept,) = (one for one in file.parent.glob("*.accounts"))
    assert "scrypt:" in kept.read_text(encoding="utf-8")
    assert kept.stat().st_mode & 0o077 == 0, "for who runs shotlog alone"


def test_a_change_of_an_account_is_on_record(file: Path) -> None:
    """With who made it and when; nothing of the password, old or new."""
    assert account(file, "add", "bert", "--role", "viewer", "--initials", "BB", password="a bucket of sand")[0] == 0
    assert account(file, "password", "bert", password="a bucket of gravel")[0] == 0
    assert account(file, "role", "bert", "--role", "operator")[0] == 0
    assert account(file, "remove", "bert")[0] == 0
    status, said = account(file, "list", "--json")
    assert status == 0
    assert "bucket" not in said
    assert "scrypt" not in said
    changes = [each for each in json.loads(said)["changes"] if each["account"] == "bert"]
    assert [each["change"] for each in changes] == ["made", "password", "role", "closed"]
    assert all(each["by"] and each["time"] for each in changes)


def test_no_other_host_is_served_without_accounts(tmp_path: Path) -> None:
    asked = serving(filled(tmp_path), "--host", "0.0.0.0")
    with pytest.raises(AssertionError, match=r"nobody has an account; make one with: shotlog account"), asked:
        pass
