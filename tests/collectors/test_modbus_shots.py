"""Taking shots from registers: torn, late, frozen and stuck values, told apart. The wire is played by a dictionary."""

import struct
import tomllib
from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shotlog.clock import HandClock
from shotlog.collectors.base import Resume
from shotlog.collectors.modbus_client import Rejected
from shotlog.collectors.modbus_shots import ModbusShots, apart_s
from shotlog.collectors.register_map import read_register_map
from shotlog.collectors.registers import Block
from shotlog.errors import PressRefused, PressUnreachable
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import Section

MAP = """
shot_counter = { address = 0, type = "uint16" }
[channels]
cushion = { address = 2, type = "int16", scale = 0.01, unit = "mm" }
peak_pressure = { address = 3, type = "uint16", scale = 0.1, unit = "bar" }
fill_time = { address = 10, type = "float32", unit = "s" }
"""


class Played:
    """Registers, and what happens before each read: `script` is called with the number of the read and its block."""

    def __init__(self, registers: dict[int, int]) -> None:
        self.registers = registers
        self.reads: list[Block] = []
        self.script: Callable[[int, Block], None] = lambda n, block: None

    def open(self) -> None:
        pass

    def close(self) -> None:
        pass

    def rejected(self) -> list[Rejected]:
        return []

    def read(self, block: Block) -> tuple[int, ...]:
        self.reads.append(block)
        self.script(len(self.reads), block)
        return tuple(self.registers[address] for address in range(block.address, block.last + 1))

    def show(self, counter: int, cushion: int = 497, peak: int = 5340, fill: float = 0.5) -> None:
        high, low = struct.unpack(">HH", struct.pack(">f", fill))
        self.registers |= {0: counter, 2: cushion & 0xFFFF, 3: peak, 10: high, 11: low}


def press(
    resume: Resume | None = None, text: str = MAP, settle_s: float = 0.0, apart_s: float = 0.0
) -> tuple[ModbusShots, Played, HandClock]:
    played, clock = Played({}), HandClock()
    registers = read_register_map(Section("press.toml", "press[1].collector", tomllib.loads(text)))
    collector = ModbusShots("p", clock, resume, registers, played, settle_s, apart_s)
    collector.open()
    return collector, played, clock


def told(records: list[Shot | Gap | Fault]) -> list[str]:
    return [
        f"shot {r.shot}" if isinstance(r, Shot) else f"gap {r.first}-{r.last}" if isinstance(r, Gap) else r.kind
        for r in records
    ]


def test_what_stands_there_at_first_contact_is_taken_with_exact_values_and_is_no_part() -> None:
    collector, played, clock = press()
    played.show(7)
    (shot,) = collector.poll()
    assert shot == Shot("p", 7, 7, clock.now(), {"cushion": 4.97, "peak_pressure": 534.0, "fill_time": 0.5})
    assert shot.no_part == "stood there at first contact, made before anybody watched"
    assert collector.poll() == []
    played.show(8)
    (shot,) = collector.poll()
    assert isinstance(shot, Shot)
    assert (shot.shot, shot.no_part) == (8, "")


def test_the_first_shot_of_a_press_that_shows_none_yet_is_a_part() -> None:
    collector, played, _ = press()
    played.show(0, cushion=0, peak=0, fill=0.0)
    assert collector.poll() == []
    played.show(1)
    (shot,) = collector.poll()
    assert isinstance(shot, Shot)
    assert (shot.shot, shot.no_part) == (1, "")


@pytest.mark.parametrize("zero", [False, True])
@pytest.mark.parametrize(("counter", "before"), [(1, 0), (1, None), (500, None)])
def test_a_count_that_began_anew_over_values_that_stand_made_no_part(
    counter: int, before: int | None, zero: bool
) -> None:
    """A job is called up, or somebody presets the counter: it moves, and nothing was moulded."""
    collector, played, _ = press(Resume(1233, 1233))
    played.show(1234)
    assert told(collector.poll()) == ["shot 1234"]
    nothing: dict[str, Any] = {"cushion": 0, "peak": 0, "fill": 0.0} if zero else {}
    if before is not None:
        played.show(before, **nothing)
        assert collector.poll() == []
    played.show(counter, **nothing)
    taken = [record for _ in range(4) for record in collector.poll()]
    (shot,) = (record for record in taken if isinstance(record, Shot))
    assert shot.shot == (1234 + counter if zero else 1235)
    assert shot.no_part == (
        "a new count, and every value is zero" if zero else "a new count, and the values of the shot before still stand"
    )
    played.show(counter + 1, cushion=499)
    (after,) = collector.poll()
    assert isinstance(after, Shot)
    assert (after.shot, after.no_part) == (shot.shot + 1, "")


