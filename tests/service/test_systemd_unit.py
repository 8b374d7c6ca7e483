"""The units, read by systemd's own analysis and by a reader of the rules of systemd.syntax(7)."""

import os
import re
import shlex
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from shotlog.collectors.folders_shared import folders_shared
from shotlog.errors import UsageError
from shotlog.recorder.leaving import _END_S
from shotlog.recorder.watchdog import STORING_HANGS_S, STORING_STILL_S
from shotlog.service.cautions import cautions
from shotlog.service.explained import for_linux
from shotlog.service.facts import ServiceFacts, facts_of
from shotlog.service.systemd import STOP_S, WATCHDOG_S, files, quoted
from shotlog.settings import load

CONFIG = """[log]
store = "sqlite:///trial.db"
anchor = "../outside"
backup = "share"
backup_every_h = 8
[[press]]
name = "P25"
[press.collector]
kind = "recording"
"""
ODD = """50 % of $trial's "cap" """.strip()

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="units are of systemd")
analysed = pytest.mark.skipif(
    shutil.which("systemd-analyze") is None and not os.environ.get("CI"),
    reason="systemd-analyze is not on this machine; .ci/run installs it",
)


def facts(folder: Path, serial: bool = False) -> ServiceFacts:
    folder.mkdir(exist_ok=True)
    (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
    return facts_of(load(folder / "trial.toml"), None, "shotlog", serial, "dialout")


def test_a_folder_shared_with_a_press_may_be_written_to_and_one_that_is_only_read_may_not(tmp_path: Path) -> None:
    press = """
[[press]]
name = "{name}"
  [press.collector]
  kind = "euromap63"
  folder = "/mnt/{name}"
  shot_counter = {{ token = "ActCntCyc" }}
  {more}
    [press.collector.channels]
    cushion = {{ token = "ActStrCsh[1]", unit = "mm" }}
"""
    asked = press.format(name="P1", more="")
    followed = press.format(name="P2", more='passive = true\n  report = "SHOTS.DAT"')
    (tmp_path / "trial.toml").write_text('[log]\nstore = "sqlite:///trial.db"\n' + asked + followed, encoding="utf-8")
    settings = load(tmp_path / "trial.toml")
    assert folders_shared(settings) == ([Path("/mnt/P1")], [Path("/mnt/P2")])
    found = facts_of(settings, None, "shotlog", False, "dialout", *folders_shared(settings))
    (unit,) = (one.text for one in files(found, with_user=False))
    assert read(unit)["ReadWritePaths"] == [f"-{tmp_path} -/mnt/P1"]
    assert found.given == (tmp_path,), "nobody enters anything there"


def read(text: str) -> dict[str, list[str]]:
    """Return the settings of a unit, whole lines."""
    found: dict[str, list[str]] = {}
    for line in text.splitlines():
        if line and line[0] not in "#[":
            key, _, value = line.partition("=")
            found.setdefault(key, []).append(value)
    return found


def words(line: str, is_command: bool) -> list[str]:
    """Read a list as systemd does: quotes and escapes first, then specifiers, then variables of a command."""
    said = [word.replace("%%", "%") for word in shlex.split(line)]
    return [said[0], *(word.replace("$$", "$") for word in said[1:])] if is_command else said


def place(found: ServiceFacts, folder: Path) -> list[Path]:
    folder.mkdir()
    placed = []
    for one in files(found, with_user=False):
        (folder / one.path.name).write_text(one.text, encoding="utf-8")
        placed.append(folder / one.path.name)
    return placed


def analyse(*arguments: object) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        ["systemd-analyze", *map(str, arguments)], capture_output=True, text=True, timeout=60, check=False
    )


def test_a_unit_says_who_it_is_how_it_is_watched_and_when_it_is_started_again(tmp_path: Path) -> None:
    service, backup, timer, user = files(facts(tmp_path / "trial"), with_user=True)
    unit = read(service.text)
    assert str(service.path) == "/etc/systemd/system/shotlog-trial.service"
    assert (unit["Type"], unit["User"], unit["Group"]) == (["notify"], ["shotlog"], ["shotlog"])
    assert (unit["StateDirectory"], unit["CacheDirectory"]) == (["shotlog-trial"], ["shotlog-trial"])
    assert unit["StateDirectoryMode"] == ["0700"], "the accounts may lie there"
    assert (unit["Restart"], unit["RestartPreventExitStatus"]) == (["on-failure"], ["2"])
    assert "SupplementaryGroups" not in unit, "nothing is read at a serial port"
    assert unit["PrivateDevices"] == ["yes"]
    assert read(timer.text)["OnUnitActiveSec"] == ["480min"]
    assert read(backup.text)["Type"] == ["oneshot"]
    assert "WatchdogSec" not in read(backup.text)
    assert re.search(r"^u shotlog - ", user.text, re.MULTILINE)


