"""Presses, log and judge joined: what comes is stored and judged, whatever fails on the way."""

import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.clock import Clock, HandClock, SystemClock
from shotlog.collectors.base import Collector, Reading, Resume
from shotlog.errors import StoreDamaged, StoreReplaced, StoreUnreachable
from shotlog.evaluator import Evaluator
from shotlog.recorder import Ended, Kept, Recorder
from shotlog.records import Fault, Gap, Judged, LoggedShot, Shot, Verdict
from shotlog.settings import Settings, load
from shotlog.store.asked import state
from shotlog.store.asked.faults import faults
from shotlog.store.asked.heartbeat import Beat, heard, read
from shotlog.store.asked.links import links
from shotlog.store.log.journal import Journal
from shotlog.store.log.journal_note import read_note
from shotlog.store.log.journal_place import journal_place
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import Asked

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)

Records = list[Shot | Gap | Fault]


@dataclass
class Script:
    """Options of a press that makes `n` shots, one a poll, and hands over one more when closed."""

    n: int
    poll_s: float = 0.0
    resumed: list[Resume | None] = field(default_factory=list)

    def describe(self) -> list[str]:
        return []

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        self.resumed.append(resume)
        return Scripted(press, self.n, resume.shot if resume else 0)


class Scripted:
    def __init__(self, press: str, n: int, last: int) -> None:
        self._press, self._next, self._last = press, last + 1, last + n
        self._closed = False

    def open(self) -> None:
        pass

    def poll(self) -> Records:
        return self._shot() if self._next <= self._last else []

    def close(self) -> Records:
        held = [] if self._closed else self._shot()
        self._closed = True
        return held

    def probe(self) -> list[Reading]:
        return []

    def _shot(self) -> Records:
        number, self._next = self._next, self._next + 1
        time = NOW + timedelta(seconds=30 * number)
        return [Shot(self._press, number, number, time, {"cushion": 5.0 + number % 7 / 100})]


class Trouble(Log):
    """The log under test, whose transactions fail while `error` is set."""

    error: Exception | None = None

    @contextmanager
    def transaction(self, origin: str | None = None, asked: Sequence[Asked] = ()) -> Iterator[object]:
        if self.error is not None:
            raise self.error
        with super().transaction(origin, asked) as work:
            yield work


@pytest.fixture
def trouble(log: Log) -> Trouble:
    return Trouble(log.url, log._writer, log._reader)


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """Only the store and the designs of it are used: the collectors are scripted."""
    config = tmp_path / "c.toml"
    config.write_text(
        '[log]\nstore = "sqlite:///trial.db"\nreserve_mb = 1\n'
        '[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
    )
    return load(config)


def run(log: Log, settings: Settings, n_shots: int | None, **presses: Script) -> Ended:
    return Recorder(log, settings, presses, SystemClock()).run(threading.Event(), n_shots)


def stored(log: Log, press: str = "P25") -> list[int]:
    return [shot.shot for shot in log.logged(press)]


def test_presses_are_logged_beside_each_other_and_judged(log: Log, settings: Settings) -> None:
    ended = run(log, settings, 30, P25=Script(20), P50=Script(10))
    assert (ended.stored, ended.waiting, ended.lost) == (32, 0, ())  # the shot each press held back comes at the end
    assert stored(log) == list(range(1, 22))
    assert stored(log, "P50") == list(range(1, 12))
    for press in ("P25", "P50"):
        assert [verdict.shot for verdict in state.verdicts(log, press)] == stored(log, press)
        link = state.press_state(log, press).link
        assert link is not None
        assert link.state == "stopped"
    log.verify()


