"""What a counter shows after nobody looked, against the time that went by."""

import struct
import tomllib
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.clock import HandClock
from shotlog.collectors.away import Away, after_away
from shotlog.collectors.base import Resume
from shotlog.collectors.line_shots import LineShots
from shotlog.collectors.lines import Line
from shotlog.collectors.modbus_client import Rejected
from shotlog.collectors.modbus_shots import ModbusShots
from shotlog.collectors.register_map import read_register_map
from shotlog.collectors.registers import Block
from shotlog.errors import PressUnreachable
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import Section

W = 65536
NOW = HandClock().now()


@pytest.mark.parametrize(
    ("known", "raw", "width", "expected", "kind", "shots", "least", "most"),
    [
        # on from where it was
        (100, 3100, W, 3000.0, "next", 3000, None, None),
        (100, 3100, W, 9000.0, "next", 3000, None, None),
        (100, 3100, W, 20.0, "next", 3000, 35, 3000),
        (100, 3100, W, None, "next", 3000, None, None),
        # over the top
        (65000, 904, W, 1440.0, "rollover", 1440, 904, 1440),
        (65000, 904, W, 1500.0, "rollover", 1440, 904, 1440),
        (65000, 904, W, 2.0 * 1440, "uncertain", 904, 904, 2880),
        (65000, 5000, W, 5400.0, "uncertain", 5000, 5000, 5536),
        (65000, 904, W, None, "uncertain", 904, 904, 1440),
        (65000, 904, W, 5.0, "uncertain", 904, 904, 1440),
        (65500, 200, W, None, "rollover", 236, None, None),
        (65500, 200, W, 236.0, "uncertain", 200, 200, 236),
        (65500, 200, W, 240.0, "rollover", 236, 200, 236),
        # began again
        (40000, 900, W, 900.0, "reset", 900, None, None),
        (1234, 12, W, 384.0, "reset", 12, 12, 384),
        (1234, 1, W, 0.8, "reset", 1, None, None),
        (1234, 1, W, 384.0, "reset", 1, 1, 384),
        (5234, 2812, W, 10.0, "set", 1, 1, 10),
        (5234, 2812, W, None, "set", 1, None, None),
        # once and several times over the top
        (9000, 8000, 10_000, 9100.0, "uncertain", 8000, 8000, 9100),
        (9000, 2000, 10_000, 3100.0, "rollover", 3000, 2000, 3000),
        (9000, 9500, 10_000, 20_400.0, "uncertain", 500, 500, 20_500),
        (9000, 9500, 10_000, 14_000.0, "uncertain", 500, 500, 10_500),
        (65000, 904, W, 855_610.0, "uncertain", 904, 904, 918_944),
        (50, 60, W, 12.0, "next", 10, None, None),
        (71, 32, 100, 62.0, "rollover", 61, 32, 61),
        (9990, 5, 10_000, 16.0, "rollover", 15, 5, 15),
        # as wide as two registers
        (4_294_967_290, 10, 2**32, 16.0, "rollover", 16, 10, 16),
        (70_000, 904, 2**32, 1440.0, "reset", 904, 904, 1440),
    ],
)
def test_each_way_is_held_against_the_time(
    known: int, raw: int, width: int, expected: float | None, kind: str, shots: int, least: int | None, most: int | None
) -> None:
    found = after_away(known, raw, width, expected, zero_is_shot=True)
    assert (found.kind, found.shots, found.least, found.most) == (kind, shots, least, most)


def test_a_register_at_zero_has_made_no_shot_unless_the_time_says_so() -> None:
    assert after_away(1234, 0, W, 300.0) == Away("none yet", 0)
    assert after_away(65000, 0, W, 536.0) == Away("rollover", 536)


@given(
    st.sampled_from([10_000, W, 2**32]),
    st.integers(0, 2**32),
    st.integers(1, 60_000),
    st.floats(0.87, 1.14),
)
def test_of_a_press_that_ran_through_the_truth_is_among_what_is_said(
    width: int, start: int, made: int, pace: float
) -> None:
    known, raw = start % width, (start + made) % width
    if known == raw:
        return
    found = after_away(known, raw, width, made * pace, zero_is_shot=True)
    if found.least is None or found.most is None:
        assert found.shots == made
    else:
        assert found.least <= made <= found.most
        assert found.least <= found.shots <= found.most


MAP = """
shot_counter = { address = 0, type = "uint16" }
[channels]
fill_time = { address = 10, type = "float32", unit = "s" }
"""


class Played:
    """The registers of a press that can be out of reach."""

    def __init__(self, counter: int) -> None:
        self.counter, self.away = counter, False

    def open(self) -> None:
        if self.away:
            raise PressUnreachable("refused")

    def close(self) -> None:
        pass

    def rejected(self) -> list[Rejected]:
        return []

    def read(self, block: Block) -> tuple[int, ...]:
        if self.away:
            raise PressUnreachable("refused")
        high, low = struct.unpack(">HH", struct.pack(">f", self.counter % 97 + 1))
        words = {0: self.counter, 10: high, 11: low}
        return tuple(words[address] for address in range(block.address, block.last + 1))