def test_after_a_restart_the_values_of_the_log_are_known_as_those_that_stand() -> None:
    known = {"cushion": 4.97, "peak_pressure": 534.0, "fill_time": 0.5}
    for cushion, no_part in ((497, True), (499, False)):
        collector, played, _ = press(Resume(1234, 1234, known))
        played.show(1, cushion=cushion)
        *_, shot = collector.poll()
        assert isinstance(shot, Shot)
        assert bool(shot.no_part) is no_part


def test_a_shot_known_to_the_log_is_not_taken_again() -> None:
    collector, played, _ = press(Resume(65543, 7))
    played.show(7)
    assert collector.poll() == []
    played.show(8)
    assert told(collector.poll()) == ["shot 65544"]


def test_no_register_is_read_that_is_not_configured() -> None:
    collector, played, _ = press()
    played.show(1)
    collector.poll()
    collector.probe()
    assert set(played.reads) == {Block(0, 1), Block(2, 2), Block(10, 2)}


def test_a_block_that_changes_under_the_reading_is_read_until_it_stands() -> None:
    """The press writes the counter first and its values over the next two readings: the old ones are not stored."""
    collector, played, _ = press(Resume(6, 6))
    played.show(7, cushion=400)
    n_blocks = 0

    def write_late(n: int, block: Block) -> None:
        nonlocal n_blocks
        n_blocks += block.address == 2
        played.registers[2] = {1: 400, 2: 450}.get(n_blocks, 497)

    played.script = write_late
    (shot,) = collector.poll()
    assert isinstance(shot, Shot)
    assert shot.values["cushion"] == 4.97


def test_a_counter_that_moves_on_in_mid_reading_mixes_no_shots() -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(7, cushion=400)

    def next_shot(n: int, block: Block) -> None:
        if n == 3:
            played.show(8, cushion=500)

    played.script = next_shot
    gap, shot = collector.poll()
    assert isinstance(gap, Gap)
    assert (gap.first, gap.last) == (7, 7)
    assert isinstance(shot, Shot)
    assert (shot.shot, shot.counter, shot.values["cushion"]) == (8, 8, 5.0)


def test_a_counter_that_never_stands_is_torn_once_and_nothing_is_stored() -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(7)

    def run(n: int, block: Block) -> None:
        played.registers[0] += block.address == 0

    played.script = run
    (fault,) = collector.poll()
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.raw) == ("torn", bytes.fromhex("01F1 14DC 3F00 0000"))
    assert len(played.reads) == 1 + 4 * 3
    assert collector.poll() == []
    played.script = lambda n, block: None
    counter = played.registers[0]
    assert told(collector.poll()) == [f"gap 7-{counter - 1}", f"shot {counter}"]


def test_values_that_never_stand_are_stored_and_named() -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(7)

    def flutter(n: int, block: Block) -> None:
        played.registers[3] += block.address == 2

    played.script = flutter
    shot, fault = collector.poll()
    assert isinstance(shot, Shot)
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.shot) == ("unsteady", 7)
    assert fault.detail.startswith("peak_pressure kept changing")


