"""What stands still is told from what goes on, and from a whole process that was halted."""

from shotlog.recorder.hearts import Heart, Stillness


def test_a_count_that_moves_is_no_standstill_and_one_that_does_not_is_summed_up() -> None:
    still, heart = Stillness(2.0), Heart("storing")
    assert still.look({"storing": heart.count}, 100.0) == {"storing": 0.0}
    assert still.look({"storing": heart.count}, 101.0) == {"storing": 1.0}
    assert still.look({"storing": heart.count}, 102.5) == {"storing": 2.5}
    heart.beat("judging P25")
    assert still.look({"storing": heart.count}, 103.0) == {"storing": 0.0}
    assert heart.doing == "judging P25"
    heart.beat()
    assert heart.doing == "judging P25"


def test_a_process_that_was_halted_for_an_hour_has_not_stood_still_for_one() -> None:
    """The one that looks is asked first when it goes on: it must not end what had no chance to go round."""
    still = Stillness(4.0)
    still.look({"storing": 7}, 0.0)
    assert still.look({"storing": 7}, 3600.0) == {"storing": 4.0}


def test_what_comes_anew_begins_at_nothing() -> None:
    still = Stillness(4.0)
    still.look({"P25": 1}, 0.0)
    assert still.look({"P25": 1, "P15": 1}, 2.0) == {"P25": 2.0, "P15": 0.0}
