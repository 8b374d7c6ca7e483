"""The file of accounts: who there is, what cannot be, what the log is told, and that it is read anew."""

import json
import stat
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from shotlog.access import passwords
from shotlog.access.accounts import Accounts
from shotlog.clock import HandClock
from shotlog.errors import AccountsUnreadable, StoreUnreachable, UsageError
from shotlog.records import AccountChange

ODD = "eleven brass kettles"


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")


@pytest.fixture
def accounts(tmp_path: Path) -> Accounts:
    made = Accounts(tmp_path / "trial.db.accounts", HandClock())
    made.add("Ann Admin", "AA", "admin", ODD, "root at press-pc")
    made.add("kb", "KB", "operator", ODD, "root at press-pc")
    return made


def test_an_account_is_found_by_its_name_in_whichever_case(accounts: Accounts) -> None:
    found = accounts.find(" KB ")
    assert found is not None
    assert (found.name, found.initials, found.role) == ("kb", "KB", "operator")
    assert passwords.matches(ODD, found.kept)
    assert not passwords.matches(ODD + "!", found.kept)
    assert accounts.find("nobody") is None


CANNOT: list[tuple[Callable[[Accounts], object], str]] = [
    (lambda it: it.add("KB", "XX", "viewer", ODD, "me"), "account kb: there is one already"),
    (lambda it: it.add("new", "kb", "viewer", ODD, "me"), "allowed: others than those of kb"),
    (lambda it: it.add("new", "N N", "viewer", ODD, "me"), "1 to 8 letters or digits"),
    (lambda it: it.add("new\n", "N", "viewer", ODD, "me"), "1 to 40 letters"),
    (lambda it: it.add("new", "N", "chief", ODD, "me"), "allowed: viewer, operator, quality, admin"),
    (lambda it: it.add("new", "N", "viewer", "short", "me"), "given 5 characters, allowed: 12 to 128"),
    (lambda it: it.close("nobody", "me"), "allowed: Ann Admin, kb"),
    (lambda it: it.close("ann admin", "me"), "it is the last admin; make another one first"),
    (lambda it: it.set_role("Ann Admin", "quality", "me"), "it is the last admin; make another one first"),
    (lambda it: it.set_initials("kb", "aa", "me"), "others than those of Ann Admin"),
    (lambda it: it.set_password("kb", "short", "me"), "given 5 characters"),
]


@pytest.mark.parametrize(("change", "said"), CANNOT)
def test_what_cannot_be_is_refused_and_changes_nothing(
    accounts: Accounts, change: Callable[[Accounts], object], said: str
) -> None:
    before = accounts.path.read_bytes()
    with pytest.raises(UsageError, match=said):
        change(accounts)
    assert accounts.path.read_bytes() == before


def test_the_first_account_is_an_admin_and_with_a_second_one_the_first_may_go(tmp_path: Path) -> None:
    accounts = Accounts(tmp_path / "a", HandClock())
    assert not accounts.is_any()
    with pytest.raises(UsageError, match="the first account has to be admin"):
        accounts.add("kb", "KB", "operator", ODD, "me")
    accounts.add("ann", "AA", "admin", ODD, "me")
    accounts.add("bob", "BB", "admin", ODD, "me")
    accounts.set_role("ann", "viewer", "me")
    assert [one.role for one in accounts.all()] == ["viewer", "admin"]


def test_initials_that_signed_are_nobody_elses(accounts: Accounts) -> None:
    """Whose entries were signed KB was told by the file of accounts alone, and it gave KB away."""
    accounts.set_initials("kb", "KM", "me")
    accounts.set_initials("kb", "K3", "me")
    accounts.set_role("kb", "quality", "me")
    again = Accounts(accounts.path, HandClock())
    for taken in ("kb", "KM", "K3"):
        with pytest.raises(UsageError, match="others than those of kb"):
            again.add("kurt", taken, "operator", ODD, "me")
    again.close("kb", "me")
    assert again.add("kb", "K4", "operator", ODD, "me").earlier == ("KB", "KM", "K3")
    with pytest.raises(UsageError, match="others than those of kb"):
        again.set_initials("Ann Admin", "K3", "me")
    assert again.set_initials("kb", "KB", "me").earlier == ("KM", "K3", "K4")