@given(
    st.sampled_from([(0, 2, 3, 10, 11), (2, 3, 10, 11, 0), (2, 3, 0, 10, 11)]),
    st.lists(st.integers(0, 12), min_size=1, max_size=20),
)
def test_no_stored_shot_mixes_two_however_the_press_writes(order: tuple[int, ...], pauses: list[int]) -> None:
    """The press writes one register for each read that is made of it, the counter first, last or between."""
    collector, played, _ = press(Resume(100, 100))
    expected = {}

    def shot(n: int) -> dict[int, int]:
        shown = Played({})
        shown.show(n, cushion=300 + 7 * n % 1000, peak=3000 + 13 * n, fill=n + 1 / 3)
        return shown.registers

    def writing() -> Iterator[None]:
        for n, pause in enumerate(pauses, 101):
            for address in order:
                played.registers[address] = shot(n)[address]
                yield
            for _ in range(pause):
                yield

    played.registers = shot(100)
    press_side = writing()
    played.script = lambda n, block: next(press_side, None)
    records = [record for _ in range(400) for record in collector.poll()]
    for n in range(100, 101 + len(pauses)):
        alone, shown, _ = press(None)
        shown.registers = shot(n)
        (taken,) = alone.poll()
        assert isinstance(taken, Shot)
        expected[n] = taken.values
    unsteady = {record.shot for record in records if isinstance(record, Fault) and record.kind == "unsteady"}
    shots = [record for record in records if isinstance(record, Shot) and record.shot not in unsteady]
    assert all(record.values == expected[record.counter] for record in shots)
    covered = [
        n
        for r in records
        for n in ([r.shot] if isinstance(r, Shot) else range(r.first, r.last + 1) if isinstance(r, Gap) else [])
    ]
    assert covered == list(range(101, 101 + len(pauses)))


COUNTER_FIRST, COUNTER_LAST, COUNTER_BETWEEN = (0, 2, 3, 10, 11), (2, 3, 10, 11, 0), (2, 3, 0, 10, 11)


def met_while_writing(order: tuple[int, ...], phase_ms: float, settle_s: float, wait_s: float) -> list[Shot]:
    """Return the shots 7 and 8 as they are taken where shot 8 is written, a register each 4 ms, while polls go on.

    A reading takes a ten-thousandth of a second; the log had shot 6, and the first poll is so long after the writing
    began, or before.
    """
    collector, played, clock = press(Resume(6, 6), settle_s=settle_s, apart_s=wait_s)
    old, new = Played({}), Played({})
    old.show(7, cushion=400, peak=4000, fill=0.25)
    new.show(8, cushion=500, peak=5000, fill=0.75)
    began = settle_s + 1.0

    def write(n: int, block: Block) -> None:
        clock.advance(0.0001)
        done = [address for k, address in enumerate(order) if clock.monotonic() >= began + 0.004 * k]
        played.registers = old.registers | {address: new.registers[address] for address in done}

    played.script = write
    clock.advance(1.0 + phase_ms / 1000)
    records = []
    for _ in range(12):
        records += collector.poll()
        clock.advance(settle_s or 0.2)
    assert [one for one in records if isinstance(one, Fault)] == []
    return [one for one in records if isinstance(one, Shot)]


@pytest.mark.parametrize(
    ("order", "settle_s"),
    [(COUNTER_FIRST, 0.0), (COUNTER_LAST, 0.0), (COUNTER_LAST, 0.3), (COUNTER_BETWEEN, 0.0), (COUNTER_BETWEEN, 0.3)],
)
def test_no_shot_is_mixed_that_is_met_while_the_next_is_written(order: tuple[int, ...], settle_s: float) -> None:
    """As after an outage, or where the counter comes before the values: both readings fell into the writing."""
    whole = {7: (4.0, 400.0, 0.25), 8: (5.0, 500.0, 0.75)}
    mixed_without = 0
    for phase in range(-40, 200, 9):
        for wait_s in (apart_s(0.2), 0.0):
            taken = met_while_writing(order, phase / 10, settle_s, wait_s)
            mixed = [one.shot for one in taken if (*one.values.values(),) != whole[one.shot]]
            assert [one.shot for one in taken][-1] == 8
            assert not (mixed and wait_s), (phase, mixed)
            mixed_without += len(mixed)
    assert mixed_without, "this press would never have been met while it writes"


