"""The clock of the computer is set while shots come: seen at the next turn, in the log, and told to the call."""

import threading
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

import pytest

from shotlog.clock import HandClock, SystemClock
from shotlog.collectors.base import Reading
from shotlog.evaluator import Evaluator
from shotlog.recorder import Recorder
from shotlog.recorder.clock_watch import LEAST_STEP_S, ClockWatch, watch_from
from shotlog.records import ClockStep, Event, LoggedShot, Shot, Verdict
from shotlog.settings import Settings, load
from shotlog.store.asked import state
from shotlog.store.log.clock_steps import clock_steps, untold_steps
from shotlog.store.log.log import Log

TURN_S = 0.25


def shot(clock: HandClock, number: int, press: str = "P25") -> Shot:
    return Shot(press, number, number, clock.now(), {"cushion": 3.0 + number % 3 / 100})


def watch(clock: HandClock, *presses: str) -> ClockWatch:
    return ClockWatch(clock, presses or ("P25",), {})


def test_a_clock_that_is_set_is_seen_at_the_next_look_and_once() -> None:
    clock = HandClock()
    seen = watch(clock)
    clock.advance(TURN_S)
    assert seen.look() == []
    clock.set_by(-7200.0)
    clock.advance(TURN_S)
    (step,) = seen.look()
    assert step == ClockStep(clock.now(), -7200.0, step.detail)
    assert step.detail.startswith("the clock of this computer was set back by 2 h; ")
    clock.advance(TURN_S)
    assert seen.look() == []


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_what_is_less_than_the_bound_is_no_step(sign: float) -> None:
    clock = HandClock()
    seen = watch(clock)
    for set_by, n in ((0.99 * LEAST_STEP_S, 0), (1.1 * LEAST_STEP_S, 1)):
        clock.set_by(sign * set_by)
        clock.advance(TURN_S)
        assert len(seen.look()) == n


def test_a_slow_correction_is_no_step_however_long_nobody_looked() -> None:
    """A time server that slews moves the clock by 8 in 100 at most; a turn may wait a minute for a locked log."""
    clock = HandClock()
    seen = watch(clock)
    for between in (TURN_S, 5.0, 60.0, 3600.0):
        for _ in range(20):
            clock.advance(between)
            clock.set_by(0.08 * between)
            assert seen.look() == []


def test_a_computer_that_slept_is_said_to_have_slept() -> None:
    clock = HandClock()
    seen = watch(clock)
    clock.sleep(2400.0)
    clock.advance(TURN_S)
    (step,) = seen.look()
    assert step.step_s == 0.0
    assert step.detail.startswith("this computer was suspended for 40 min: nobody was logging meanwhile")
    # its clock is right, so that no shot is told of it: the time since the shot before is what it was
    assert seen.beside([shot(clock, 1)], []) == [shot(clock, 1)]


def test_the_first_shot_of_each_press_after_a_step_is_told_of_it() -> None:
    clock = HandClock()
    seen = watch(clock, "P25", "P50")
    clock.advance(TURN_S)
    clock.set_by(-7200.0)
    first = shot(clock, 10)
    steps = seen.look()
    assert seen.beside([first], steps) == [*steps, Event("P25", 10, "clock", "-7200.000 s", clock.now()), first]
    clock.advance(7200.0)
    seen.look()
    later = [shot(clock, 11), shot(clock, 7, "P50")]
    assert seen.beside(later, []) == [later[0], Event("P50", 7, "clock", "-7200.000 s", clock.now()), later[1]]


@pytest.mark.parametrize("by", [-7200.0, 7200.0])
def test_what_was_read_before_the_step_and_comes_after_it_is_not_told_of_it(by: float) -> None:
    clock = HandClock()
    seen = watch(clock)
    held = shot(clock, 10)
    clock.advance(3.0)
    clock.set_by(by)
    steps = seen.look()
    assert seen.beside([held], steps) == [held, *steps]
    after = shot(clock, 11)
    assert [type(one) for one in seen.beside([after], [])] == [Event, Shot]


def test_steps_before_a_shot_are_told_as_what_they_come_to() -> None:
    clock = HandClock()
    seen = watch(clock)
    for by in (-7200.0, 60.0):
        clock.set_by(by)
        clock.advance(TURN_S)
        seen.look()
    texts = [one.text for one in seen.beside([shot(clock, 1)], []) if isinstance(one, Event)]
    assert texts == ["-7140.000 s"]
    for by in (-30.0, 30.0):
        clock.set_by(by)
        clock.advance(TURN_S)
        seen.look()
    assert seen.beside([shot(clock, 2)], []) == [shot(clock, 2)]


@pytest.mark.either
def test_a_step_that_no_shot_followed_before_the_logger_ended_is_told_after_the_next_start(log: Log) -> None:
    clock = HandClock()
    log.append([shot(clock, 1), shot(clock, 4, "P50")])
    log.append([ClockStep(clock.now(), -7200.0, "set back")])
    log.append([shot(clock, 5, "P50")])
    assert untold_steps(log, ["P25", "P50", "P9"]) == {"P25": clock_steps(log), "P50": []}
    seen, began = watch_from(log, clock, ["P25", "P50"])
    assert began == []
    told = seen.beside([shot(clock, 2), shot(clock, 6, "P50")], [])
    assert [one for one in told if isinstance(one, Event)] == [Event("P25", 2, "clock", "-7200.000 s", clock.now())]


