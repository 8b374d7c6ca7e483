"""The command ``probe`` where a press does not answer: said in one line, in the document, and in the exit status."""

import json
import socket
from pathlib import Path

import pytest
from serial.tools import list_ports
from serial.tools.list_ports_common import ListPortInfo

from shotlog.cli.main import main
from shotlog.collectors import serial_ports
from shotlog.collectors.base import Reading
from shotlog.collectors.modbus_shots import ModbusShots

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P1"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = {port}
  unit = 1
  timeout_s = 0.5
  shot_counter = {{ address = 0, type = "uint16" }}
    [press.collector.channels]
    cushion = {{ address = 2, type = "uint16", scale = 0.01, unit = "mm" }}
[[press]]
name = "P2"
  [press.collector]
  kind = "recording"
"""


@pytest.fixture
def file(tmp_path: Path) -> str:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        port = taken.getsockname()[1]
    (tmp_path / "c.toml").write_text(CONFIG.format(port=port), encoding="utf-8")
    return str(tmp_path / "c.toml")


def test_a_press_that_refuses_is_said(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["probe", file]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    (line,) = [line for line in said.err.splitlines() if line.startswith("shotlog probe:")]
    assert line.startswith("shotlog probe: P1: ")
    assert main(["probe", file, "--json"]) == 1
    said = capsys.readouterr()
    assert json.loads(said.out) == {"P1": {"error": line.removeprefix("shotlog probe: P1: ")}}


def test_a_recording_is_nothing_to_connect_to(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    text = Path(file).read_text(encoding="utf-8")
    Path(file).write_text(text.replace("modbus-tcp", "recording").partition("  host")[0], encoding="utf-8")
    assert main(["probe", file, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {}


SERIAL = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P1"
  [press.collector]
  kind = "serial-line"
  port = "{port}"
  shot_counter = {{ field = 1 }}
    [press.collector.channels]
    cushion = {{ field = 2, unit = "mm" }}
[[balance]]
name = "B1"
weighs = "P1"
hwid = "SER=B2"
"""


@pytest.fixture
def there(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """One adapter, and nobody told who may open it."""
    one = ListPortInfo(str(tmp_path / "ttyUSB0"), skip_link_detection=True)
    one.vid, one.pid, one.serial_number, one.location, one.product = 0x0403, 0x6001, "A1", "1-1", "USB serial"
    one.apply_usb_info()
    monkeypatch.setattr(list_ports, "comports", lambda *_: [one])
    monkeypatch.setattr(serial_ports, "BY_ID", tmp_path / "by-id")
    return Path(one.device)


def test_ports_are_listed_without_a_configuration(there: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["probe", "--ports"]) == 0
    assert capsys.readouterr().out.splitlines() == [
        str(there),
        '  write        hwid = "USB VID:PID=0403:6001 SER=A1"',
        "  hardware     USB VID:PID=0403:6001 SER=A1 LOCATION=1-1",
        "  is           USB serial",
        "  may open     not known before it is tried",
    ]
    assert main(["probe"]) == 2
    assert "--ports alone" in capsys.readouterr().err


def test_ports_say_who_reads_them_and_which_are_not_here(
    there: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "c.toml"
    file.write_text(SERIAL.format(port=there.as_posix()), encoding="utf-8")
    assert main(["probe", str(file), "--ports"]) == 0
    out = capsys.readouterr().out
    assert "  read by      P1\n" in out
    assert out.splitlines()[-1] == 'B1 is to be read at hwid "SER=B2": not here now'
    assert main(["probe", "--json", "--ports", str(file)]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["ports"][0]["read_by"] == ["P1"]
    assert document["ports"][0]["hwid"] == "USB VID:PID=0403:6001 SER=A1 LOCATION=1-1"
    assert document["not_here"] == [{"name": "B1", "port": 'hwid "SER=B2"'}]


def test_only_a_channel_without_a_value_was_not_measured(
    file: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [Reading("event type", "PressCycle", "", None, ""), Reading("cushion", "register 2", "", None, "mm")]
    monkeypatch.setattr(ModbusShots, "open", lambda collector: None)
    monkeypatch.setattr(ModbusShots, "probe", lambda collector: rows)
    assert main(["probe", file]) == 0
    *_, event, cushion = capsys.readouterr().out.splitlines()
    assert event.split() == ["event", "type", "PressCycle"]
    assert "not measured" in cushion
