"""Shots recorded elsewhere bring along why inserts were taken out."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.recording import read
from shotlog.store.importing import read_shots, take_shots
from shotlog.store.log.log import Log

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
RECORDING = """press,shot,time,fixed,moving,core,design,event,cushion
P25,1,2026-01-05T06:00:00Z,F-1,M-1,,cap;cap,,5.0
P25,2,2026-01-05T06:01:00Z,F-1,M-2,,cap;cap,removed:M-1:core blade: broken,5.0
P25,3,2026-01-05T06:02:00Z,,M-2,,cap,removed:F-1:planned;note:swapped,5.0
P25,4,2026-01-05T06:03:00Z,,M-3,,cap,,5.0
"""


@pytest.mark.either
def test_the_reason_of_a_removal_comes_in_with_the_shots(log: Log, tmp_path: Path) -> None:
    path = tmp_path / "elsewhere.csv"
    path.write_text(RECORDING, encoding="utf-8")
    assert take_shots(log, read_shots(log, path), NOW) == 4
    reasons = {stay.mounting.insert.serial: stay.reason for stay in log.timeline("P25").stays}
    assert reasons == {"F-1": "planned", "M-1": "core blade: broken", "M-2": "", "M-3": ""}
    assert [(one.removed, one.events) for one in log.logged("P25")] == [(one.removed, one.events) for one in read(path)]