def test_a_file_of_before_earlier_initials_were_kept_is_read(accounts: Accounts) -> None:
    held = json.loads(accounts.path.read_text(encoding="utf-8"))
    for one in held["accounts"]:
        del one["earlier"]
    accounts.path.write_text(json.dumps(held), encoding="utf-8")
    assert [one.earlier for one in Accounts(accounts.path, HandClock()).all()] == [(), ()]


def test_a_closed_account_keeps_its_name_and_initials_to_itself(accounts: Accounts) -> None:
    accounts.close("kb", "me")
    assert accounts.find("kb") is None
    with pytest.raises(UsageError, match="others than those of kb, which is closed"):
        accounts.add("karl b", "KB", "viewer", ODD, "me")
    accounts.add("KB", "KB", "viewer", ODD, "me")
    assert [(one.name, one.role, one.is_open) for one in accounts.all()] == [
        ("Ann Admin", "admin", True),
        ("kb", "viewer", True),
    ]


def test_a_change_by_another_program_holds_at_once(accounts: Accounts) -> None:
    seen = Accounts(accounts.path, HandClock())
    assert seen.find("kb") is not None
    accounts.close("kb", "me")
    assert seen.find("kb") is None


def test_the_log_is_told_every_change_once_and_no_password(accounts: Accounts) -> None:
    accounts.set_role("kb", "quality", "Ann Admin")
    accounts.set_password("kb", "seven copper spoons", "kb")

    def away(_changes: object) -> None:
        raise StoreUnreachable("the disk is full")

    with pytest.raises(StoreUnreachable):
        accounts.tell(away)
    told: list[AccountChange] = []
    accounts.tell(told.extend)
    accounts.tell(told.extend)
    assert [(one.account, one.change, one.role, one.by) for one in told] == [
        ("Ann Admin", "made", "admin", "root at press-pc"),
        ("kb", "made", "operator", "root at press-pc"),
        ("kb", "role", "quality", "Ann Admin"),
        ("kb", "password", "quality", "kb"),
    ]
    assert not any("scrypt" in str(one) for one in told)
    assert Accounts(accounts.path, HandClock()).find("kb") == accounts.find("kb")


@pytest.mark.parametrize("holds", ["", "{", "[]", '{"format": 2}', '{"format": 1, "key": "", "accounts": [{}]}'])
def test_a_file_that_does_not_read_lets_nobody_in(accounts: Accounts, holds: str) -> None:
    accounts.path.write_text(holds, encoding="utf-8")
    with pytest.raises(AccountsUnreadable, match="nobody is let in"):
        accounts.find("kb")
    with pytest.raises(AccountsUnreadable):
        accounts.add("new", "N", "viewer", ODD, "me")
    assert accounts.path.read_text(encoding="utf-8") == holds


@pytest.mark.skipif(sys.platform == "win32", reason="rights are kept otherwise there")
def test_others_may_not_read_the_file_and_its_group_keeps_what_it_was_given(accounts: Accounts) -> None:
    assert stat.S_IMODE(accounts.path.stat().st_mode) == 0o600
    accounts.path.chmod(0o644)
    accounts.set_role("kb", "viewer", "me")
    assert stat.S_IMODE(accounts.path.stat().st_mode) == 0o640


def test_nothing_secret_is_shown_where_one_is_written_out(accounts: Accounts) -> None:
    found = accounts.find("kb")
    assert found is not None
    shown = f"{found!r} {accounts.all()!r} {vars(accounts)!r}"
    assert "kb" in shown
    assert found.kept.split("$")[-1] not in shown
    assert accounts.key not in shown


def test_nothing_of_a_password_stands_in_the_file(accounts: Accounts) -> None:
    kept = json.loads(accounts.path.read_text(encoding="utf-8"))
    assert ODD not in accounts.path.read_text(encoding="utf-8")
    assert [one["kept"].split("$")[0] for one in kept["accounts"]] == ["scrypt:1024:8:1"] * 2
    assert len({one["kept"] for one in kept["accounts"]}) == 2, "each has a salt of its own"
