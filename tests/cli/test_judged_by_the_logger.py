"""Where judging is not compiled yet, an entry leaves it to a logger that is at work."""

import time
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.cli.opening import judge_rest
from shotlog.recorder import compiling
from shotlog.records import Shot
from shotlog.settings import load
from shotlog.store.asked.heartbeat import Beat, beat, this_host
from shotlog.store.log.log import Log


@pytest.mark.parametrize(("compiled", "ended", "judged"), [(False, False, 0), (True, False, 1), (False, True, 1)])
def test_it_is_left_to_a_logger_at_work_only_until_it_is_compiled(
    log: Log, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, compiled: bool, ended: bool, judged: int
) -> None:
    config = tmp_path / "c.toml"
    config.write_text(
        '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
    )
    now = datetime.now(UTC)
    log.append([Shot("P25", 1, 1, now, {"cushion": 5.0})])
    sign = Beat(1, now, now, time.monotonic(), this_host(), 4711)
    beat(log, replace(sign, ended=ended))
    monkeypatch.setattr(compiling, "is_compiled", lambda: compiled)
    monkeypatch.setattr(compiling, "_compile_apart", lambda: None)
    assert judge_rest(log, load(config), "P25") == judged
