"""A press is asked for its first shot before anything is loaded that only judging, pages or exports need."""

import shutil
import subprocess
from pathlib import Path

import pytest

from shotlog.own_python import own_python

LATER = (
    "numba", "llvmlite", "scipy", "pandas", "pyarrow", "matplotlib", "lifelines", "pint", "segno", "dash", "plotly",
    "flask", "waitress", "dashboard", "simulators", "shotlog.wear.monitor", "shotlog.evaluator", "shotlog.review",
    "shotlog.report", "shotlog.notebook", "shotlog.notify", "paho", "apprise", "asyncua", "anyio",
    "shotlog.collectors.opcua_40077", "shotlog.collectors.euromap63", "shotlog.collectors.serial_line",
)  # fmt: skip
ONLY_FOR_A_NEW_LOG = "alembic"
CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = 1
  shot_counter = { address = 0, type = "uint16" }
    [press.collector.channels]
    cushion = { address = 2, type = "uint16", scale = 0.01, unit = "mm" }
"""
SCRIPT = """
import os, sys

def look(event, given):
    if event == "socket.connect" and given[1][1] == 1:
        print(*sys.modules, sep="\\n", flush=True)
        os._exit(0)

sys.addaudithook(look)
from shotlog.cli.main import main
main(["run", sys.argv[1], "--no-dashboard"])
"""


@pytest.mark.file
@pytest.mark.parametrize("is_new", [True, False])
def test_what_is_not_needed_to_log_is_loaded_after_the_first_poll(is_new: bool, tmp_path: Path, fresh: Path) -> None:
    """Looked at when the press is connected to, in a process of its own; no time is measured."""
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    if not is_new:
        shutil.copy(fresh, tmp_path / "trial.db")
    command = own_python("-c", SCRIPT, str(tmp_path / "trial.toml"))
    done = subprocess.run(command, capture_output=True, text=True, timeout=60)
    loaded = set(done.stdout.split())
    assert {"sqlalchemy", "pymodbus"} <= loaded, done.stderr
    assert sorted(loaded & set(LATER)) == []
    assert (ONLY_FOR_A_NEW_LOG in loaded) == is_new
