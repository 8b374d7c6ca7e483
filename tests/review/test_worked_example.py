"""The worked example in `config/` runs on a log and says what is in it."""

import subprocess
import sys
from pathlib import Path

from shotlog.settings import Settings

EXAMPLE = Path(__file__).parents[2] / "config" / "worked_example.py"


def run(url: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, str(EXAMPLE), url], capture_output=True, text=True, encoding="utf-8", check=False
    )


def test_it_tells_inserts_verdicts_and_values_of_a_log(afternoon: Settings) -> None:
    done = run(afternoon.store)
    assert (done.returncode, done.stderr) == (0, "")
    assert "118 shots on P1" in done.stdout
    assert "flash <at the gate>" in done.stdout
    assert "Signals of the charts: 1" in done.stdout
    swaps = next(line for line in done.stdout.splitlines() if line.startswith("P1    B-1"))
    assert swaps.split()[2:] == ["29", "9", "2"]
