"""A disk that takes no more: what is said to be stored is, what waits is said to wait, and what is lost is named.

The limit on the size of files (`RLIMIT_FSIZE`) stands for the disk: the system itself refuses to let the log's files
grow, while what lies within the limit can still be written, as in space that was taken beforehand.
"""

import resource
import signal
from pathlib import Path

import pytest

from shotlog.store.log.journal_space import LINES_AT
from shotlog.store.log.log import open_log
from tests.end_to_end.running import Run, ServedPress, expected, write_config

pytestmark = [
    pytest.mark.file,  # the logger's own files are what may not grow
    pytest.mark.skipif(not hasattr(resource, "prlimit"), reason="needs the limits of a Linux process"),
]

UNLIMITED = (resource.RLIM_INFINITY, resource.RLIM_INFINITY)


def limit(run: Run, size: int) -> None:
    resource.prlimit(run.process.pid, resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


def make(run: Run, press: ServedPress, shots: range, said: str = "shot {} ") -> None:
    for n in shots:
        press.offer(n)
        run.wait_for(said.format(n))


def stored(folder: Path) -> dict[int, dict[str, float]]:
    with open_log(f"sqlite:///{folder.as_posix()}/trial.db") as log:
        log.verify()
        return {shot.shot: dict(shot.values) for shot in log.logged("P25")}


def test_a_full_disk_loses_nothing_and_tells_as_stored_what_is_stored(tmp_path: Path) -> None:
    """615 shots that had been printed as logged were gone after SIGTERM: journal and log lay on one full disk."""
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        with Run(config) as run:
            run.wait_for("P25: connected")
            make(run, press, range(1, 6))
            limit(run, (tmp_path / "trial.db-wal").stat().st_size)
            make(run, press, range(6, 31), "P25: waits in the journal, not in the log yet: shot {} ")
            assert run.stop(signal.SIGTERM) == 0
            acknowledged = run.acknowledged("P25")
        last = run.lines[-2]
        assert acknowledged == [1, 2, 3, 4, 5]
        assert last.startswith("shotlog run: ended; 5 shots stored, 25 waiting in ")
        assert "trial.db.press.journal, not in the log yet" in last
        assert sorted(stored(tmp_path)) == [1, 2, 3, 4, 5]
        with Run(config) as run:
            run.wait_for(r"the log can be written again; 25 shots that waited are in it now \(P25 6 to 30\)")
            run.wait_for("connected: the press answers")  # maybe while the others are still moved
            make(run, press, range(31, 33))
            assert run.stop() == 0
    assert stored(tmp_path) == {n: expected(n) for n in range(1, 33)}


def test_what_neither_log_nor_journal_takes_is_not_safe_yet_and_named_where_it_is_lost(tmp_path: Path) -> None:
    with ServedPress() as press:
        config = write_config(tmp_path, press.config("P25"))
        with Run(config) as run:
            run.wait_for("P25: connected")
            make(run, press, range(1, 3))
            limit(run, LINES_AT)
            make(run, press, range(3, 6), "P25: IN MEMORY ONLY, not safe yet: shot {} ")
            limit(run, resource.RLIM_INFINITY)
            make(run, press, range(6, 8), "P25: (waits in the journal, not in the log yet: )?shot {} ")
            limit(run, LINES_AT)
            make(run, press, range(8, 10), "P25: IN MEMORY ONLY, not safe yet: shot {} ")
            assert run.stop(signal.SIGTERM) == 1
        said = "\n".join(run.lines)
        assert "in memory only: MAKE ROOM, DO NOT SWITCH OFF" in said
        assert "2 LOST (P25 shot 8 to P25 shot 9): neither the log nor the journal could be written" in run.lines[-2]
        with Run(config) as run:
            run.wait_for("P25: connected")
            run.wait_for("P25: MISSED shot 8")  # shot 9 still stands in the registers
            assert run.stop() == 0
    assert stored(tmp_path) == {n: expected(n) for n in (1, 2, 3, 4, 5, 6, 7, 9)}
