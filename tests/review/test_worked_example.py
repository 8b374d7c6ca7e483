"""The worked example in `config/` runs on a log, whole, and says what is in it."""

import os
import subprocess
import sys
from pathlib import Path

from shotlog.settings import Settings

EXAMPLE = Path(__file__).parents[2] / "config" / "worked_example.py"
WITHOUT = """
import runpy, sys
sys.modules.update(matplotlib=None, pyarrow=None)  # neither may be needed
sys.argv = sys.argv[1:]
runpy.run_path(sys.argv[0], run_name="__main__")
"""


def run(*arguments: str, folder: Path) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", WITHOUT, str(EXAMPLE), *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )


def test_it_tells_inserts_verdicts_lives_and_values_of_a_log(afternoon: Settings, tmp_path: Path) -> None:
    done = run(str(afternoon.file), "quarters.csv", folder=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert "118 shots on P1, 2 missed" in done.stdout
    assert "measured: cushion in mm, peak_pressure in bar, fill_time in s" in done.stdout
    assert "flash <at the gate>" in done.stdout
    assert "signals of the charts: 1;" in done.stdout
    swaps = next(line for line in done.stdout.splitlines() if line.startswith("P1    B-1"))
    assert swaps.split()[2:] == ["29", "9", "2"]
    assert "P1 B-1: beyond the limits of 40 shots: 4 26 28 29 30" in done.stdout
    assert "cap-r2: 4 lives, 2 gone off" in done.stdout
    head, *quarters = (tmp_path / "quarters.csv").read_text(encoding="utf-8").splitlines()
    assert head == "press,time,count,cushion mean mm,std mm"
    assert sum(int(line.split(",")[2]) for line in quarters) == 118


def test_each_cell_begins_as_a_notebook_wants_it() -> None:
    cells = [line for line in EXAMPLE.read_text(encoding="utf-8").splitlines() if line.startswith("# %%")]
    assert len(cells) > 6
    assert all(len(line) > 8 for line in cells), "each says what it shows"
