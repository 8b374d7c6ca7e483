"""A logger on presses on OPC UA in its short form: faults from a seed, each value broken in each way, counted outside.

`make interfaces` is the long one: 10,000 shots.
"""

from pathlib import Path

import pytest

from tests.faults.opc.bench import BURST, CUT, JOB, LOST, OTHER, TWICE, Bench
from tests.faults.opc.cases import CASES
from tests.faults.opc.count import figures

pytest.importorskip("asyncua", reason="the extra opcua is not installed")
pytestmark = pytest.mark.file  # the referee reads the file, by nothing of ours


def test_nothing_lost_changed_or_done_to_the_press(tmp_path: Path) -> None:
    cases = tuple(case for case in CASES if case.name == "broken")
    faults = {LOST: 3, CUT: 1, JOB: 1, BURST: 1, TWICE: 2, OTHER: 1}
    bench = Bench(tmp_path, 17, 120, every=10, pace_s=0.002, faults=faults, cases=cases)
    bench.run()
    counted = figures(bench)
    said = "\n".join([*counted.wrong, *(line.line for line in bench.logger.said)])
    assert not counted.wrong, said
    assert counted.in_gaps >= bench.done[LOST] > 0, said
    assert bench.relay.asked["CreateMonitoredItems"] >= 1 + bench.done[CUT], said
