"""Passwords as they are made at the machine and changed on the pages."""

from pathlib import Path

import pytest

from tests.security.shop import SECRETS, account, filled


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop whose first account is there: only then may there be others."""
    trial = filled(tmp_path_factory.mktemp("passwords"))
    trial.close()
    assert account(trial.file, "add", "anna", "--role", "admin", "--initials", "AA", password=SECRETS["anna"])[0] == 0
    return trial.file


@pytest.mark.parametrize("length", [0, 1, 11, 129, 5000])
def test_only_12_to_128_characters_are_taken(file: Path, length: int) -> None:
    password = ("nine odd words and a lorry " * 200)[:length]
    status, said = account(file, "add", "bert", "--role", "viewer", "--initials", "BB", password=password)
    assert status == 2
    assert "12 to 128 characters" in said or "nothing" in said
    assert len(password) < 5 or password not in said


@pytest.mark.parametrize(
    "password",
    ["password1234", "123456789012", "qwertyuiop12", "aaaaaaaaaaaa", "iloveyou1234", "shotlogshotlog", "Password2026!",
     "bert and bert", "abcabcabcabc", "            "],
)  # fmt: skip
def test_what_everybody_takes_is_refused(file: Path, password: str) -> None:
    status, said = account(file, "add", "bert", "--role", "viewer", "--initials", "BB", password=password)
    assert status == 2, "known, or nothing but the name"
    assert password.strip() == "" or password not in said


def test_any_character_will_do(file: Path) -> None:
    words = (
        SECRETS["otto"],
        SECRETS["quinn"],
        "only lower case words",
        "\u00a0\u2003spaces of all kinds",
        "🐈🐕🐈🐕 cats, dogs",
    )
    for number, password in enumerate(words):
        status, said = account(
            file, "add", f"p{number}", "--role", "viewer", "--initials", f"P{number}", password=password
        )
        assert status == 0, said
        assert password not in said
