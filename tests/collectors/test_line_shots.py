"""Which printed lines are shots."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.collectors.base import Resume
from shotlog.collectors.line_shots import LineShots
from shotlog.collectors.lines import Doubt, Line
from shotlog.records import Fault, Gap, Shot

START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def line(counter: int, cushion: float = 4.97) -> Line:
    return Line(counter, {"cushion": cushion}, f"{counter};{cushion}".encode())


def told(record: Shot | Gap | Fault) -> str:
    if isinstance(record, Shot):
        return f"shot {record.shot}"
    return f"gap {record.first}-{record.last}" if isinstance(record, Gap) else record.kind


def follow(shots: LineShots, *lines: Line) -> list[str]:
    return [told(r) for n, each in enumerate(lines) for r in shots.take(each, START + timedelta(seconds=n))]


def test_every_line_is_a_shot_and_a_jump_is_a_gap() -> None:
    shots = LineShots("p", 9999, None)
    assert follow(shots, line(0), line(1), line(4)) == ["shot 0", "shot 1", "gap 2-3", "shot 4"]


def test_a_line_printed_twice_is_one_shot() -> None:
    shots = LineShots("p", 9999, None)
    assert follow(shots, line(7), line(7), line(8), line(7)) == ["shot 7", "repeat", "shot 8", "repeat"]


def test_the_same_counter_with_other_values_keeps_the_first() -> None:
    shots = LineShots("p", 9999, None)
    assert follow(shots, line(7), line(7, 1.0), line(8)) == ["shot 7", "conflict", "shot 8"]


def test_a_repeat_of_the_last_logged_line_after_a_restart_is_no_shot() -> None:
    assert follow(LineShots("p", 9999, Resume(107, 7)), line(7), line(8)) == ["repeat", "shot 108"]


def test_a_late_line_is_no_reset() -> None:
    shots = LineShots("p", 9999, Resume(100, 100))
    assert follow(shots, line(101), line(103), line(102), line(104)) == [
        "shot 101", "gap 102-102", "shot 103", "late line", "shot 104",
    ]  # fmt: skip


@pytest.mark.parametrize("first", [0, 1])
def test_a_counter_that_starts_again_goes_on_in_the_log(first: int) -> None:
    """Counters below 20 are also below the last one by less than 20: a reset must not be taken for late lines."""
    shots = LineShots("p", 9999, None)
    before = follow(shots, line(14, 1.0), line(15, 2.0))
    assert before == ["shot 14", "shot 15"]
    assert follow(shots, line(first), line(first + 1), line(first + 2)) == [
        "counter reset", "shot 16", "shot 17", "shot 18",
    ]  # fmt: skip


def test_a_reset_seen_late_waits_for_the_next_line() -> None:
    shots = LineShots("p", 9999, Resume(500, 500))
    assert follow(shots, line(501), line(5)) == ["shot 501"]
    assert follow(shots, line(6)) == ["counter reset", "gap 502-505", "shot 506", "shot 507"]


def test_a_damaged_counter_does_not_move_the_count() -> None:
    shots = LineShots("p", 9999, Resume(117, 117))
    assert follow(shots, line(118), line(19), line(120)) == ["shot 118", "counter glitch", "gap 119-119", "shot 120"]
    assert follow(shots, line(8121), line(122)) == ["counter glitch", "gap 121-121", "shot 122"]


def test_a_press_that_prints_every_tenth_shot_is_followed_over_a_reset() -> None:
    shots = LineShots("p", 9999, Resume(500, 500))
    records = follow(shots, line(510), line(10), line(20), line(30))
    assert records == [
        "gap 501-509", "shot 510", "counter reset", "gap 511-519", "shot 520", "gap 521-529", "shot 530",
        "gap 531-539", "shot 540",
    ]  # fmt: skip


def test_four_digits_roll_over() -> None:
    shots = LineShots("p", 9999, Resume(9998, 9998))
    assert follow(shots, line(9999), line(0), line(1)) == ["shot 9999", "shot 10000", "shot 10001"]


def test_a_counter_beyond_its_last_is_a_fault() -> None:
    shots = LineShots("p", 9999, Resume(1, 1))
    assert follow(shots, line(12000), line(2)) == ["counter range", "shot 2"]


def test_the_first_line_after_opening_in_mid_line_waits_for_the_next() -> None:
    shots = LineShots("p", 9999, None)
    shots.connected(in_mid_line=True)
    assert follow(shots, line(18)) == []
    assert follow(shots, line(119), line(120)) == ["cut line", "shot 119", "shot 120"]


def test_a_first_line_that_the_next_goes_on_from_was_whole() -> None:
    shots = LineShots("p", 9999, None)
    shots.connected(in_mid_line=True)
    assert follow(shots, line(118), line(119)) == ["shot 118", "shot 119"]


def test_a_first_line_that_goes_on_from_the_log_is_taken_at_once() -> None:
    shots = LineShots("p", 9999, Resume(117, 117))
    shots.connected(in_mid_line=True)
    assert follow(shots, line(118)) == ["shot 118"]


def test_a_first_line_far_from_the_log_may_be_cut() -> None:
    shots = LineShots("p", 9999, Resume(117, 117))
    shots.connected(in_mid_line=True)
    assert follow(shots, line(18), line(119)) == ["cut line", "gap 118-118", "shot 119"]


def test_a_held_line_is_handed_back_at_the_end() -> None:
    shots = LineShots("p", 9999, None)
    shots.connected(in_mid_line=True)
    follow(shots, line(18))
    (fault,) = shots.flush(START)
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.raw) == ("cut line", b"18;4.97")
    assert shots.flush(START) == []


def test_a_value_out_of_range_is_told_with_its_shot() -> None:
    shots = LineShots("p", 9999, None)
    _, fault = shots.take(Line(3, {}, b"3;900", (Doubt("cushion", "range", "cushion is 900 mm"),)), START)
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.shot, fault.raw) == ("cushion range", 3, b"3;900")


@given(st.lists(st.tuples(st.integers(0, 120), st.sampled_from([1.0, 2.0])), max_size=50), st.booleans())
def test_whatever_is_printed_each_number_is_logged_once_and_no_line_vanishes(
    printed: list[tuple[int, float]], in_mid_line: bool
) -> None:
    shots = LineShots("p", 99, Resume(50, 50))
    shots.connected(in_mid_line)
    records = [r for each in printed for r in shots.take(line(*each), START)] + shots.flush(START)
    covered = 50
    for record in records:
        if isinstance(record, Gap):
            assert record.first == covered + 1
            covered = record.last
        elif isinstance(record, Shot):
            assert record.shot == covered + 1
            covered = record.shot
    n_lines = sum(
        isinstance(r, Shot) or r.kind not in ("counter reset", "counter set") for r in records if not isinstance(r, Gap)
    )
    assert n_lines == len(printed)
