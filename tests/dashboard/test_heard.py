"""An edge that is heard or not at the centre, and its logger, whatever the clocks of the two say."""

from datetime import timedelta

from hand_filled import Trial

from dashboard.press.standing import standing
from dashboard.shared.heard import UNHEARD_S, Heard, Unheard
from dashboard.shared.press_reader import PressReader
from dashboard.shared.source import Source
from shotlog.clock import HandClock


def heard(clock: HandClock, silent_s: float = 0.0) -> Heard:
    return Heard("hall-2", lambda: (clock.now() - timedelta(seconds=silent_s), silent_s), clock)


def test_an_edge_is_unheard_after_a_minute_by_the_clock_of_the_centre() -> None:
    clock = HandClock()
    assert heard(clock, UNHEARD_S).unheard() is None
    assert heard(clock, 7200.0).unheard() == Unheard("hall-2", clock.now() - timedelta(hours=2))


def test_a_logger_is_at_work_while_new_signs_of_it_come_however_far_its_clock_is_off() -> None:
    for off in (timedelta(hours=-3), timedelta(0), timedelta(hours=5)):
        clock = HandClock()
        one = heard(clock)
        one.logger_seen(clock.now() + off, clock.now())
        for _ in range(10):
            clock.advance(5)
            assert one.logger_seen(clock.now() + off, clock.now()) == clock.now()
        last = clock.now() + off
        clock.advance(44)
        assert one.logger_seen(last, clock.now()) == clock.now()
        clock.advance(2)
        seen = one.logger_seen(last, clock.now())
        assert seen is not None
        assert (clock.now() - seen).total_seconds() >= 45.0


def test_an_old_sign_of_life_is_none_when_it_is_met_first() -> None:
    clock = HandClock()
    old = clock.now() - timedelta(hours=1)
    assert heard(clock).logger_seen(old, clock.now()) == old
    assert heard(clock).logger_seen(None, clock.now()) is None
    just = clock.now() - timedelta(seconds=20)
    assert heard(clock).logger_seen(just, clock.now()) == clock.now()


def test_at_the_press_it_is_said_that_the_edge_is_not_heard_and_what_was_before(trial: Trial) -> None:
    trial.mount("B-11")
    trial.shots(3)
    trial.link("lost", "no answer within 1 s")
    view = PressReader(Source(trial.settings, trial.clock)).fresh("P25").view
    said = standing(view, trial.clock.now(), trial.clock.now(), None, Unheard("hall-2", trial.clock.now()))
    assert said.headline.startswith("hall-2 not heard since ")
    assert (said.current, said.is_read, said.safe, said.detail) == (False, False, "", "")
    assert said.check.startswith("Whether it logs meanwhile is not known here.")
    assert not said.is_heard
    assert said.before.startswith("Before that, at shot 3")
