"""Killed at any instant: no acknowledged shot lost, none stored twice, and the log opens again.

What this cannot show is what a power cut does: after kill -9 the operating system still writes the pages it was given,
so a log without full synchronisation would pass as well. That every commit is synchronised is tested by asking SQLite
(`tests/store/test_opening.py`); whether the disk keeps its word is beyond any test here.
"""

import random
import signal
import threading
from pathlib import Path

import pytest

from shotlog.store.asked import state
from shotlog.store.log.log import open_log
from tests.end_to_end.running import Run, ServedPress, expected, shotlog, write_config


@pytest.mark.parametrize("kills", [4, pytest.param(20, marks=pytest.mark.long)])
def test_killed_at_many_instants(tmp_path: Path, kills: int) -> None:
    chance = random.Random(20260105)
    acknowledged: list[int] = []
    done = threading.Event()

    def make_shots() -> None:
        n = 0
        while not done.wait(0.012):  # the cycle of a press far too fast, so that kills hit work in progress
            n += 1
            press.offer(n)

    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25", poll_s=0.01))
        url = f"sqlite:///{tmp_path.as_posix()}/trial.db"
        maker = threading.Thread(target=make_shots)
        maker.start()
        try:
            for _ in range(kills):
                with Run(config) as run:
                    run.wait_for("P25: shot ", chance.randint(1, 12))
                    done.wait(chance.uniform(0.0, 0.012))
                    assert run.stop(signal.SIGKILL) == -signal.SIGKILL
                    acknowledged += run.acknowledged("P25")
                with open_log(url) as log:  # opens, for reading only, as it was left
                    assert log.last_shot("P25") is not None
        finally:
            done.set()
            maker.join()
        with Run(config) as run:
            run.wait_for("P25: connected")
            press.offer(65_000)
            run.wait_for("P25: shot 65000 ")
            assert run.stop() == 0
            acknowledged += run.acknowledged("P25")
    # whoever asks for the end waits for no judging: what is left of it is done by the next command that needs it
    assert shotlog("note", config, "P25", "note", "the trial is over").returncode == 0
    assert len(acknowledged) > kills
    assert len(set(acknowledged)) == len(acknowledged)
    with open_log(url) as log:
        stored = {shot.shot: dict(shot.values) for shot in log.logged("P25")}
        missed = [n for gap in state.gaps(log, "P25") for n in range(gap.first, gap.last + 1)]
        assert [verdict.shot for verdict in state.verdicts(log, "P25")] == sorted(stored)
        log.verify()
    assert set(acknowledged) <= set(stored)
    assert stored == {n: expected(n) for n in stored}
    # Nothing is counted twice either: each number is a shot or missed, and none is both.
    assert sorted([*stored, *missed]) == list(range(min(stored), 65_001))
    assert shotlog("verify", config).returncode == 0
