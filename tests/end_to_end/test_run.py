"""Leaving it running: one press away, commands beside it, and every way to end."""

import json
import re
import signal
from pathlib import Path

import pytest

from shotlog.store.asked import state
from shotlog.store.asked.presence import last_came
from shotlog.store.log.log import open_log
from tests.end_to_end.running import Run, ServedPress, shotlog, write_config


def test_a_press_that_is_away_leaves_the_other_running_and_comes_back(tmp_path: Path) -> None:
    with ServedPress() as here, ServedPress(serving=False) as away:
        config = write_config(tmp_path, here.config("P25"), away.config("P50"))
        here.offer(1)
        with Run(config) as run:
            run.wait_for(rf"P50: lost: no connection to 127\.0\.0\.1:{away.port}: ")
            for n in range(2, 12):
                here.offer(n)
                run.wait_for(f"P25: shot {n} ")
            away.offer(500)
            away.start()
            run.wait_for("P50: connected: ")
            run.wait_for("P50: shot 500 ")
            assert run.stop() == 0
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        # Shot 1 may have given way to shot 2 before the logger was up.
        assert [shot.shot for shot in log.logged("P25", after=1)] == list(range(2, 12))
        assert [shot.shot for shot in log.logged("P50")] == [500]
        with log.reading() as connection:
            links = connection.exec_driver_sql(
                "SELECT presses.name, state FROM links JOIN presses ON presses.id = press_id ORDER BY links.id"
            ).all()
    assert [state for name, state in links if name == "P25"] == ["connected", "stopped"]
    assert [state for name, state in links if name == "P50"] == ["lost", "connected", "stopped"]


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_ctrl_c_and_a_request_to_terminate_end_it_well(tmp_path: Path, how: signal.Signals) -> None:
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        press.offer(1)
        with Run(config) as run:
            for n in range(2, 6):
                run.wait_for(f"P25: shot {n - 1} ")
                press.offer(n)
            run.wait_for("P25: shot 5 ")
            assert run.stop(how) == 0
            assert run.lines[-2] == "shotlog run: ended; 5 shots stored"
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        assert [shot.shot for shot in log.logged("P25")] == [1, 2, 3, 4, 5]
        judged = [verdict.shot for verdict in state.verdicts(log, "P25")]
        assert judged == [1, 2, 3, 4, 5][: len(judged)], "the end waits for no compiler: the next start judges the rest"
        shot, came = last_came(log, "P25") or (0, "")
        assert shot == 5
        assert re.fullmatch(r"(\d+:\d+ )+\d+:\d+", came)
        log.verify()


def test_it_ends_by_itself_after_so_many_shots(tmp_path: Path) -> None:
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        press.offer(1)
        with Run(config, "--shots", "3") as run:
            for n in (2, 3):
                run.wait_for(f"P25: shot {n - 1} ")
                press.offer(n)
            assert run.wait() == 0
            assert "shotlog run: ended; 3 shots stored" in run.lines


def test_entries_and_status_work_while_it_runs(tmp_path: Path) -> None:
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        with Run(config) as run:
            press.offer(1)
            for n in range(2, 21):
                run.wait_for(f"P25: shot {n - 1} ")
                press.offer(n)
            run.wait_for("P25: shot 20 ")
            for command in (
                ("mount", config, "P25", "M-014", "--at-shot", "5", "--design", "cap-r2"),
                ("mount", config, "P25", "M-015", "--at-shot", "15"),
                ("note", config, "P25", "lot", "L2", "--at-shot", "10"),
                ("remove", config, "P25", "M-015", "--reason", "flash at the gate"),
            ):
                done = shotlog(*command)
                assert (done.returncode, done.stderr) == (0, "")
            now = json.loads(shotlog("status", config, "--json").stdout)
            press.offer(21)
            run.wait_for("P25: shot 21 ")
            assert run.stop() == 0
    # whoever asks for the end waits for no judging: what is left of it is done by the next command that needs it
    assert shotlog("note", config, "P25", "note", "the trial is over").returncode == 0
    assert now["presses"][0]["shot"] == 20
    assert now["presses"][0]["connection"]["state"] == "connected"
    assert now["presses"][0]["mounted"] == {}
    assert now["logging_seen"] is not None
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        made = {shot.shot: shot.halves["moving"].serial for shot in log.logged("P25") if shot.halves}
        assert made == dict.fromkeys(range(5, 15), "M-014") | dict.fromkeys(range(15, 21), "M-015")
        verdicts = state.verdicts(log, "P25")
        assert [verdict.shot for verdict in verdicts] == list(range(1, 22))
        assert [verdict.insert for verdict in verdicts] == [made.get(n, "") for n in range(1, 22)]
        log.verify()


def test_what_was_stored_is_judged_the_same_when_replayed(tmp_path: Path) -> None:
    """`export` and `replay --verdicts` against the verdicts in the log, cell by cell."""
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        with Run(config) as run:
            for n in range(1, 41):
                press.offer(n)
                run.wait_for(f"P25: shot {n} ")
            assert shotlog("mount", config, "P25", "M-014", "--at-shot", "9").returncode == 0
            assert run.stop() == 0
    out, verdicts = tmp_path / "out.csv", tmp_path / "verdicts.csv"
    assert shotlog("export", config, "--out", out).returncode == 0
    assert shotlog("replay", config, out, "--verdicts", verdicts).returncode == 0
    header, *rows = [line.split(",") for line in verdicts.read_text(encoding="utf-8").splitlines()]
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        stored = state.verdicts(log, "P25")
    assert len(stored) == 40

    def cell(value: object) -> str:
        if isinstance(value, tuple):
            return ";".join(value)
        return str(value).lower() if isinstance(value, bool) else "" if value is None else str(value)

    assert rows == [[cell(getattr(verdict, name)) for name in header] for verdict in stored]