def test_a_serial_port_is_let_through(tmp_path: Path) -> None:
    unit = read(files(facts(tmp_path / "trial", serial=True), with_user=False)[0].text)
    assert unit["SupplementaryGroups"] == ["dialout"]
    assert "PrivateDevices" not in unit
    assert "ProtectClock" not in unit, "it would shut every device that is not named"


def test_the_limits_fit_those_of_the_program() -> None:
    assert STOP_S > 2 * (_END_S + 1.0), "it ends by itself before it is ended"
    assert STORING_STILL_S + WATCHDOG_S > STORING_HANGS_S, "and by itself where storing stands still"


def test_it_may_write_where_it_has_to_and_nowhere_else(tmp_path: Path) -> None:
    found = facts(tmp_path / "trial")
    service, backup, _ = files(found, with_user=False)
    assert words(read(service.text)["ReadWritePaths"][0], False) == [
        f"-{tmp_path / one}" for one in ("trial", "outside")
    ]
    elsewhere = replace(found, backup=replace(found.backup, folder=tmp_path / "share"))  # type: ignore[type-var]
    backup = files(elsewhere, with_user=False)[1]
    assert words(read(backup.text)["ReadWritePaths"][0], False) == [
        f"-{tmp_path / one}" for one in ("trial", "outside", "share")
    ]
    unit = read(service.text)
    assert (unit["ProtectSystem"], unit["NoNewPrivileges"], unit["CapabilityBoundingSet"]) == (
        ["strict"],
        ["yes"],
        [""],
    )


def test_a_log_on_a_server_has_no_timer_of_backups(tmp_path: Path) -> None:
    (tmp_path / "trial.toml").write_text(
        CONFIG.replace("sqlite:///trial.db", "postgresql+psycopg://me@db/trial"), encoding="utf-8"
    )
    settings = load(tmp_path / "trial.toml")
    found = facts_of(settings, None, "shotlog", False, "dialout")
    assert [one.path.name for one in files(found, with_user=False)] == ["shotlog-trial.service"]
    assert any("pg_dump" in heading for heading in dict(for_linux(found, [], True))["Backups"])
    assert settings.cautions == (
        "log.backup: a log on a server is backed up by the server's own means (pg_dump), and not there",
    )


def test_of_a_centre_the_pages_are_left_running_and_nothing_is_logged(tmp_path: Path) -> None:
    """It was left to `run`, which a centre's configuration refuses."""
    (tmp_path / "plant.toml").write_text('[log]\nstore = "postgresql+psycopg://me@db/plant"\n', encoding="utf-8")
    found = facts_of(load(tmp_path / "plant.toml"), None, "shotlog", False, "dialout")
    (one,) = files(found, with_user=False)
    unit = read(one.text)
    assert words(unit["ExecStart"][0], True) == found.command("dashboard", str(tmp_path / "plant.toml"))
    assert (unit["Type"], unit["Restart"]) == (["exec"], ["on-failure"]), "they give no sign of life to systemd"
    assert not unit.keys() & {"WatchdogSec", "NotifyAccess", "ReadWritePaths"}, "and write nothing here"
    told = dict(for_linux(found, [one], True))
    steps = "\n".join(told["Steps"])
    assert "usermod" not in steps
    assert "sudo find" not in steps
    assert "/var/lib/shotlog-plant/.pgpass" in steps
    assert ["pg_dump" in line for line in told["Backups"]] == [True]
    asking = replace(found, login=True)
    assert "\n    accounts = " in "\n".join(dict(for_linux(asking, [one], True))["Steps"])


def test_that_an_edge_ships_beside_logging_is_said(tmp_path: Path) -> None:
    said = "what [ship] names is brought to the centre by it as well: nothing else is started"
    plain = facts(tmp_path / "trial")
    assert said not in dict(for_linux(plain, [], True))["Does it run"]
    assert said in dict(for_linux(replace(plain, ships=True), [], True))["Does it run"]
    config = tmp_path / "trial" / "trial.toml"
    config.write_text(CONFIG + '[ship]\nto = "postgresql+psycopg://me@db/plant"\n', encoding="utf-8")
    assert facts_of(load(config), None, "shotlog", False, "dialout").ships


