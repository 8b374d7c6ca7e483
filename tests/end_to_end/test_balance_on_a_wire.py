"""A bench balance on a real serial line beside a press: ``shotlog run`` as a process, weights matched to shots."""

import json
import os
from math import pi
from pathlib import Path

import pytest

from tests.end_to_end.running import Run, ServedPress, pseudo_terminal, shotlog, write_config

BALANCE = """
[[balance]]
name = "balance-1"
port = "{port}"
weighs = "P25"
after_s = 3600.0
poll_s = 0.02
screw_mm = 22.0
melt_density = 1.2688
dose_mm = 27.0
"""


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="this system has no pseudo-terminals")
def test_weights_from_a_pseudo_terminal_reach_the_shots_they_belong_to(tmp_path: Path) -> None:
    """Shot 3 is not weighed; a print while the pan moved and an overload become faults with their bytes."""
    with pseudo_terminal() as (wire, port), ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"), BALANCE.format(port=port))
        assert "WARNING" not in shotlog("check", config).stdout
        press.offer(1)
        with Run(config) as run:
            run.wait_for("balance-1: connected: ")
            for n in range(1, 7):
                press.offer(n)
                run.wait_for(f"P25: shot {n} ")
                if n == 2:
                    os.write(wire, b"W 10.150 g ~\r\n")
                    run.wait_for("balance-1: fault, ", 1)
                if n == 4:
                    os.write(wire, b"W ---- g !\r\n")
                    run.wait_for("balance-1: fault, ", 2)
                if n != 3:
                    line = f"W +10,{200 + n} g =\r\n".encode()
                    os.write(wire, line[:9])
                    os.write(wire, line[9:])
                    run.wait_for(r"P25: weighed [\d.]+ g on balance-1", n - (n > 3))
            assert run.stop() == 0
    rows = json.loads(shotlog("weights", config, "P25", "--json").stdout)["weighings"]
    assert [(row["grams"], row["shot"]) for row in rows] == [(round(10.2 + n / 1000, 3), n) for n in (1, 2, 4, 5, 6)]
    (part,) = json.loads(shotlog("part", config, "P25", "6", "--json").stdout)
    assert part["values"]["part_weight"] == 10.206
    pushed = pi / 4 * 22.0**2 * 1.2688 / 1000 * (27.0 - part["values"]["cushion"])
    assert part["values"]["mass_balance"] == pytest.approx(pushed - 10.206, abs=1e-6)
    assert shotlog("verify", config).returncode == 0
