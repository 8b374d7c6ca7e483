"""A press waits for verdicts from when they could be worked out on, whenever its shots were made."""

from shotlog.clock import HandClock
from shotlog.recorder.waits import Waits


def test_a_press_waits_for_as_long_as_each_look_finds_it_behind() -> None:
    clock = HandClock()
    waits = Waits(clock)
    waits.look(["P25"])
    clock.advance(40.0)
    waits.look(["P25", "P15"])
    clock.advance(30.0)
    assert waits.seconds() == {"P25": 70.0, "P15": 30.0}
    waits.look(["P15"])
    waits.look(["P15", "P25"])
    assert waits.seconds() == {"P25": 0.0, "P15": 30.0}, "it was judged to its end meanwhile"
    waits.look(())  # shots wait outside the log, and go first
    waits.look(["P15"])
    assert waits.seconds() == {"P15": 0.0}
