"""Passwords as they are made at the machine and changed on the pages."""

import re
from pathlib import Path

import pytest

from tests.security.shop import SECRETS, Shop, account, filled
from tests.security.visitor import Visitor


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filled(tmp_path_factory.mktemp("passwords"), with_accounts=True)


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


LONG = "and one more odd word, " * 5
"""Of 115 characters, the last of them a blank."""


def test_a_change_takes_the_old_password_and_all_of_the_new_one(guarded: Shop) -> None:
    old = SECRETS["anna"]
    account(guarded.file, "add", "pia", "--role", "operator", "--initials", "PI", password=old)
    visitor, elsewhere = guarded.visitor(), guarded.visitor()
    assert visitor.log_in("pia", old).status == elsewhere.log_in("pia", old).status == 303

    def change(before: str, after: str) -> int:
        visitor.arrive("/account")
        sent = {"name": "pia", "password": before, "new": after, "again": after}
        return visitor.send_form("/account", sent).status

    assert change("not the old one", LONG) == 422
    assert change("", LONG) in (400, 422)
    assert elsewhere.ask("/account").status == 200
    assert change(old, LONG) == 303
    assert visitor.ask("/account").status == 200, "whoever changed it stays"
    assert elsewhere.ask("/account").status == 302, "wherever else somebody is logged in as that, it ends"
    assert elsewhere.log_in("pia", LONG[:72]).status == 401, "not cut short"
    assert elsewhere.log_in("pia", LONG.strip()).status == 401
    assert change(LONG, old) == 303, "an earlier one may come back"


@pytest.mark.parametrize(("path", "fields"), [
    ("/log-in", {"name": "username", "password": "current-password"}),
    ("/account", {"name": "username", "password": "current-password", "new": "new-password", "again": "new-password"}),
])  # fmt: skip
def test_the_form_helps_a_password_manager(people: dict[str, Visitor], path: str, fields: dict[str, str]) -> None:
    """It says what each field is, hinders no pasting, and asks for nothing else: no hint, no question."""
    text = people["vera"].ask(path).text
    form = next(one for one in re.findall(r"<form.*?</form>", text, re.DOTALL) if 'name="password"' in one)
    asked = {re.findall(r'name="([^"]*)"', one)[0]: one for one in re.findall(r"<input[^>]*>", form) if 'name="' in one}
    assert set(asked) - {"next", "csrf_token"} == set(fields)
    for name, kind in fields.items():
        assert f'autocomplete="{kind}"' in asked[name]
    assert "onpaste" not in text
    assert not re.findall(r'type="password"[^>]*maxlength="([0-9]|[0-9]{2}|1[0-1][0-9])"', text), "room for all of it"


@pytest.mark.parametrize("path", ["/log-in", "/account", "/accounts"])
def test_a_password_can_be_shown_while_it_is_typed(people: dict[str, Visitor], path: str) -> None:
    """By a tick in each form that asks for one; that it shows it is played in `tests/dashboard/test_log_in_page.py`."""
    page = people["anna"].ask(path).text
    forms = [one for one in re.findall(r"<form.*?</form>", page, re.DOTALL) if 'type="password"' in one]
    assert forms
    for form in forms:
        assert re.search('<label class="tick"><input type="checkbox"[^>]*><span>Show it</span></label>', form)
    assert "/assets/log-in.js" in page
    assert people["anna"].ask("/assets/log-in.js").status == 200
