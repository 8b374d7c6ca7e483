"""The end comes in seconds, whatever is slow, and loses nothing; and no press keeps the others from their turn."""

import sqlite3
import threading
import time
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.clock import Clock, SystemClock
from shotlog.collectors.base import Collector, Reading, Resume
from shotlog.recorder import Recorder
from shotlog.recorder.leaving import Leaving
from shotlog.records import Fault, Gap, Shot, Verdict
from shotlog.settings import Settings, load
from shotlog.store.asked import state
from shotlog.store.asked.faults import fault_kinds
from shotlog.store.log.log import Log

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
ENDS_S = 8.0
"""Five are promised; the rest is for a machine that runs other tests beside."""

Records = list[Shot | Gap | Fault]


@dataclass
class Press:
    """A press that makes a shot a poll up to `n`, `faults` beside; then it hangs until `hangs` is set."""

    n: int
    faults: int = 0
    hangs: threading.Event | None = None
    poll_s: float = 0.0
    made: list[int] = field(default_factory=list)

    def describe(self) -> list[str]:
        return []

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        return Making(press, self)


class Making:
    def __init__(self, press: str, chosen: Press) -> None:
        self._press, self._chosen = press, chosen

    def open(self) -> None:
        pass

    def poll(self) -> Records:
        made, chosen = self._chosen.made, self._chosen
        if len(made) >= chosen.n and chosen.hangs is not None:
            chosen.hangs.wait(60.0)
        records: Records = [Fault(self._press, NOW, "damaged", "noise", b"\xff") for _ in range(chosen.faults)]
        if len(made) < chosen.n:
            made.append(len(made) + 1)
            time = NOW + timedelta(seconds=30 * made[-1])
            records.append(Shot(self._press, made[-1], made[-1], time, {"cushion": 5.0 + made[-1] % 7 / 100}))
        return records

    def close(self) -> Records:
        return []

    def probe(self) -> list[Reading]:
        return []


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    config = tmp_path / "c.toml"
    config.write_text(
        '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
    )
    return load(config)


def ended(recorder: Recorder, stop: threading.Event, when: threading.Event) -> float:
    """Run until `when`, ask for the end, and return how many seconds that took."""
    threads = [threading.Thread(target=lambda: recorder.run(stop))]
    threads[0].start()
    assert when.wait(60.0)
    began = time.monotonic()
    stop.set()
    threads[0].join(60.0)
    return time.monotonic() - began


def another_program(settings: Settings) -> sqlite3.Connection:
    path = settings.file.parent / "trial.db"
    return sqlite3.connect(path, isolation_level=None, check_same_thread=False)


def stored(log: Log, press: str) -> list[int]:
    return [shot.shot for shot in log.logged(press)]


def test_a_locked_log_a_hanging_press_and_a_compiler_that_runs_do_not_hold_up_the_end(
    log: Log, settings: Settings
) -> None:
    """Each was waited for: ten seconds for the lock at every transaction, ten for the compiler, a press for ever."""
    stop, locked, let_go = threading.Event(), threading.Event(), threading.Event()
    presses = {"P25": Press(40), "P50": Press(40, hangs=let_go)}
    with closing(another_program(settings)) as other:

        def show(record: object) -> None:
            if isinstance(record, Shot) and record.shot == 20 and not locked.is_set():
                other.execute("BEGIN IMMEDIATE")
                locked.set()

        recorder = Recorder(
            log, settings, presses, SystemClock(), (show,), prepare=lambda: bool(let_go.wait(60.0)) and None
        )
        assert ended(recorder, stop, locked) < ENDS_S
        other.execute("ROLLBACK")
    let_go.set()
    Recorder(log, settings, {}, SystemClock()).run(stop)  # takes in what waits in the journal
    for press, made in presses.items():
        assert stored(log, press) == made.made
    log.verify()


def test_a_press_that_floods_keeps_no_other_from_being_stored_judged_and_shown(log: Log, settings: Settings) -> None:
    """Of 73 shots 24 were stored, none was judged, and the end took 40 s."""
    stop, judged = threading.Event(), threading.Event()
    presses = {"P25": Press(60, poll_s=0.001), "P50": Press(0, faults=50)}

    def show(record: object) -> None:
        if isinstance(record, Verdict) and record.shot == 60:
            judged.set()

    assert ended(Recorder(log, settings, presses, SystemClock(), (show,)), stop, judged) < ENDS_S
    assert stored(log, "P25") == [verdict.shot for verdict in state.verdicts(log, "P25")] == list(range(1, 61))
    (kind,) = fault_kinds(log, "P50")
    assert kind.n > 1000
    with closing(another_program(settings)) as connection:
        assert connection.execute("SELECT count(*) FROM faults").fetchone()[0] <= 6


def test_who_is_leaving_hurries_only_where_somebody_asked() -> None:
    clock, stop = SystemClock(), threading.Event()
    leaving = Leaving(clock)
    leaving.watch(stop)
    assert not leaving()
    stop.set()
    assert leaving()
    leaving.begin(hurried=False)
    assert not leaving()
