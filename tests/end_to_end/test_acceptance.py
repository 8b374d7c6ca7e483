"""The acceptance of the main job: every offered shot stored exactly once with exact values, over real wires."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from shotlog import recording
from shotlog.records import LoggedShot
from shotlog.store.asked import state
from shotlog.store.asked.faults import faults
from shotlog.store.log.log import open_log
from tests.end_to_end.running import Run, ServedPress, expected, pseudo_terminal, shotlog, write_config


def exported(config: Path) -> list[LoggedShot]:
    """Return the shots as `shotlog export` writes them."""
    out = config.parent / "out.csv"
    done = shotlog("export", config, "--out", out)
    assert (done.returncode, done.stderr[:5]) == (0, "log: ")
    return list(recording.read(out))


def test_a_press_with_a_counter_that_rolls_over_and_two_outages(tmp_path: Path) -> None:
    """Input registers, little word order, 16-bit counter over the top; the counter stands still in the outages."""
    first, last = 65_510, 65_570
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        press.offer(first - 1)
        with Run(config) as run:
            run.wait_for(f"P25: shot {first - 1} ")
            outages = 0
            for n in range(first, last + 1):
                if n in (65_530, 65_550):
                    outages += 1
                    press.stop()
                    run.wait_for("P25: lost: ", outages)
                    press.start()
                    run.wait_for("P25: connected: ", outages + 1)
                press.offer(n)
                run.wait_for(f"P25: shot {n} ")
            assert run.stop() == 0
    shots = exported(config)
    assert [shot.shot for shot in shots] == list(range(first - 1, last + 1))
    assert [shot.values for shot in shots] == [expected(n) for n in range(first - 1, last + 1)]
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        assert state.gaps(log, "P25") == []
    done = shotlog("verify", config)
    said = [line for line in done.stderr.splitlines() if "off at its server: fsync" not in line]  # that of these tests
    assert (done.returncode, said) == (0, [])
    assert "nothing changed later" in done.stdout


SERIAL = """
[[press]]
name = "P50"
  [press.collector]
  kind = "serial-line"
  port = "{port}"
  delimiter = ";"
  decimal = ","
  skip = "^(NR|$)"
  shot_counter = {{ field = 1 }}
    [press.collector.channels]
    cushion       = {{ field = 3, unit = "mm" }}
    peak_pressure = {{ field = 4, unit = "bar" }}
"""

GARBAGE = (b"\xff\xfe\x80#\x01", b"17;ok;4,9", b"no;shot;4,97;520,0", b"18;ok;4,,97;520,0;x;y;z")


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="this system has no pseudo-terminals")
def test_a_printout_with_headers_decimal_comma_split_lines_and_garbage(tmp_path: Path) -> None:
    with pseudo_terminal() as (wire, port):
        config = write_config(tmp_path, SERIAL.format(port=port))
        with Run(config) as run:
            run.wait_for("P50: connected: ")
            for n in range(101, 141):
                if n % 15 == 1:
                    os.write(wire, b"\r\nNR;STATUS;CUSHION;PEAK\r\n")
                if n % 10 == 5:
                    os.write(wire, GARBAGE[n // 10 % 4] + b"\r\n")
                line = f"{n};ok;4,{n % 100:02d};{500 + n},5\r\n".encode()
                cut = n % (len(line) + 1)
                os.write(wire, line[:cut])
                if n % 4 == 0:
                    run.wait_for(f"P50: shot {n - 1} ")  # the first half has long arrived by itself
                os.write(wire, line[cut:])
            run.wait_for("P50: shot 140 ")
            assert run.stop() == 0
    shots = exported(config)
    assert [shot.shot for shot in shots] == list(range(101, 141))
    assert [shot.values for shot in shots] == [
        {"cushion": float(f"4.{n % 100:02d}"), "peak_pressure": 500.5 + n} for n in range(101, 141)
    ]
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        kept = [fault.raw.rstrip(b"\r\n") for fault in reversed(faults(log, "P50"))]
        assert state.gaps(log, "P50") == []
    assert kept == [GARBAGE[n // 10 % 4] for n in (105, 115, 125, 135)]
    assert shotlog("verify", config).returncode == 0


def test_the_demo_ends_by_itself_and_its_log_verifies(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "shotlog", "demo", "--shots", "40", "--speed", "800", "--no-dashboard"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, timeout=180, check=False)
    assert done.returncode == 0, done.stderr
    stored = re.search(r"demo: ended; (\d+) shots stored", done.stderr)
    assert stored is not None
    assert int(stored[1]) >= 40
    config = tmp_path / "demo" / "demo.toml"
    assert "nothing changed later" in shotlog("verify", config).stdout
    shots = exported(config)
    assert len(shots) == int(stored[1])
    assert len({(shot.press, shot.shot) for shot in shots}) == len(shots)
    assert {shot.press for shot in shots if shot.halves} == {shot.press for shot in shots}
