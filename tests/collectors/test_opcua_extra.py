"""Without the extra ``opcua``: what is said of a press that needs it, and that no other press needs it."""

import sys
from pathlib import Path

import pytest

from shotlog import extras
from shotlog.cli.main import main

PRESS = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "opcua-40077"
  url = "opc.tcp://127.0.0.1:1"
  shot_counter = { name = "JobCycleCounter" }
    [press.collector.channels]
    cushion = { name = "CushionStroke", unit = "mm" }
"""


@pytest.fixture
def config(tmp_path: Path) -> Path:
    file = tmp_path / "trial.toml"
    file.write_text(PRESS, encoding="utf-8")
    return file


@pytest.mark.parametrize("words", [["check"], ["probe"], ["run", "--no-dashboard"], ["learn"]])
def test_a_missing_extra_is_said_with_what_installs_it(
    words: list[str], config: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(extras, "find_spec", lambda name: None if name == "asyncua" else object())
    assert main([words[0], str(config), *words[1:]]) == 2
    said = capsys.readouterr().err.strip().splitlines()[-1]
    assert "kind opcua-40077 reads a press over OPC UA: asyncua not installed here" in said
    assert said.endswith('pip install "shotlog[opcua]"')


def test_a_configuration_is_checked_without_loading_the_library(
    config: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delitem(sys.modules, "shotlog.collectors.opcua_client", raising=False)
    assert main(["check", str(config)]) == 0
    assert "cushion: event field CushionStroke, mm" in capsys.readouterr().out
    assert "shotlog.collectors.opcua_client" not in sys.modules