def press(counter: int, resume: Resume | None = None) -> tuple[ModbusShots, Played, HandClock]:
    played, clock = Played(counter), HandClock()
    registers = read_register_map(Section("press.toml", "press[1].collector", tomllib.loads(MAP)))
    return ModbusShots("p", clock, resume, registers, played), played, clock


def polled(collector: ModbusShots) -> list[Shot | Gap | Fault]:
    """Poll until a doubtful reading is confirmed."""
    return [record for _ in range(3) for record in collector.poll()]


@pytest.mark.parametrize(
    ("away_s", "least", "most", "number"),
    [(1440 * 30.0, 903, 1439, 66440), (2880 * 30.0, 903, 2879, 65904), (10.0, 903, 1439, 65904)],
)
def test_a_rollover_in_an_outage_is_sized_by_the_time(
    away_s: float, least: int | None, most: int | None, number: int
) -> None:
    """65,000, then 1,440 shots while nobody looked, then 904: "reset", 904 missed, and nothing said of the others."""
    collector, played, clock = press(64_990, Resume(64_990, 64_990))
    collector.open()
    for played.counter in range(64_991, 65_001):
        clock.advance(30.0)
        assert [type(one) for one in collector.poll()] == [Shot]
    played.away = True
    with pytest.raises(PressUnreachable):
        collector.poll()
    clock.set_by(7200.0)  # the wall clock is not asked
    clock.advance(away_s)
    played.away, played.counter = False, 904
    collector.open()
    gap, shot = polled(collector)
    assert isinstance(gap, Gap)
    assert isinstance(shot, Shot)
    assert (gap.first, gap.last, gap.least, gap.most) == (65_001, number - 1, least, most)
    assert (shot.shot, shot.counter) == (number, 904)
    assert "reset" not in gap.reason
    played.counter = 905
    clock.advance(30.0)
    assert [one.shot for one in polled(collector) if isinstance(one, Shot)] == [number + 1]


def test_over_a_restart_the_time_is_that_of_the_last_shot_in_the_log() -> None:
    clock = HandClock()
    resume = Resume(65_000, 65_000, {}, clock.now() - timedelta(seconds=1440 * 30), 30.0)
    collector, _, _ = press(904, resume)
    collector.open()
    gap, shot = polled(collector)
    assert isinstance(gap, Gap)
    assert (gap.n_shots, gap.least, gap.most, shot.shot if isinstance(shot, Shot) else 0) == (1439, 903, 1439, 66_440)


def test_a_clock_that_was_set_back_over_a_restart_leaves_the_size_uncertain() -> None:
    clock = HandClock()
    collector, _, _ = press(904, Resume(65_000, 65_000, {}, clock.now() + timedelta(hours=2), 30.0))
    collector.open()
    gap, _ = polled(collector)
    assert isinstance(gap, Gap)
    assert (gap.least, gap.most) == (903, 1439)
    assert gap.reason == (
        "counter rolled over or began again: from 65000 to 904 while not connected; "
        "how many shots fit in that time is not known"
    )


def test_shots_that_may_have_been_missed_before_a_new_count_are_said_with_it() -> None:
    clock = HandClock()
    collector, _, _ = press(1, Resume(1234, 1234, {}, clock.now() - timedelta(hours=8), 75.0))
    collector.open()
    fault, shot = polled(collector)
    assert isinstance(fault, Fault)
    assert fault.kind == "counter reset"
    assert fault.detail.endswith(
        "numbering goes on at shot 1235; up to 383 shots before it may not have been seen: "
        "in that time the press makes about 384 shots"
    )
    assert isinstance(shot, Shot)
    assert shot.shot == 1235


def test_a_printed_counter_rolls_over_at_the_digits_it_shows() -> None:
    shots = LineShots("p", 999_999_999, Resume(9_990, 9_990))
    shots.connected(in_mid_line=False)
    shots.expect(16.0)
    found = [one for number in (5, 6) for one in shots.take(Line(number, {}, b"x"), NOW)]
    assert [(one.first, one.last, one.least) for one in found if isinstance(one, Gap)] == [(9_991, 10_004, 4)]
    assert [one.shot for one in found if isinstance(one, Shot)] == [10_005, 10_006]


def test_a_wide_counter_gone_wild_leaves_no_gap_of_millions() -> None:
    shots = LineShots("p", 2**32 - 1, Resume(4_000_000_000, 4_000_000_000))
    shots.connected(in_mid_line=False)
    shots.expect(3.0)
    found = [one for number in (500_000_000, 500_000_001) for one in shots.take(Line(number, {}, b"x"), NOW)]
    assert [one for one in found if isinstance(one, Gap)] == []
    assert [one.shot for one in found if isinstance(one, Shot)] == [4_000_000_001, 4_000_000_002]
