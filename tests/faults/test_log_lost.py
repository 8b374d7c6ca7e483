"""One run to whose log everything is done that people and disks do, while shots go on; and a second run beside it."""

import sqlite3
from contextlib import closing
from pathlib import Path

from shotlog.records import LOG_AWAY
from shotlog.store.asked import state
from shotlog.store.asked.faults import faults
from shotlog.store.log.log import open_log
from shotlog.store.log.starts import starts
from shotlog.wording.clock import start_said
from tests.end_to_end.running import Run, ServedPress, expected, shotlog, write_config

PAGE = 4096


def delete(log: Path) -> None:
    for one in log.parent.glob("trial.db*"):
        one.unlink()


def move_away(log: Path) -> None:
    log.rename(log.with_name("moved.db"))


def put_older_over(log: Path) -> None:
    log.with_name("older.db").replace(log)


def write_another_over(log: Path) -> None:
    log.write_bytes(b"some text that a person saved under this name, longer than a page " * 200)


def backed_up(log: Path) -> None:
    with closing(sqlite3.connect(log)) as source, closing(sqlite3.connect(log.with_name("older.db"))) as copy:
        source.backup(copy)


DONE = (
    (delete, "Somebody deleted or moved the log .* nothing is lost"),
    (put_older_over, "Another file was put in place of the log .* nothing is lost. What was found there is kept as"),
    (move_away, "Somebody deleted or moved the log .* nothing is lost"),
    (write_another_over, "nothing is lost|so a new log goes on|all that could be read"),
)


def test_everything_that_can_be_done_to_the_log_of_a_run(tmp_path: Path) -> None:
    """139 acknowledged shots were gone, nothing was said, and `verify` was content; two runs wrote one log."""
    log = tmp_path / "trial.db"
    shot = 0
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))

        def make(run: Run, n: int) -> None:
            nonlocal shot
            for _ in range(n):
                shot += 1
                press.offer(shot)
                run.wait_for(f"P25: (waits .*: )?shot {shot} ")

        with Run(config) as run:
            run.wait_for("P25: connected")
            make(run, 5)
            backed_up(log)
            assert shotlog("mount", config, "P25", "B-11", "--half", "moving").returncode == 0
            make(run, 5)
            second = shotlog("run", config, "--no-dashboard")
            assert second.returncode == 1
            assert f"press.toml is logged already, by process {run.process.pid} on " in second.stderr
            assert second.stderr.count("\n") == 1
            for number, (does, said) in enumerate(DONE, 1):
                does(log)
                make(run, 1)
                run.wait_for(said)
                run.wait_for("the log can be written again", number)
                make(run, 3)
                check(log, shot)
            assert run.stop() == 0
            acknowledged = run.acknowledged("P25")
        assert len(acknowledged) == len(set(acknowledged))
        verified = shotlog("verify", config)
        assert verified.returncode == 0, verified.stderr
        assert "it goes on from an earlier log since" in verified.stdout
        on_record(log)
        damage_a_page(log, "shots")
        with Run(config) as run:
            run.wait_for(r"is damaged \(Page \d+: .*\).* goes on with all that could be read; lost are \d+ of shots")
            run.wait_for("connected: the press answers")
            make(run, 2)
            assert run.stop() == 0
    with open_log(f"sqlite:///{log.as_posix()}") as opened:
        assert opened.last_shot("P25") == (shot, shot)
        opened.verify()


def check(log: Path, upto: int) -> None:
    with open_log(f"sqlite:///{log.as_posix()}") as opened:
        stored = {one.shot: dict(one.values) for one in opened.logged("P25")}
        assert stored == {n: expected(n) for n in range(1, upto + 1)}
        assert state.gaps(opened, "P25") == []
        assert starts(opened)  # a log begun anew says under which configuration as well
        assert opened.timeline("P25").halves(upto)["moving"].serial == "B-11"


def on_record(log: Path) -> None:
    """What was done to the log is told by the log, and by no start that is none."""
    with open_log(f"sqlite:///{log.as_posix()}") as opened:
        told = [one.detail for one in reversed(faults(opened, "P25")) if one.kind == LOG_AWAY]
        again = [start_said(one) for one in starts(opened)]
    assert "deleted or moved away, and all of it was put back; 1 shot of this press waited" in told[0]
    assert "another file was put in its place, and all of it was put back; what lay there is kept as " in told[1]
    assert len(told) == len(DONE)
    assert sum(one.startswith("Entered again ") for one in again) == len(again) - 1


def damage_a_page(log: Path, table: str) -> None:
    with closing(sqlite3.connect(log)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    with log.open("r+b") as file:
        file.seek((page - 1) * PAGE)
        file.write(b"\xa5" * PAGE)
