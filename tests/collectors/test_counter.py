"""What a counter reading means."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.collectors.base import Resume
from shotlog.collectors.counter import ShotCounter, Step


def watched(shot: int, raw: int, last_count: int = 65535) -> ShotCounter:
    counter = ShotCounter(last_count, Resume(shot, raw))
    counter.take(raw, counter.judge(raw))
    return counter


def follow(counter: ShotCounter, *readings: int) -> list[tuple[str, int, int]]:
    """Feed readings as a collector does, and return every shot taken."""
    taken = []
    for raw in readings:
        step = counter.judge(raw)
        if step.doubtful and not counter.confirmed(raw):
            continue
        if step.new:
            taken.append((step.kind, step.shot, step.missed))
        if step.kind != "outside":
            counter.take(raw, step)
    return taken


def test_zero_at_first_contact_is_no_shot() -> None:
    assert follow(ShotCounter(65535, None), 0, 0, 1) == [("next", 1, 0)]


def test_a_count_at_first_contact_is_a_shot_standing_there() -> None:
    assert follow(ShotCounter(65535, None), 4711, 4711, 4712) == [("first", 4711, 0), ("next", 4712, 0)]


def test_shots_missed_are_counted() -> None:
    assert follow(watched(10, 10), 11, 14) == [("next", 11, 0), ("next", 14, 2)]


@pytest.mark.parametrize(("top", "shot"), [(65535, 70000), (2**32 - 1, 5), (2**64 - 1, 9), (9999, 9999)])
def test_zero_after_the_highest_count_is_a_shot(top: int, shot: int) -> None:
    assert follow(watched(shot, top, top), 0, 1) == [("rollover", shot + 1, 0), ("next", shot + 2, 0)]


def test_rollover_with_a_gap_while_not_connected() -> None:
    counter = watched(65500, 65500)
    counter.interrupt()
    assert follow(counter, 200) == [("rollover", 65736, 235)]


def test_reset_to_zero_is_not_a_gap() -> None:
    assert follow(watched(1234, 1234), 0, 0, 1, 2) == [("reset", 1235, 0), ("next", 1236, 0)]


def test_shots_made_since_a_reset_are_missed_shots() -> None:
    assert follow(watched(1234, 1234), 0, 4) == [("reset", 1238, 3)]


def test_reset_to_a_small_count_is_taken_when_seen_twice() -> None:
    assert follow(watched(1234, 1234), 3, 3, 4) == [("reset", 1237, 2), ("next", 1238, 0)]


def test_a_single_wild_reading_moves_nothing() -> None:
    for wild in (3, 40000, 900, 0):
        counter = watched(1234, 1234)
        assert follow(counter, wild, 1234, 1235) == [("next", 1235, 0)], wild


def test_a_passing_zero_while_a_controller_starts_is_no_reset() -> None:
    assert follow(watched(1234, 1234), 0, 0, 0, 1236) == [("next", 1236, 1)]


def test_after_an_outage_the_old_count_after_a_zero_is_a_new_count() -> None:
    counter = watched(30, 30)
    assert follow(counter, 0) == []
    counter.interrupt()
    assert follow(counter, 31) == [("reset", 61, 30)]


def test_another_jobs_counter_goes_on_by_one() -> None:
    assert follow(watched(5234, 5234), 2812, 2812) == [("set", 5235, 0)]


def test_a_long_outage_is_a_gap() -> None:
    counter = watched(100, 100)
    counter.interrupt()
    assert follow(counter, 3100) == [("next", 3100, 2999)]


def test_a_jump_no_press_can_make_says_nothing_about_missed_shots() -> None:
    assert follow(watched(10, 10, 2**32 - 1), 3_000_000_000, 3_000_000_000) == [("set", 11, 0)]


def test_a_reading_above_the_last_count_is_none() -> None:
    counter = watched(9998, 9998, 9999)
    assert counter.judge(12000) == Step("outside", 9998)
    assert follow(counter, 12000, 9999, 0) == [("next", 9999, 0), ("rollover", 10000, 0)]


def test_a_four_digit_printout_rolls_over_or_restarts() -> None:
    assert ShotCounter(9999, Resume(9999, 9999), zero_is_shot=True).judge(0) == Step("rollover", 10000)
    assert ShotCounter(999_999, Resume(77, 77), zero_is_shot=True).judge(0) == Step("reset", 78)


@given(st.lists(st.integers(1, 40), max_size=60), st.sampled_from([99, 9999, 65535]), st.integers(0, 10**6))
def test_small_steps_are_never_lost_or_doubled_over_any_number_of_rollovers(
    steps: list[int], top: int, start: int
) -> None:
    steps = [min(step, (top + 1) // 4) for step in steps]
    counter = watched(start, start % (top + 1), top)
    truth, seen = start, start
    for step in steps:
        truth += step
        for _, shot, missed in follow(counter, truth % (top + 1)):
            assert shot - missed == seen + 1
            seen = shot
        assert seen == truth


@given(st.lists(st.integers(-5, 70000), max_size=40), st.booleans())
def test_unwrapped_numbers_only_go_up_whatever_is_read(readings: list[int], zero_is_shot: bool) -> None:
    counter = ShotCounter(65535, Resume(500, 500), zero_is_shot)
    last = 500
    for _, shot, missed in follow(counter, *readings):
        assert missed >= 0
        assert shot - missed == last + 1
        last = shot
