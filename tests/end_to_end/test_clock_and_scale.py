"""The clock set back in a run, and another scale from one run to the next: played by command, over a wire."""

import json
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.records import Shot
from shotlog.store.asked import state
from shotlog.store.log.log import open_log
from tests.end_to_end.running import DEADLINE_S, ServedPress, write_config


class Pressing:
    """A press that makes the next shot once one is stored; something may be done before."""

    def __init__(self, press: ServedPress, before: dict[int, Callable[[], None]]) -> None:
        self._press, self._before = press, before

    def __call__(self, record: object) -> None:
        if isinstance(record, Shot):
            self._before.get(record.shot + 1, lambda: None)()
            self._press.offer(record.shot + 1)


def logged(config: Path, n: int, pressing: Pressing) -> None:
    """Log `n` shots as `run` does."""
    from shotlog.cli.run import log_presses

    stop = threading.Event()
    timer = threading.Timer(DEADLINE_S, stop.set)
    timer.start()
    log_presses(config, stop, n, with_pages=False, listeners=(pressing,))
    timer.cancel()


def test_a_crack_found_after_the_clock_was_set_back_holds_what_was_released_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Parts 5 to 8 are released, the clock goes back two hours, a crack is found on part 6."""
    ahead = [timedelta(0)]
    monkeypatch.setattr("shotlog.clock._wall", lambda: datetime.now(UTC) + ahead[0])

    def go_back() -> None:
        run("parts", "P25", "5-8", "--release", "--reason", "looked at", "--initials", "R. K.")
        ahead[0] = timedelta(hours=-2)

    def run(*words: str) -> str:
        capsys.readouterr()
        assert main([words[0], str(config), *words[1:]]) == 0
        return capsys.readouterr().out

    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        press.offer(1)
        run("mount", "P25", "B-11")
        logged(config, 12, Pressing(press, {9: go_back}))
    assert "CLOCK: the clock of this computer was set back by 2 h; " in capsys.readouterr().err
    run("note", "P25", "finding", "crack", "--at-shot", "6")
    stands = {one["shot"]: one["state"] for one in json.loads(run("parts", "P25", "--all", "--json"))["parts"]}
    assert [stands[n] for n in range(5, 13)] == ["released", *["held"] * 7]
    (step,) = json.loads(run("entries", "--starts", "--json"))["clock_steps"]
    assert step["step_s"] == pytest.approx(-7200.0, abs=1.0)
    (noted,) = [one for one in json.loads(run("entries", "P25", "--json")) if one["about"] == "clock"]
    assert noted["first"] == 9
    run("verify")


def test_a_scale_of_ten_times_as_much_is_said_where_the_level_jumps(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        press.offer(1)
        logged(config, 10, Pressing(press, {}))
        text = config.read_text(encoding="utf-8")
        config.write_text(text.replace("scale = 0.01", "scale = 0.1"), encoding="utf-8")
        logged(config, 10, Pressing(press, {}))
    said = "P25: channel map changed: cushion scale 0.01 to 0.1; level and sisters are learnt anew from here on"
    assert said in capsys.readouterr().err
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}") as log:
        (noted,) = [one.event for one in state.entries(log, "P25") if one.event.kind == "map"]
        levels = [round(shot.values["cushion"]) for shot in log.logged("P25")]
    jump = next(n for n, (one, two) in enumerate(pairwise(levels)) if two > 5 * one)
    assert noted.at_shot == jump + 2