@pytest.mark.parametrize(
    ("reading_s", "polled_s"), [(0.0, 0.02), (0.004, 7 * 0.004 + 0.016), (0.03, 7 * 0.03)], ids=["fast", "slow", "line"]
)
def test_only_what_is_left_of_the_time_between_two_readings_is_waited_for(reading_s: float, polled_s: float) -> None:
    collector, played, clock = press(Resume(6, 6), apart_s=apart_s(0.2))
    played.show(7)
    played.script = lambda n, block: clock.advance(reading_s)
    assert told(collector.poll()) == ["shot 7"]
    assert clock.monotonic() == pytest.approx(polled_s)
    assert apart_s(0.02) == 0.005


def test_a_live_value_is_not_waited_for() -> None:
    live = MAP.replace('unit = "bar" }', 'unit = "bar", live = true }')
    collector, played, _ = press(Resume(6, 6), live)
    played.show(7)

    def flutter(n: int, block: Block) -> None:
        played.registers[3] += block.address == 2

    played.script = flutter
    assert told(collector.poll()) == ["shot 7"]


def test_settling_time_passes_without_sleeping_and_the_shot_keeps_its_time() -> None:
    collector, played, clock = press(Resume(6, 6), settle_s=0.5)
    played.show(7, cushion=1)
    seen = clock.now()
    assert collector.poll() == []
    clock.advance(0.4)
    assert collector.poll() == []
    played.show(7)
    clock.advance(0.2)
    (shot,) = collector.poll()
    assert isinstance(shot, Shot)
    assert (shot.time, shot.values["cushion"]) == (seen, 4.97)


def test_a_counter_that_glitched_to_the_next_number_starts_the_wait_of_the_real_shot_anew() -> None:
    """It read 8 in passing, long before shot 8: the shot is given its own time, and its values time to settle."""
    collector, played, clock = press(Resume(7, 7), settle_s=0.5)
    for counter in (8, 7):
        played.show(counter)
        assert collector.poll() == []
    clock.advance(60.0)
    played.show(8, cushion=400)
    assert collector.poll() == [], "the values have not settled yet"
    played.show(8)
    clock.advance(0.5)
    (shot,) = collector.poll()
    assert isinstance(shot, Shot)
    assert (shot.shot, shot.time, shot.values["cushion"]) == (8, clock.now() - timedelta(seconds=0.5), 4.97)


def test_missed_shots_are_a_gap_before_the_shot() -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(10)
    assert told(collector.poll()) == ["gap 7-9", "shot 10"]


def test_rollover_to_zero_is_a_shot() -> None:
    collector, played, _ = press(Resume(65535, 65535))
    played.show(65535)
    assert collector.poll() == []
    played.show(0, cushion=499)
    (shot,) = collector.poll()
    assert isinstance(shot, Shot)
    assert (shot.shot, shot.counter, shot.values["cushion"]) == (65536, 0, 4.99)


def test_a_reset_is_on_record_and_numbering_goes_on() -> None:
    collector, played, _ = press(Resume(1234, 1234))
    for counter in (1234, 0, 0):
        played.show(counter)
        assert collector.poll() == []
    played.show(3)
    fault, gap, shot = collector.poll()
    assert isinstance(fault, Fault)
    assert fault.kind == "counter reset"
    assert "from 1234 to 3" in fault.detail
    assert isinstance(gap, Gap)
    assert (gap.first, gap.last, gap.reason) == (1235, 1236, "counter reset from 1234 to 3")
    assert told([shot]) == ["shot 1237"]


def test_a_wild_counter_reading_is_told_and_not_taken() -> None:
    collector, played, _ = press(Resume(10, 10))
    for counter, expected in [(10, []), (9000, []), (10, ["counter glitch"]), (11, ["shot 11"])]:
        played.show(counter)
        assert told(collector.poll()) == expected


def test_a_counter_above_its_last_count_is_told_once_and_not_taken() -> None:
    limited = MAP.replace('type = "uint16" }', 'type = "uint16", last_count = 9999 }', 1)
    collector, played, _ = press(Resume(9999, 9999), limited)
    for counter, expected in [(12000, ["counter range"]), (12000, []), (0, ["shot 10000"]), (12000, ["counter range"])]:
        played.show(counter)
        assert told(collector.poll()) == expected