def test_shots_are_stored_while_judging_is_prepared_and_judged_afterwards(log: Log, settings: Settings) -> None:
    """The compiler ran in front of the first shots: they were read and stored seconds late."""
    ready = threading.Event()
    seen: list[object] = []
    signs: list[Beat] = []

    def show(record: object) -> None:
        seen.append(record)
        if len(stored(log)) >= 3 and not ready.is_set():
            signs.append(recorder._sign())
            ready.set()

    recorder = Recorder(
        log, settings, {"P25": Script(3)}, SystemClock(), (show,), prepare=lambda: bool(ready.wait(60)) and None
    )
    recorder.run(threading.Event(), 3)
    kinds = [type(one) for one in seen if isinstance(one, Shot | Verdict)]
    assert kinds[:3] == [Shot, Shot, Shot]
    assert kinds[-1] is Verdict
    assert [one.shot for one in state.verdicts(log, "P25")] == stored(log)
    (meanwhile,), last = signs, heard(log)
    assert (meanwhile.gets_ready_s is not None, meanwhile.waits_s) == (True, {}), "nothing can be judged yet"
    assert last is not None
    assert last.gets_ready_s is None


def test_preparing_that_fails_stops_nothing(log: Log, settings: Settings, caplog: pytest.LogCaptureFixture) -> None:
    def fail() -> None:
        raise RuntimeError("no compiler after all")

    Recorder(log, settings, {"P25": Script(3)}, SystemClock(), prepare=fail).run(threading.Event(), 3)
    assert "preparing to judge failed" in caplog.text
    assert [one.shot for one in state.verdicts(log, "P25")] == stored(log)


