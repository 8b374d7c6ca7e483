"""`shotlog account`: made, changed and closed, the password asked or read, and every change on record in the log."""

import io
import json
import sys
from pathlib import Path

import pytest

from shotlog.access import passwords
from shotlog.cli import account
from shotlog.cli.main import main
from shotlog.errors import UsageError
from shotlog.store.log.log import open_log

CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
ODD = "eleven brass kettles"


@pytest.fixture
def config(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")
    monkeypatch.setattr("getpass.getuser", lambda: "root")
    monkeypatch.setattr(account.platform, "node", lambda: "press-pc")
    path = tmp_path / "t.toml"
    path.write_text(CONFIG, encoding="utf-8")
    return path


def typed(monkeypatch: pytest.MonkeyPatch, line: str) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(line.encode())))


def test_accounts_are_made_changed_closed_and_listed(
    config: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, role, initials in (("ann", "admin", "AA"), ("kb", "operator", "KB")):
        typed(monkeypatch, f"{ODD}\n")
        assert main(["account", str(config), "add", name, "--role", role, "--initials", initials]) == 0
    typed(monkeypatch, "seven copper spoons\r\nand what follows")
    assert main(["account", str(config), "password", "kb"]) == 0
    assert main(["account", str(config), "role", "kb", "--role", "quality"]) == 0
    assert main(["account", str(config), "initials", "kb", "--initials", "K2"]) == 0
    assert main(["account", str(config), "remove", "kb"]) == 0
    said, errors = capsys.readouterr()
    assert said.splitlines() == [
        "account ann (admin, signs AA): made",
        "account kb (operator, signs KB): made",
        "account kb: another password; whoever is logged in with it logs in anew",
        "account kb (quality, signs KB): from the next touch on",
        "account kb: signs K2 from now on",
        "account kb: closed; it is out of the pages at once, and what it entered stays signed by it",
    ]
    assert errors == ""
    assert main(["account", str(config), "list", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["accounts"] == [
        {"name": "ann", "initials": "AA", "role": "admin", "open": True},
        {"name": "kb", "initials": "K2", "role": "quality", "open": False},
    ]
    assert [(one["account"], one["change"], one["by"]) for one in found["changes"]] == [
        ("ann", "made", "root at press-pc"),
        *(("kb", what, "root at press-pc") for what in ("made", "password", "role", "initials", "closed")),
    ]
    assert main(["account", str(config), "list"]) == 0
    assert "  kb (quality, signs K2): CLOSED\n" in capsys.readouterr().out
    with open_log(f"sqlite:///{config.parent / 'trial.db'}") as log:
        log.verify()
    kept = (config.parent / "trial.db").read_bytes() + (config.parent / "trial.db-wal").read_bytes()
    assert b"scrypt" not in kept
    assert b"brass" not in kept


def test_an_account_is_closed_though_the_log_cannot_be_written(
    config: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("ann", "bob"):
        typed(monkeypatch, ODD)
        main(["account", str(config), "add", name, "--role", "admin", "--initials", name[0]])
    aside = (config.parent / "trial.db").rename(config.parent / "away.db")
    (config.parent / "trial.db").write_bytes(b"no log at all " * 100)
    assert main(["account", str(config), "remove", "bob"]) == 0
    assert "WARNING: the log is told of this with the next change" in capsys.readouterr().err
    aside.replace(config.parent / "trial.db")
    assert main(["account", str(config), "initials", "ann", "--initials", "AN"]) == 0
    capsys.readouterr()
    main(["account", str(config), "list", "--json"])
    changes = json.loads(capsys.readouterr().out)["changes"]
    assert [(one["account"], one["change"]) for one in changes][2:] == [("bob", "closed"), ("ann", "initials")]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["add"], "given no name"),
        (["add", "ann"], "given no role or no initials"),
        (["add", "ann", "--role", "admin", "--initials", "A"], "given nothing on standard input"),
        (["role", "ann"], "allowed: --role ROLE"),
        (["initials", "ann"], "allowed: --initials I"),
        (["password", "ann"], "given 'ann'"),
        (["remove", "ann"], "none, there is no account yet"),
    ],
)
def test_what_is_missing_is_said_in_one_line(
    config: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    typed(monkeypatch, "")
    assert main(["account", str(config), *words]) == 2
    errors = capsys.readouterr().err
    assert said in errors
    assert errors.count("\n") == 1


def test_a_password_is_asked_twice_where_somebody_sits_there(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    answers = iter([ODD, ODD, ODD, "another one"])
    monkeypatch.setattr(sys, "stdin", Terminal())
    monkeypatch.setattr(account.getpass, "getpass", lambda _asked: next(answers))
    assert account.typed_password("ann") == ODD
    with pytest.raises(UsageError, match="given two that differ"):
        account.typed_password("ann")