def test_a_wide_counter_of_all_ones_is_never_believed() -> None:
    wide = MAP.replace('type = "uint16" }', 'type = "uint32" }', 1)
    collector, played, _ = press(Resume(10, 10), wide)
    played.show(0xFFFF)
    played.registers[1] = 0xFFFF
    assert told(collector.poll()) == ["filler"]
    played.show(0)
    played.registers[1] = 11
    assert told(collector.poll()) == ["shot 11"]


def test_filler_everywhere_is_one_fault_and_no_shot() -> None:
    collector, played, _ = press(Resume(10, 10))
    ones = dict.fromkeys((0, 2, 3, 10, 11), 0xFFFF)
    played.registers = dict(ones)
    assert told(collector.poll()) == ["filler"]
    assert collector.poll() == []
    played.show(11)
    assert told(collector.poll()) == ["shot 11"]
    played.registers = dict(ones)
    assert told(collector.poll()) == ["filler"]


def test_a_16_bit_counter_may_read_65535() -> None:
    collector, played, _ = press(Resume(65534, 65534))
    played.show(65535)
    assert told(collector.poll()) == ["shot 65535"]


@pytest.mark.parametrize(
    ("address", "word", "kind", "channel"),
    [(2, 0x7FFF, "not measured", "cushion"), (2, 0x8000, "not measured", "cushion"),
     (3, 0xFFFF, "not measured", "peak_pressure"), (10, 0x7FC0, "not measured", "fill_time"),
     (10, 0x7F80, "not measured", "fill_time"), (2, 0x7FFE, None, ""), (3, 60000, "range", "peak_pressure"),
     (10, 0xBF80, "range", "fill_time")],
)  # fmt: skip
def test_what_is_no_measurement_is_absent_and_told(address: int, word: int, kind: str | None, channel: str) -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(7)
    played.registers[address] = word
    shot, *faults = collector.poll()
    assert isinstance(shot, Shot)
    if kind is None:
        assert faults == []
        assert shot.values["cushion"] == 327.66
        return
    (fault,) = faults
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.shot) == (f"{channel} {kind}", 7)
    assert fault.detail.startswith(channel)
    assert fault.raw.startswith(word.to_bytes(2, "big"))
    assert channel not in shot.values
    assert len(shot.values) == 2


def test_a_cushion_read_without_its_sign_is_out_of_range() -> None:
    collector, played, _ = press(Resume(6, 6), MAP.replace('"int16"', '"uint16"'))
    played.show(7, cushion=-2)
    _, fault = collector.poll()
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.detail) == ("cushion range", "cushion is 655.34 mm, allowed: -5 to 500 mm, raw 65534")


def test_a_sentinel_that_is_configured_is_silently_missing() -> None:
    collector, played, _ = press(Resume(6, 6), MAP.replace('unit = "mm"', 'unit = "mm", missing = -32768'))
    played.show(7, cushion=-32768)
    (shot,) = collector.poll()
    assert isinstance(shot, Shot)
    assert "cushion" not in shot.values


def test_five_equal_shots_are_told_once_per_episode() -> None:
    collector, played, _ = press(Resume(0, 0))
    seen = []
    for counter in range(1, 9):
        played.show(counter)
        seen += told(collector.poll())
    assert seen == ["shot 1", "shot 2", "shot 3", "shot 4", "shot 5", "frozen", "shot 6", "shot 7", "shot 8"]
    played.show(9, cushion=500)
    assert told(collector.poll()) == ["shot 9"]
    for counter in range(10, 14):
        played.show(counter, cushion=500)
        seen += told(collector.poll())
    assert seen[-2:] == ["shot 13", "frozen"]


def test_values_that_change_twice_under_a_standing_counter_are_told_once() -> None:
    collector, played, clock = press(Resume(6, 6))
    played.show(7)
    collector.poll()
    seen = []
    for cushion in (497, 498, 498, 499, 500):
        played.show(7, cushion=cushion)
        assert collector.poll() == []
        clock.advance(10.0)
        seen.append(told(collector.poll()))
    assert seen == [[], [], [], ["counter stuck"], []]
    played.show(8)
    assert told(collector.poll()) == ["shot 8"]