def test_who_ends_it_by_hand_does_not_wait_for_the_preparing(
    log: Log, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shotlog.recorder.leaving._END_S", 0.0)
    stop, done = threading.Event(), threading.Event()

    def show(_: object) -> None:
        if len(stored(log)) >= 3:
            stop.set()

    recorder = Recorder(
        log, settings, {"P25": Script(3)}, SystemClock(), (show,), prepare=lambda: bool(done.wait(60)) and None
    )
    recorder.run(stop)
    assert not done.is_set()
    done.set()
    assert len(stored(log)) >= 3
    assert state.verdicts(log, "P25") == []
    run(log, settings, 1, P25=Script(1))
    assert [one.shot for one in state.verdicts(log, "P25")] == stored(log)


def test_a_restart_goes_on_from_the_last_stored_shot(log: Log, settings: Settings) -> None:
    script = Script(5)
    run(log, settings, 5, P25=script)
    run(log, settings, 5, P25=script)
    assert script.resumed == [None, Resume(6, 6)]
    assert stored(log) == list(range(1, 13))


def test_shots_that_wait_in_the_journal_count_at_a_restart(
    trouble: Trouble, settings: Settings, caplog: pytest.LogCaptureFixture
) -> None:
    """The restart went by the log alone, and counted the shots in the journal as missed."""
    script = Script(3)
    trouble.error = StoreUnreachable("log: database is locked")
    run(trouble, settings, 3, P25=script)
    assert stored(trouble) == []
    run(trouble, settings, 3, P25=script)
    trouble.error = None
    run(trouble, settings, 3, P25=script)
    assert script.resumed == [None, Resume(4, 4), Resume(8, 8)]
    assert stored(trouble) == list(range(1, 13))
    assert [verdict.shot for verdict in state.verdicts(trouble, "P25")] == list(range(1, 13))
    assert "the log can be written again; 8 shots that waited are in it now (P25 1 to 8)" in caplog.text


def test_a_log_that_turns_out_damaged_does_not_end_the_run(trouble: Trouble, settings: Settings) -> None:
    """It ended, and what came after the first failure went nowhere."""
    seen: list[object] = []
    trouble.error = StoreDamaged("log: database disk image is malformed")
    scripts = {"P25": Script(3), "P50": Script(3)}
    ended = Recorder(trouble, settings, scripts, SystemClock(), (seen.append,)).run(threading.Event(), 5)
    assert (ended.stored, ended.waiting, ended.lost) == (0, 8, ())
    assert ended.place == journal_place(settings)
    kept = [record for one in Journal(ended.place).batches() for record in one.records]
    for press in scripts:
        assert [one.shot for one in kept if isinstance(one, Shot) and one.press == press] == [1, 2, 3, 4]
    assert all(isinstance(one, Kept) and one.place == "journal" for one in seen)  # nothing was shown as stored
    assert [one.record for one in seen if isinstance(one, Kept)] == kept


def test_shots_in_a_file_that_is_gone_are_not_said_to_be_stored(
    log: Log, settings: Settings, caplog: pytest.LogCaptureFixture
) -> None:
    """It is often the judge that reads first what was put in place of the log."""
    recorder = Recorder(log, settings, {"P25": Script(1)}, SystemClock())
    recorder._say_trouble(StoreReplaced("log: another file was put in its place"), "the shots are stored")
    (said,) = [one.message for one in caplog.records]
    assert said.startswith("log: another file was put in its place; shots are kept in ")
    recorder._say_trouble(StoreUnreachable("log: locked"), "the shots are stored")
    assert caplog.records[-1].message == "log: locked; the shots are stored"


def test_a_listener_that_fails_stops_nothing(log: Log, settings: Settings, caplog: pytest.LogCaptureFixture) -> None:
    def fail(record: object) -> None:
        raise KeyError("on purpose")

    Recorder(log, settings, {"P25": Script(3)}, SystemClock(), (fail,)).run(threading.Event(), 3)
    assert stored(log) == [1, 2, 3, 4]
    assert "showing Shot failed; logging goes on" in caplog.text


def test_judging_that_fails_stops_nothing(
    log: Log, settings: Settings, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """An arithmetic mistake in a chart ended the logging of every press."""
    whole = Evaluator.step

    def step(self: Evaluator, shot: LoggedShot) -> list[Judged]:
        if self.press == "P25":
            raise ZeroDivisionError("on purpose")
        return whole(self, shot)

    monkeypatch.setattr(Evaluator, "step", step)
    run(log, settings, 10, P25=Script(5), P50=Script(5))
    assert stored(log) == stored(log, "P50") == [1, 2, 3, 4, 5, 6]
    assert "judging P25 failed; logging goes on" in caplog.text
    assert state.verdicts(log, "P25") == []
    last = heard(log)
    assert last is not None
    assert "P25" in (last.waits_s or {}), "what is at work tells that nothing is judged there"
    assert len(state.verdicts(log, "P50")) == 6


def backlog(log: Log, press: str, n: int) -> None:
    log.append([Shot(press, k, k, NOW + timedelta(seconds=30 * k), {"cushion": 5.0}) for k in range(1, n + 1)])


@pytest.mark.parametrize("behind", ["P25", "P50"])
def test_what_was_not_judged_before_is_judged_to_the_end(log: Log, settings: Settings, behind: str) -> None:
    """More than is judged at one go, on one press of two: the other, which had nothing left, ended it for both."""
    backlog(log, behind, 250)
    stop = threading.Event()
    stop.set()
    Recorder(log, settings, {"P25": Script(0), "P50": Script(0)}, HandClock()).run(stop)
    assert [verdict.shot for verdict in state.verdicts(log, behind)] == list(range(1, 252))


def test_judging_that_failed_waits_before_it_is_tried_again(
    log: Log, settings: Settings, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """Tried again at once, it filled the screen with one complaint; a clock that stands still shows each try."""
    whole, clock, tries = Evaluator.step, HandClock(), 0

    def step(self: Evaluator, shot: LoggedShot) -> list[Judged]:
        nonlocal tries
        tries += 1
        if tries == 1:
            raise ZeroDivisionError("on purpose")
        return whole(self, shot)

    monkeypatch.setattr(Evaluator, "step", step)
    Recorder(log, settings, {"P25": Script(3)}, clock).run(threading.Event(), 3)
    assert (tries, state.verdicts(log, "P25")) == (1, [])

    def later(record: object) -> None:
        clock.advance(5.0 if isinstance(record, Shot) else 0.0)

    tries = 0
    Recorder(log, settings, {"P25": Script(3)}, clock, (later,)).run(threading.Event(), 3)
    assert [verdict.shot for verdict in state.verdicts(log, "P25")] == stored(log)
    assert caplog.text.count("judging P25 failed") == 2


@pytest.mark.either
def test_a_stop_before_the_start_stores_what_the_presses_still_hold(log: Log, settings: Settings) -> None:
    stop = threading.Event()
    stop.set()
    assert Recorder(log, settings, {"P25": Script(3)}, SystemClock()).run(stop).stored == 1
    assert stored(log) == [1]


def test_threads_end_with_the_run(log: Log, settings: Settings) -> None:
    before = threading.active_count()
    run(log, settings, 3, P25=Script(3), P50=Script(3))
    assert threading.active_count() == before


def test_it_says_that_it_is_at_work_and_that_it_ended_as_it_was_asked_to(log: Log, settings: Settings) -> None:
    during: list[Beat | None] = []
    Recorder(log, settings, {"P25": Script(20)}, SystemClock(), (lambda _: during.append(heard(log)),)).run(
        threading.Event(), 15
    )
    first, last = next(filter(None, during)), heard(log)
    assert last is not None
    assert (first.ended, last.ended, last.silent) == (False, True, {})
    assert last.since == first.since
    assert last.count > first.count


def test_its_journal_says_so_too_for_a_log_that_cannot_be_written(log: Log, settings: Settings) -> None:
    Recorder(log, settings, {"P25": Script(20)}, SystemClock()).run(threading.Event(), 15)
    note, last = read_note(journal_place(settings)), heard(log)
    assert note is not None
    assert last is not None
    sign = read(note.beat)
    assert sign is not None
    assert (sign.ended, sign.since, sign.count) == (True, last.since, last.count + 1)


def test_a_run_that_fails_does_not_say_that_it_was_asked_to_end(
    log: Log, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    recorder = Recorder(log, settings, {"P25": Script(20)}, SystemClock())
    monkeypatch.setattr(recorder, "_judge_all", lambda: (_ for _ in ()).throw(RuntimeError("no more")))
    with pytest.raises(RuntimeError, match="no more"):
        recorder.run(threading.Event(), None)
    last = heard(log)
    assert last is None or not last.ended


class Dying(Scripted):
    """Its thread dies after three shots, in a way that no thread of a press should."""

    def poll(self) -> Records:
        if self._next == 4:
            raise SystemExit
        return super().poll()

    def close(self) -> Records:
        return []


@dataclass
class DyingOnce(Script):
    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        self.resumed.append(resume)
        return Dying(press, self.n, 0) if resume is None else Scripted(press, self.n, resume.shot)


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_press_whose_thread_died_is_read_again_from_where_the_log_stands(
    log: Log, settings: Settings, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr("shotlog.restarts._FIRST_S", 0.0)
    press = DyingOnce(20)
    run(log, settings, 10, P25=press)
    assert stored(log)[:10] == list(range(1, 11)), "none lost, none doubled"
    assert [None if one is None else one.shot for one in press.resumed] == [None, 3]
    said = "the thread that reads the press ended by itself; it is started again in 0 s"
    assert f"press P25: {said}" in caplog.text
    assert [fault.detail for fault in faults(log, "P25")] == [said]


class Hanging(Scripted):
    """Its driver does not come back at the fourth shot, until it is let go: then it brings that shot after all."""

    let_go = threading.Event()

    def poll(self) -> Records:
        if self._next == 4:
            assert self.let_go.wait(60)
        return super().poll()

    def close(self) -> Records:
        return []


@dataclass
class HangingOnce(Script):
    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        self.resumed.append(resume)
        return Hanging(press, self.n, 0) if resume is None else Scripted(press, self.n, resume.shot)


def test_a_press_whose_driver_hangs_is_read_by_another_thread_and_nothing_is_doubled(
    log: Log, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It was named, and not read until somebody ended the logger."""
    monkeypatch.setattr("shotlog.recorder.press_loop._HANGS_S", 0.3)
    Hanging.let_go.clear()
    press = HangingOnce(20)

    def show(record: object) -> None:
        if isinstance(record, Shot) and record.shot == 6:
            Hanging.let_go.set()

    recorder = Recorder(log, settings, {"P25": press}, SystemClock(), (show,))
    recorder.run(threading.Event(), 10)
    Hanging.let_go.set()
    assert stored(log)[:10] == list(range(1, 11)), "none lost, none doubled"
    assert [None if one is None else one.shot for one in press.resumed][:2] == [None, 3]
    assert faults(log, "P25")[0].detail.startswith("the thread that reads the press stood still for ")
    assert [link.state for link, _ in links(log, "P25")][:3] == ["connected", "lost", "connected"]