@pytest.mark.either
def test_a_clock_that_went_back_while_nobody_was_logging_is_said_at_the_start(log: Log) -> None:
    clock = HandClock()
    log.append([shot(clock, 1)])
    clock.set_by(-3600.0)
    seen, (step,) = watch_from(log, clock, ["P25"])
    assert (step.step_s, step.at_least) == (-3600.0, True)
    assert "back by 1 h or more while nobody was logging" in step.detail
    told = seen.beside([shot(clock, 2)], [])
    assert [one.text for one in told if isinstance(one, Event)] == ["-3600.000 s or more"]


def judged(rows: Sequence[tuple[int, float, str]]) -> list[Verdict]:
    """Judge shots given by number, time in seconds and the text of a clock entry, empty for none."""
    start, evaluator, found = datetime(2026, 1, 5, 6, 0, tzinfo=UTC), Evaluator("P25", {}), []
    for number, seconds, step in rows:
        values = {"cushion": 3.0 + number * number % 5 / 100, "peak_pressure": 600.0 + number * number % 7}
        events = (("clock", step),) if step else ()
        one = LoggedShot("P25", number, start + timedelta(seconds=seconds), values, {}, events)
        found.append(evaluator.step(one)[-1])
    return [one for one in found if isinstance(one, Verdict)]


@pytest.mark.parametrize("by", [7200.0, -7200.0, 1200.0])
def test_a_step_of_the_clock_is_no_pause_and_hides_none(by: float) -> None:
    """A clock that was set forward by two hours was two hours' stop: what followed was not judged for some shots."""
    plain = [(n, 45.0 * n, "") for n in range(1, 61)]
    stepped = [(n, 45.0 * n + (by if n >= 40 else 0.0), f"{by:+.3f} s" if n == 40 else "") for n in range(1, 61)]
    assert judged(stepped) == judged(plain)
    stopped = [(n, at + (1800.0 if n >= 50 else 0.0), step) for n, at, step in stepped]
    assert judged(stopped) == judged([(n, at + (1800.0 if n >= 50 else 0.0), "") for n, at, _ in plain])
    assert judged(stopped) != judged(stepped)


def test_a_step_of_unknown_size_leaves_the_wait_unknown() -> None:
    """Nobody knows how long the press stood: what follows is taken to settle again, as after a pause."""
    rows = [
        (n, 45.0 * n - (3600.0 if n >= 40 else 0.0), "-3500.000 s or more" if n == 40 else "") for n in range(1, 61)
    ]
    settling = {one.shot for one in judged(rows) if one.settling}
    assert 40 in settling
    assert 39 not in settling
    assert 59 not in settling


class Stepping:
    """A press that makes a shot every 45 s by the clock that never steps, whose wall clock is set before some shots."""

    poll_s = 0.0

    def __init__(self, clock: HandClock, n: int, steps: dict[int, float]) -> None:
        self._clock, self._n, self._steps, self._made = clock, n, steps, 0

    def describe(self) -> list[str]:
        return []

    def build(self, press: str, clock: object, resume: object) -> "Stepping":
        return self

    def open(self) -> None:
        pass

    def poll(self) -> list[Shot]:
        if self._made == self._n:
            return []
        self._made += 1
        self._clock.advance(45.0)
        self._clock.set_by(self._steps.get(self._made, 0.0))
        return [shot(self._clock, self._made)]

    def close(self) -> list[Shot]:
        return []

    def probe(self) -> list[Reading]:
        return []


def test_a_run_across_a_step_is_judged_as_one_without_and_the_log_says_it(log: Log, settings: Settings) -> None:
    clock = HandClock(datetime(2026, 1, 5, 12, 0, tzinfo=UTC))
    press = Stepping(clock, 60, {30: -7200.0})
    Recorder(log, settings, {"P25": press}, clock).run(threading.Event(), 60)
    (step,) = clock_steps(log)
    assert step.step_s == pytest.approx(-7200.0)
    events = [one.event for one in state.entries(log, "P25")]
    assert [(one.at_shot, one.kind, one.text) for one in events] == [(30, "clock", "-7200.000 s")]
    said = state.verdicts(log, "P25")
    assert {one.shot for one in said if one.settling} == {
        one.shot for one in judged([(n, 45.0 * n, "") for n in range(1, 61)]) if one.settling
    }
    log.verify()


@pytest.fixture
def settings(tmp_path_factory: pytest.TempPathFactory) -> Settings:
    config = tmp_path_factory.mktemp("clock") / "c.toml"
    config.write_text(
        '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
    )
    return load(config)


def test_the_clock_of_the_system_may_be_handed_in() -> None:
    at = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
    clock = SystemClock(lambda: at, lambda: 3.0)
    assert (clock.now(), clock.suspended()) == (at, 3.0)
    assert SystemClock().suspended() >= -0.01
