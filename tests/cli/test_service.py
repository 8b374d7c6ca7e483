"""The command ``service``: prints and explains, places its files when asked to, and writes over no other."""

import io
import json
import os
import shlex
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from shotlog.access import passwords
from shotlog.cli import service
from shotlog.cli.main import main

CONFIG = """[log]
store = "sqlite:///trial.db"
backup = "../share"
[[press]]
name = "P25"
[press.collector]
kind = "recording"
"""
grp, pwd = pytest.importorskip("grp"), pytest.importorskip("pwd")
Say = Callable[..., tuple[int, str, str]]

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the places are those of Linux")


@pytest.fixture
def config(tmp_path: Path) -> Path:
    file = tmp_path / "hall" / "trial.toml"
    file.parent.mkdir()
    file.write_text(CONFIG, encoding="utf-8")
    return file


@pytest.fixture
def say(config: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Say:
    def run(*more: str) -> tuple[int, str, str]:
        capsys.readouterr()
        status = main(["service", str(config), *more])
        return status, *capsys.readouterr()

    return run


def units(tmp_path: Path) -> Path:
    return tmp_path / "root" / "etc" / "systemd" / "system"


def test_it_prints_the_files_and_says_how_to_live_with_them(say: Say, config: Path, tmp_path: Path) -> None:
    status, out, _ = say("--user", "nobody-here")
    assert status == 0
    for name in ("shotlog-trial.service", "shotlog-trial-backup.service", "shotlog-trial-backup.timer"):
        assert f"==> /etc/systemd/system/{name}\n# Written by `shotlog service` for {config}\n" in out
    assert "==> /etc/sysusers.d/shotlog-trial.conf" in out
    for heading in ("Steps", "Does it run", "Stop it", "What it says", "Backups", "Update", "Remove"):
        assert f"\n{heading}:\n" in out
    assert "sudo systemctl enable --now shotlog-trial.service shotlog-trial-backup.timer" in out
    assert f"in {config.with_name('trial.db.trial.log')}, which makes room by itself" in out
    assert "-exec chgrp shotlog {} +" not in out, "of another user"
    assert "-exec chgrp nobody-here {} +" in out
    assert f"sudo find {config.parent} " in out, "and of nothing that others have files in"
    assert f"sudo chgrp nobody-here {tmp_path}/share\n" in out
    assert not units(tmp_path).exists()


def test_pages_with_accounts_have_them_made_by_who_reads_them(say: Say, config: Path) -> None:
    assert " -m shotlog account " not in say()[1]
    for asking in ('host = "0.0.0.0"', "login = true", 'proxy = "127.0.0.1"'):
        config.write_text(f"{CONFIG}[dashboard]\n{asking}\n", encoding="utf-8")
        assert f"sudo -u shotlog {sys.executable} -P -m shotlog account {config} add NAME --role admin" in say()[1]


def test_the_lines_that_make_the_first_account_make_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One lacked the initials, and was refused; a blank in the place ended the other one."""
    monkeypatch.setattr(passwords, "METHOD", "scrypt:1024:8:1")
    config = tmp_path / "hall two" / "trial.toml"
    config.parent.mkdir()
    config.write_text(CONFIG + "[dashboard]\nlogin = true\n", encoding="utf-8")
    assert main(["service", str(config)]) == 0
    lines = [line for line in capsys.readouterr().out.splitlines() if " account " in line and " add NAME " in line]
    assert main(["check", str(config)]) == 0
    lines += [line for line in capsys.readouterr().out.splitlines() if "make one with: " in line]
    assert len(lines) == 2
    for line in lines:
        words = shlex.split(line)
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"eleven brass kettles\n")))
        assert main(words[words.index("account") :]) == 0
        config.with_name("trial.db.accounts").unlink()


def step(out: str, begins: str) -> str:
    return next(line.strip() for line in out.splitlines() if line.strip().startswith(begins))


def test_the_steps_leave_the_accounts_and_the_key_to_the_service(say: Say, config: Path, tmp_path: Path) -> None:
    """As printed, run here: they gave both, and links to anything, to everybody who enters by commands."""
    group = grp.getgrgid(os.getgid()).gr_name
    tls = 'certificate = "hall.pem"\nkey = "hall [1].key"\n'
    config.write_text(f'{CONFIG}[dashboard]\nhost = "0.0.0.0"\n{tls}', encoding="utf-8")
    closed = [config.with_name(name) for name in ("trial.db.accounts", "trial.db.accounts.lock", "hall [1].key")]
    shared = [config, *(config.parent / name for name in ("trial.db", "hall.pem", "deeper/trial.journal"))]
    (config.parent / "deeper").mkdir()
    elsewhere = tmp_path / "elsewhere"
    for path in (*closed, *shared, elsewhere):
        path.touch()
        path.chmod(0o600)
    config.with_name("link").symlink_to(elsewhere)
    out = say()[1]
    words = shlex.split(step(out, f"sudo find {config.parent} '!'").replace("chgrp shotlog", f"chgrp {group}"))[1:]
    subprocess.run(words, check=True, timeout=60)
    assert [path.stat().st_mode & 0o777 for path in (*closed, elsewhere)] == [0o600] * 4
    assert [path.stat().st_mode & 0o777 for path in shared] == [0o660] * 4
    assert "sudo install -d -o shotlog -g shotlog -m 0700 /var/lib/shotlog-trial" in out
    moved = f"{closed[0]} /var/lib/shotlog-trial/accounts && sudo rm {closed[0]}"
    assert f"sudo install -o shotlog -g shotlog -m 0600 {moved}" in out
    kept = step(out, "accounts = ")
    config.write_text(f'{CONFIG}[dashboard]\nhost = "0.0.0.0"\n{kept}\n', encoding="utf-8")
    out = say()[1]
    assert "sudo install -d -o shotlog -g shotlog -m 0700 /var/lib/shotlog-trial" in out
    assert "accounts = " not in out, "it is done"
    assert "chgrp shotlog /var/lib" not in out
    assert f"ReadWritePaths=-{config.parent} -/var/lib/shotlog-trial\n" in out


def test_check_says_who_else_could_write_himself_an_account(
    config: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    found = f"WARNING: accounts {config.with_name('trial.db.accounts')}: everybody "

    def said() -> str:
        assert main(["check", str(config)]) == 0
        return capsys.readouterr().out

    config.parent.chmod(0o777)
    assert found not in said(), "nobody logs in"
    config.write_text(f"{CONFIG}[dashboard]\nlogin = true\n", encoding="utf-8")
    assert f"{found}on this computer may write to that folder" in said()
    config.parent.chmod(0o775)
    name = pwd.getpwuid(os.getuid()).pw_name
    monkeypatch.setattr(grp, "getgrgid", lambda _: grp.struct_group(("shop", "x", 77, [name, "karl"])))
    assert f"{found}in group shop may write to that folder" in said()
    monkeypatch.setattr(grp, "getgrgid", lambda _: grp.struct_group((name, "x", 77, [])))
    assert found not in said(), "a group of that user alone"
    config.parent.chmod(0o755)
    assert found not in said()


def test_check_by_somebody_who_may_not_read_the_accounts_says_so_and_no_more(
    config: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """It said that there are no pages, to whoever is not the service."""
    config.write_text(f"{CONFIG}[dashboard]\nlogin = true\n", encoding="utf-8")
    accounts, read = config.with_name("trial.db.accounts"), Path.open
    accounts.touch()

    def refuses(path: Path, *rest: Any, **others: Any) -> Any:
        if path == accounts:
            raise PermissionError(13, "Permission denied")
        return read(path, *rest, **others)

    monkeypatch.setattr(Path, "open", refuses)
    assert main(["check", str(config)]) == 0
    out = capsys.readouterr().out
    assert f"accounts {accounts}: not looked at; who runs the pages may read them, and you may not" in out
    assert "NO PAGES" not in out


def test_for_windows_it_prints_tasks_and_their_steps(say: Say, config: Path) -> None:
    status, out, _ = say("--for", "windows")
    assert status == 0
    assert f'schtasks /create /tn shotlog-trial /xml "{config.with_name("shotlog-trial.xml")}"' in out
    assert f'icacls "{config.parent}" /grant "*S-1-5-19:(OI)(CI)M"' in out
    assert "schtasks /end /tn shotlog-trial" in out
    assert "ProgramData" not in out
    config.write_text(f"{CONFIG}[dashboard]\nlogin = true\n", encoding="utf-8")
    out = say("--for", "windows")[1]
    assert r"    accounts = 'C:\ProgramData\shotlog-trial\accounts'" in out
    assert r'icacls "C:\ProgramData\shotlog-trial" /inheritance:r /grant "*S-1-5-19:(OI)(CI)M"' in out
    assert f"-m shotlog account {config} add NAME --role admin --initials I" in out


@pytest.mark.file
def test_placing_them_leaves_the_starting_to_the_person(say: Say, tmp_path: Path) -> None:
    root = ("--root", str(tmp_path / "root"), "--user", "nobody-here")
    status, out, _ = say("--install", "--yes", *root)
    assert status == 0
    placed = sorted(path.name for path in (tmp_path / "root").rglob("*") if path.is_file())
    assert placed == [
        "shotlog-trial-backup.service", "shotlog-trial-backup.timer", "shotlog-trial.conf", "shotlog-trial.service",
    ]  # fmt: skip
    assert "sudo systemctl daemon-reload" in out
    assert (units(tmp_path) / "shotlog-trial.service").stat().st_mode & 0o777 == 0o644
    assert say("--install", "--yes", *root)[0] == 0, "its own files are written anew"


@pytest.mark.file
def test_a_unit_that_it_did_not_write_stays(say: Say, tmp_path: Path) -> None:
    units(tmp_path).mkdir(parents=True)
    theirs = units(tmp_path) / "shotlog-trial-backup.timer"
    for text in ("[Timer]\nOnCalendar=daily\n", "# Written by `shotlog service` for /other/trial.toml\n"):
        theirs.write_text(text, encoding="utf-8")
        status, _, err = say("--install", "--yes", "--root", str(tmp_path / "root"))
        assert status == 2
        assert "is there and was not written by this command for" in err
        assert theirs.read_text(encoding="utf-8") == text
        assert list(units(tmp_path).iterdir()) == [theirs], "none of the others is written either"


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_it_asks_first(say: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = ("--install", "--root", str(tmp_path / "root"))
    for answer in ("n\n", "\n", ""):
        monkeypatch.setattr(sys, "stdin", Terminal(answer))
        status, _, err = say(*root)
        assert status == 2
        assert "nothing is placed" in err
    monkeypatch.setattr(sys, "stdin", io.StringIO("y\n"))
    assert "nobody is there to be asked" in say(*root)[2]
    assert not units(tmp_path).exists()
    monkeypatch.setattr(sys, "stdin", Terminal("y\n"))
    status, _, err = say(*root)
    assert status == 0
    assert f"writes {units(tmp_path) / 'shotlog-trial.service'}" in err
    assert (units(tmp_path) / "shotlog-trial.service").exists()


def test_who_may_not_write_there_is_told_so(
    say: Say, config: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service.os, "access", lambda *_: False)
    status, _, err = say("--install", "--yes", "--root", str(tmp_path / "root"))
    assert status == 2
    assert f"only root may write to {tmp_path}: sudo " in err
    assert not units(tmp_path).exists()


def test_for_windows_the_file_is_one_that_its_command_reads(say: Say, config: Path) -> None:
    assert say("--for", "windows", "--install", "--yes")[0] == 0
    placed = config.with_name("shotlog-trial.xml")
    assert placed.read_bytes()[:2] in (b"\xff\xfe", b"\xfe\xff")
    assert placed.read_text(encoding="utf-16").startswith('<?xml version="1.0" encoding="UTF-16"?>')
    assert say("--for", "windows", "--install", "--yes")[0] == 0
    placed.write_text("mine", encoding="utf-8")
    assert say("--for", "windows", "--install", "--yes")[0] == 2


def test_a_place_that_its_user_cannot_reach_is_said(say: Say, config: Path) -> None:
    config.parent.chmod(0o700)
    status, _, err = say()
    assert status == 0
    said = [line for line in err.splitlines() if line.startswith("WARNING: ")]
    assert any(f", where {config}" in line or config.is_relative_to(line.split()[1].rstrip(",")) for line in said)
    assert all(", lets only its owner and group in: user shotlog must reach it." in line for line in said)


def test_as_a_document(say: Say, config: Path) -> None:
    document = json.loads(say("--json")[1])
    assert document["placed"] is False
    assert "/etc/systemd/system/shotlog-trial.service" in document["files"]
    assert document["explained"]["Steps"]
