"""A press waits for verdicts from when they could be worked out on, whenever its shots were made."""

from shotlog.clock import HandClock
from shotlog.recorder.waits import Waits
from shotlog.store.log.how_far import HowFar


def far(through: int | None, last: int) -> HowFar:
    return HowFar(1, (1, "b"), through, last, ())


def test_a_press_waits_for_as_long_as_each_look_finds_it_behind() -> None:
    clock = HandClock()
    waits = Waits(clock)
    waits.look({"P25": far(None, 1)})
    clock.advance(40.0)
    waits.look({"P25": far(None, 1), "P15": far(3, 4)})
    clock.advance(30.0)
    assert waits.seconds() == {"P25": 70.0, "P15": 30.0}
    waits.look({"P15": far(3, 5)})
    waits.look({"P15": far(3, 5), "P25": far(1, 2)})
    assert waits.seconds() == {"P25": 0.0, "P15": 30.0}, "it was judged to its end meanwhile"
    waits.look({})  # shots wait outside the log, and go first
    waits.look({"P15": far(3, 5)})
    assert waits.seconds() == {"P15": 0.0}


def test_a_fast_press_is_never_found_judged_to_its_end_and_does_not_wait() -> None:
    """Each look came right after a shot was stored, and right before it was judged."""
    clock = HandClock()
    waits = Waits(clock)
    for shot in range(1, 200):
        waits.look({"P25": far(shot - 1, shot)})
        assert waits.seconds()["P25"] <= 0.5
        clock.advance(0.5)


def test_a_judge_that_is_always_behind_is_as_far_behind_as_its_oldest_shot() -> None:
    clock = HandClock()
    waits = Waits(clock)
    for second in range(400):
        waits.look({"P25": far(max(0, second - 90), second + 1)})  # a shot a second, each judged 90 s later
        clock.advance(1.0)
    assert 84.0 <= waits.seconds()["P25"] <= 96.0


def test_a_log_that_cannot_be_asked_is_waited_for() -> None:
    clock = HandClock()
    waits = Waits(clock)
    waits.look_unseen(["P25"])
    clock.advance(61.0)
    waits.look_unseen(["P25"])
    assert waits.seconds() == {"P25": 61.0}
    waits.look({"P25": far(7, 9)})
    assert waits.seconds() == {"P25": 0.0}
