"""Pages that other machines could open are not served while nobody has an account; it is said how to make one."""

from dataclasses import replace
from pathlib import Path

import pytest

from shotlog.access import passwords
from shotlog.access.accounts import Accounts
from shotlog.access.reach import asks_login, why_no_pages
from shotlog.clock import HandClock
from shotlog.settings import LoginSettings, Settings, WallSettings, load

CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    (tmp_path / "t.toml").write_text(CONFIG, encoding="utf-8")
    return load(tmp_path / "t.toml")


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.9", "localhost", "::1", "[::1]"])
def test_on_the_machine_itself_nobody_is_asked(settings: Settings, host: str) -> None:
    here = replace(settings, dashboard_host=host)
    assert not asks_login(here)
    assert why_no_pages(here) == ""


@pytest.mark.parametrize("host", ["0.0.0.0", "", "::", "192.168.1.20", "press-pc", "localhost.evil.test", "128.0.0.1"])
def test_elsewhere_there_are_no_pages_before_there_is_an_account(
    settings: Settings, host: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_to_all = replace(settings, dashboard_host=host)
    assert asks_login(open_to_all)
    assert why_no_pages(open_to_all) == (
        f"NO PAGES: they would be open to other machines at {host!r}, and nobody has an account; make one with: "
        f"shotlog account {settings.file} add NAME --role admin --initials I"
    )
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")
    Accounts(settings.accounts, HandClock()).add("ann", "AA", "admin", "eleven brass kettles", "me")
    assert why_no_pages(open_to_all) == ""
    settings.accounts.write_text("{", encoding="utf-8")
    assert why_no_pages(open_to_all).startswith(f"NO PAGES: accounts {settings.accounts}: cannot be read")


def test_behind_a_proxy_on_this_machine_it_is_asked_for(settings: Settings) -> None:
    asked = replace(settings, login=LoginSettings(wanted=True))
    assert asks_login(asked)
    assert why_no_pages(asked).startswith("NO PAGES: everybody is to log in, and nobody has an account")
    assert asks_login(replace(settings, walls=WallSettings(proxy="127.0.0.1"))), "others reach it by the proxy"


def test_the_file_lies_beside_the_log_or_where_it_is_said(settings: Settings, tmp_path: Path) -> None:
    assert settings.accounts == tmp_path / "trial.db.accounts"
    assert replace(settings, store="postgresql+psycopg://host/db").accounts == tmp_path / "t.toml.accounts"
    (tmp_path / "t.toml").write_text(f'{CONFIG}[dashboard]\naccounts = "people"\n', encoding="utf-8")
    assert load(tmp_path / "t.toml").accounts == tmp_path / "people"