def test_pages_over_tls_are_named_so_and_their_files_have_to_be_reached(tmp_path: Path) -> None:
    keys = tmp_path / "keys"
    keys.mkdir()
    for name in ("hall.pem", "hall.key"):
        (keys / name).touch()
    tls = f'[dashboard]\ncertificate = "{keys}/hall.pem"\nkey = "{keys}/hall.key"\n'
    (tmp_path / "trial").mkdir()
    (tmp_path / "trial" / "trial.toml").write_text(tls + CONFIG, encoding="utf-8")
    found = facts_of(load(tmp_path / "trial" / "trial.toml"), None, "shotlog", False, "dialout")
    assert found.url == "https://127.0.0.1:8050/"
    assert {keys / "hall.pem", keys / "hall.key"} <= set(found.paths)
    (keys / "hall.pem").chmod(0o644)
    (keys / "hall.key").chmod(0o600)
    told = f"sudo chown shotlog {keys}/hall.key, and chmod 0600"
    said = [line for line in cautions(found) if "hall." in line and "lets only" not in line]
    assert said == [f"user shotlog may not read {keys}/hall.key: {told}"]
    (keys / "hall.key").chmod(0o644)
    said = [line for line in cautions(found) if "hall." in line and "lets only" not in line]
    assert said == [f"others than user shotlog may read {keys}/hall.key: {told}"], "and its group is of many"


def test_odd_places_are_written_so_that_they_are_read_as_they_are(tmp_path: Path) -> None:
    found = facts(tmp_path / ODD)
    service, backup, _ = files(found, with_user=False)
    config = str(tmp_path / ODD / "trial.toml")
    assert words(read(service.text)["ExecStart"][0], True) == found.command("run", config)
    assert words(read(backup.text)["ExecStart"][0], True) == found.command("backup", config)
    assert words(read(service.text)["ReadWritePaths"][0], False) == [f"-{tmp_path / ODD}", f"-{tmp_path / 'outside'}"]
    assert quoted("") == '""'


def test_a_configuration_without_a_folder_of_its_own_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its folder is given to the service with all that is in it."""
    monkeypatch.setenv("HOME", str(tmp_path))
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    with pytest.raises(UsageError, match="allowed: one in a folder of its own"):
        facts_of(load(tmp_path / "trial.toml"), None, "shotlog", False, "dialout")


@pytest.mark.parametrize(("name", "user"), [("a b", "shotlog"), ("-x", "shotlog"), (None, "root;"), ("", "shotlog")])
def test_a_name_that_not_every_system_takes_is_refused(tmp_path: Path, name: str | None, user: str) -> None:
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    with pytest.raises(UsageError, match="allowed: letters, digits"):
        facts_of(load(tmp_path / "trial.toml"), name, user, False, "dialout")


def test_a_program_that_systemd_would_not_start_is_said(tmp_path: Path) -> None:
    found = replace(facts(tmp_path / "trial"), python=tmp_path / ODD / "python")
    with pytest.raises(UsageError, match="no program with quotes or a backslash in its place"):
        files(found, with_user=False)


@analysed
@pytest.mark.parametrize("folder", ["trial", ODD])
def test_systemd_finds_nothing_wrong_with_the_units(tmp_path: Path, folder: str) -> None:
    found = facts(tmp_path / folder)
    program = tmp_path / "50 % of $trial" / "python"
    program.parent.mkdir()
    program.symlink_to(sys.executable)
    placed = place(replace(found, python=program), tmp_path / "units")
    said = analyse("verify", *placed)
    assert (said.returncode, said.stdout, said.stderr) == (0, "", "")


@analysed
@pytest.mark.parametrize(("serial", "most"), [(False, 2.0), (True, 2.5)])
def test_systemd_counts_little_exposure(tmp_path: Path, serial: bool, most: float) -> None:
    for unit in place(facts(tmp_path / "trial", serial), tmp_path / "units")[:2]:
        said = analyse("security", "--offline=true", unit).stdout.splitlines()[-1]
        print(said)
        score = re.search(r"exposure level for \S+: ([\d.]+) ", said)
        assert score is not None, said
        assert float(score[1]) <= most
