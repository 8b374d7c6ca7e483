"""The command ``probe`` where a press does not answer: said in one line, in the document, and in the exit status."""

import json
import socket
from pathlib import Path

import pytest

from shotlog.cli.main import main

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