def test_the_block_is_left_alone_between_idle_checks() -> None:
    collector, played, clock = press(Resume(7, 7))
    played.show(7)
    for _ in range(40):
        collector.poll()
        clock.advance(0.2)
    assert set(played.reads) == {Block(0, 1)}


@pytest.mark.parametrize("at", [1, 2, 3, 4, 5, 6, 7])
def test_a_loss_at_any_read_neither_loses_nor_doubles_a_shot(at: int) -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(7)

    def lose(n: int, block: Block) -> None:
        if n == at:
            raise PressUnreachable("gone")

    played.script = lose
    with pytest.raises(PressUnreachable):
        collector.poll()
    collector.close()
    collector.open()
    assert told(collector.poll()) == ["shot 7"]
    assert collector.poll() == []


def test_probe_shows_raw_and_scaled_and_what_the_other_word_order_gives() -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(7, peak=60000, fill=0.72)
    counter, cushion, peak, fill = collector.probe()
    assert (counter.name, counter.where, counter.raw, counter.value) == (
        "shot_counter",
        "register 0, uint16",
        "0007 = 7",
        7.0,
    )
    assert (cushion.raw, cushion.value, cushion.unit, cushion.remark) == ("01F1 = 497", 4.97, "mm", "")
    assert (peak.raw, peak.value) == ("EA60 = 60000", 6000.0)
    assert peak.remark.startswith("not believable: is 6000 bar, allowed: -100 to 4000 bar; check")
    assert fill.where == "registers 10 to 11, float32"
    assert fill.raw == "3F38 51EC = 0.72"
    assert fill.remark == "word_order little would give 1.268341e+11 s"


def test_probe_shows_what_can_be_read_when_a_block_is_refused() -> None:
    collector, played, _ = press(Resume(6, 6))
    played.show(7)

    def refuse(n: int, block: Block) -> None:
        if block.address <= 3 <= block.last:
            raise PressRefused(f"no {block}")

    played.script = refuse
    counter, cushion, peak, fill = collector.probe()
    assert (counter.value, cushion.value, peak.value, fill.value) == (7.0, 4.97, None, 0.5)
    assert cushion.remark == peak.remark == "no registers 2 to 3"


def test_probe_raises_when_everything_is_refused() -> None:
    collector, played, _ = press()

    def refuse(n: int, block: Block) -> None:
        raise PressRefused("nothing here")

    played.script = refuse
    with pytest.raises(PressRefused, match="nothing here"):
        collector.probe()


def test_registers_that_turn_to_fillers_under_a_count_of_65535_are_said() -> None:
    collector, played, _ = press(Resume(65534, 65534))
    played.show(65535)
    assert told(collector.poll()) == ["shot 65535"]
    assert collector.poll() == []
    played.registers |= dict.fromkeys((2, 3, 10, 11), 0xFFFF)
    assert told(collector.poll()) == ["filler"]


@settings(max_examples=50)
@given(st.lists(st.tuples(st.sampled_from([0, 1, 2, 7, 8, 9, 500, 65535]), st.integers(1, 3)), max_size=12), st.data())
def test_polls_of_a_count_that_stands_bring_what_looking_into_each_would(
    counts: list[tuple[int, int]], data: st.DataObject
) -> None:
    quick, plain = press(Resume(7, 7)), press(Resume(7, 7))
    for count, polls in counts:
        interrupted, wait_s = data.draw(st.tuples(st.booleans(), st.sampled_from([0.2, 30.0])))
        brought = []
        for collector, played, clock in (quick, plain):
            played.show(count, cushion=497 + count % 3)
            if interrupted:
                collector.open()
            records: list[Shot | Gap | Fault] = []
            for _ in range(polls):
                clock.advance(wait_s)
                if collector is plain[0]:
                    collector._stands = None
                records += collector.poll()
            brought.append(records)
        assert brought[0] == brought[1]
    one, other = (vars(each[0]._counter) | {"expected": None} for each in (quick, plain))
    assert one == other
