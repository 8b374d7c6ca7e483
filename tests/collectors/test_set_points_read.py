"""Set-points as collectors read them: with the shot, whole or not at all, and refused where the table is wrong."""

import re
import struct
import tomllib
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shotlog.clock import HandClock
from shotlog.collectors import Resume, options
from shotlog.collectors.line_reader import LineReader
from shotlog.collectors.lines import Line
from shotlog.collectors.modbus_shots import ModbusShots
from shotlog.collectors.register_map import read_register_map
from shotlog.collectors.registers import TYPES, Block, exact
from shotlog.collectors.set_points import MOST_SET_POINTS, ChosenSetPoint
from shotlog.errors import PressRefused, SettingsError
from shotlog.records import Fault, SetPoint, Shot
from shotlog.settings import PressSettings, Section
from tests.collectors.test_modbus_shots import MAP, Played

SET = (
    MAP
    + """
[setpoints]
hold_pressure = { address = 4, type = "uint16", scale = 0.1, unit = "bar" }
melt_heat = { address = 12, type = "float32", unit = "degC" }
screw_back = { address = 14, type = "uint32", unit = "mm", scale = 0.01, missing = 0 }
"""
)

LINES = """
kind = "serial-line"
port = "played"
decimal = ","
shot_counter = { field = 1 }
[channels]
cushion = { field = 2, unit = "mm" }
[setpoints]
hold_pressure = { field = 3, unit = "bar" }
program = { field = 4, text = true }
"""

HEADED = """
kind = "serial-line"
port = "played"
shot_counter = { field = "NR" }
[channels]
cushion = { field = "CUSH", unit = "mm" }
[setpoints]
hold_pressure = { field = "HOLD SET", unit = "bar" }
"""


def press(text: str = SET) -> tuple[ModbusShots, Played]:
    played = Played(dict.fromkeys(range(20), 0))
    registers = read_register_map(Section("press.toml", "press[1].collector", tomllib.loads(text)))
    collector = ModbusShots("p", HandClock(), Resume(6, 6), registers, played)
    collector.open()
    return collector, played


def set_to(played: Played, hold: int = 3500, heat: float = 290.1, back: int = 200) -> None:
    played.registers |= {4: hold}
    played.registers |= dict(zip((12, 13), struct.unpack(">HH", struct.pack(">f", heat)), strict=True))
    played.registers |= dict(zip((14, 15), struct.unpack(">HH", struct.pack(">I", back)), strict=True))


def one_shot(records: list[Any]) -> tuple[Shot, list[Fault]]:
    (shot,) = (each for each in records if isinstance(each, Shot))
    return shot, [each for each in records if isinstance(each, Fault)]


def test_set_points_come_with_the_shot_exact_and_in_their_unit() -> None:
    collector, played = press()
    played.show(7)
    set_to(played)
    shot, faults = one_shot(collector.poll())
    assert shot.set_points == {
        "hold_pressure": SetPoint(350.0, "bar"),
        "melt_heat": SetPoint(290.1, "degC"),
        "screw_back": SetPoint(2.0, "mm"),
    }
    assert [each.text for each in shot.set_points.values()] == ["350", "290.1", "2"]
    assert faults == []


def test_they_are_read_in_requests_of_their_own_unless_they_lie_within_one_of_channels() -> None:
    registers = read_register_map(Section("f", "c", tomllib.loads(SET)))
    assert [str(block) for block in registers.blocks] == ["registers 2 to 3", "registers 10 to 11"]
    assert [str(block) for block in registers.set_blocks] == ["register 4", "registers 12 to 15"]
    assert "set-point hold_pressure: holding register 4 (40005 in a map that counts from 40001), uint16, x 0.1 bar" in (
        registers.describe()
    )
    assert registers.describe()[-1] == "a shot is read in 4 requests (9 registers), twice until equal"
    bridged = read_register_map(Section("f", "c", tomllib.loads("max_gap = 8" + SET)))
    assert [str(block) for block in bridged.blocks] == ["registers 2 to 11"]
    assert [str(block) for block in bridged.set_blocks] == ["registers 12 to 15"]


def test_one_that_the_press_refuses_is_said_once_and_absent_and_costs_no_shot() -> None:
    collector, played = press()
    own, refuses = played.read, {14}

    def read(block: Block) -> tuple[int, ...]:
        if any(block.address <= one <= block.last for one in refuses):
            played.reads.append(block)
            raise PressRefused(f"no {block} here")
        return own(block)

    played.read = read  # type: ignore[method-assign]
    said = []
    for n in (7, 8, 9):
        played.show(n, cushion=490 + n)
        set_to(played)
        shot, faults = one_shot(collector.poll())
        assert (shot.shot, sorted(shot.set_points)) == (n, ["hold_pressure", "melt_heat"])
        said += [(fault.shot, fault.kind, fault.detail) for fault in faults]
    assert said == [(7, "set-point screw_back not taken", "set-point screw_back: no registers 14 to 15 here")]
    assert played.reads[-9:].count(Block(14, 2)) == 1, "it is asked for once a shot"
    refuses.clear()
    played.show(10, cushion=500)
    shot, faults = one_shot(collector.poll())
    assert (len(shot.set_points), faults) == (3, [])
    refuses.add(4)
    played.show(11, cushion=501)
    shot, (fault,) = one_shot(collector.poll())
    assert (fault.shot, fault.detail) == (11, "set-point hold_pressure: no register 4 here")


def test_a_channel_that_the_press_refuses_is_a_press_that_is_not_read() -> None:
    collector, played = press()
    own = played.read

    def read(block: Block) -> tuple[int, ...]:
        if block.address == 10:
            raise PressRefused(f"no {block} here")
        return own(block)

    played.read = read  # type: ignore[method-assign]
    played.show(7)
    with pytest.raises(PressRefused):
        collector.poll()


@given(at=st.integers(1, 11), n_words=st.integers(0, 3))
def test_one_that_is_edited_while_it_is_read_is_the_old_or_the_new_and_never_between(at: int, n_words: int) -> None:
    """The press writes a word after the other, at any moment between two answers."""
    collector, played = press()
    played.show(7)
    set_to(played, back=0x0001FFFF)
    new = [(14, 0x0002), (15, 0x0000), (4, 3600)]

    def edited(n: int, block: Block) -> None:
        if n == at:
            played.registers |= dict(new[:n_words])
        if n == at + 1:
            played.registers |= dict(new)

    played.script = edited
    shot, faults = one_shot(collector.poll())
    assert shot.set_points["screw_back"].value in (1310.71, 1310.72)
    assert shot.set_points["hold_pressure"].value in (350.0, 360.0)
    assert faults == []


def test_one_that_keeps_changing_is_a_fault_and_absent_and_the_shot_is_kept() -> None:
    collector, played = press()
    played.show(7)
    set_to(played)
    played.script = lambda n, block: set_to(played, hold=3500 + n)
    shot, faults = one_shot(collector.poll())
    assert sorted(shot.set_points) == ["melt_heat", "screw_back"]
    assert shot.values["cushion"] == 4.97
    (fault,) = faults
    assert (fault.kind, fault.shot) == ("set-point hold_pressure not taken", 7)
    assert fault.detail == "set-point hold_pressure: it kept changing while the counter stood"


@pytest.mark.parametrize(
    ("keys", "name", "why"),
    [
        ({"hold": 0xFFFF}, "hold_pressure", "the register 4 read 65535, which stands for no value"),
        ({"heat": float("nan")}, "melt_heat", "the registers 12 to 13 read nan, which stands for no value"),
        ({"back": 0}, "screw_back", "the registers 14 to 15 read 0, which stands for no value"),
    ],
)
def test_what_stands_for_no_value_is_a_fault_and_absent(keys: dict[str, Any], name: str, why: str) -> None:
    collector, played = press()
    played.show(7)
    set_to(played, **keys)
    shot, (fault,) = one_shot(collector.poll())
    assert name not in shot.set_points
    assert len(shot.set_points) == 2
    assert (fault.kind, fault.detail) == (f"set-point {name} not taken", f"set-point {name}: {why}")
    assert fault.raw


def test_probe_shows_them_raw_and_scaled() -> None:
    collector, played = press()
    played.show(7)
    set_to(played, back=0)
    rows = {row.name: row for row in collector.probe()}
    hold, back = rows["set-point hold_pressure"], rows["set-point screw_back"]
    assert (hold.where, hold.raw, hold.value, hold.unit) == ("register 4, uint16", "0DAC = 3500", 350.0, "bar")
    assert (back.value, back.remark.split(";")[0]) == (None, "not taken: the registers 14 to 15 read 0, which stands "
                                                             "for no value")  # fmt: skip
    assert rows["set-point melt_heat"].value == 290.1


@given(st.floats(width=32, allow_nan=False, allow_infinity=False))
def test_a_float_is_the_shortest_number_that_is_stored_as_it(value: float) -> None:
    said = exact(value, TYPES["float32"])
    assert struct.pack(">f", float(said)) == struct.pack(">f", value)
    assert len(Decimal(said).as_tuple().digits) <= 9


def line_reader(text: str = LINES) -> LineReader:
    section = Section("press.toml", "press[1].collector", tomllib.loads(text))
    return LineReader(options(PressSettings("p", "serial-line", section)).form)  # type: ignore[attr-defined]


def test_a_line_gives_numbers_and_texts() -> None:
    said = line_reader().read(b"7;4,97;350,5; pawl  7 ")
    assert isinstance(said, Line)
    assert said.set_points == {"hold_pressure": SetPoint(350.5, "bar"), "program": SetPoint("pawl 7")}


@pytest.mark.parametrize(
    ("raw", "why"),
    [
        (b"7;4,97;----;pawl", "it came as '----'"),
        (b"7;4,97;;pawl", "it came as a blank"),
        (b"7;4,97;3x0;pawl", "'3x0' is no number with decimal mark ','"),
    ],
)
def test_a_line_is_taken_without_a_set_point_that_cannot_be(raw: bytes, why: str) -> None:
    said = line_reader().read(raw)
    assert isinstance(said, Line)
    assert said.values == {"cushion": 4.97}
    assert said.set_points == {"program": SetPoint("pawl")}
    assert [(each.name, each.why) for each in said.untaken] == [("hold_pressure", why)]


def test_a_header_that_lacks_a_set_point_costs_no_shot() -> None:
    reader = line_reader(HEADED)
    assert reader.read(b"NR;CUSH;HOLD SET") is None
    said = reader.read(b"7;4.97;350")
    assert isinstance(said, Line)
    assert said.set_points == {"hold_pressure": SetPoint(350.0, "bar")}
    other = line_reader(HEADED)
    assert other.read(b"NR;CUSH;COOL SET") is None
    said = other.read(b"7;4.97;350")
    assert isinstance(said, Line)
    assert (said.values, [each.why for each in said.untaken]) == ({"cushion": 4.97}, ["the line has no such field"])


def test_a_set_point_under_a_heading_does_not_ask_the_channels_for_one() -> None:
    """A map by number goes on taking lines before the first heading."""
    reader = line_reader(LINES.replace("hold_pressure = { field = 3", 'hold_pressure = { field = "HOLD"'))
    said = reader.read(b"7;4,97;350;pawl")
    assert isinstance(said, Line)
    assert sorted(said.set_points) == ["program"]
    assert reader.read(b"NR;CUSH;HOLD;PROG") is None
    said = reader.read(b"8;4,97;350;pawl")
    assert isinstance(said, Line)
    assert said.set_points["hold_pressure"] == SetPoint(350.0, "bar")


@pytest.mark.parametrize(
    ("table", "key", "allowed"),
    [
        ('Hold_pressure = { address = 30, type = "uint16", unit = "bar" }', "Hold_pressure", "another name"),
        ('"hold pressure" = { address = 30, type = "uint16", unit = "bar" }', "hold pressure", "letters, digits"),
        ('speed = { address = 30, type = "uint16" }', "speed.unit", "text"),
        ('speed = { address = 30, type = "uint16", unit = "mm;s" }', "speed.unit", "without ;"),
        ('speed = { address = 30, type = "uint16", unit = "rpm", text = true }', "speed.text", "an unknown key"),
        ('speed = { address = 30, type = "uint16", unit = "rpm", scal = 2 }', "speed.scal", "did you mean scale"),
        ('speed = { address = 30, type = "uint16", unit = "rpm", scale = 0 }', "speed.scale", "not 0"),
        ('speed = { address = 4, type = "uint16", unit = "rpm" }', "speed.address", "set-point hold_pressure"),
        ('speed = { address = 2, type = "uint16", unit = "rpm" }', "speed.address", "that cushion does not take"),
    ],
)
def test_a_wrong_set_point_is_refused_by_its_key(table: str, key: str, allowed: str) -> None:
    with pytest.raises(SettingsError, match=re.escape(allowed)) as refused:
        read_register_map(Section("f", "c", tomllib.loads(SET + table)))
    assert f"c.setpoints.{key}" in str(refused.value)


def test_too_many_are_refused() -> None:
    many = "".join(f'x{n} = {{ address = {100 + n}, type = "uint16", unit = "bar" }}\n' for n in range(MOST_SET_POINTS))
    with pytest.raises(SettingsError, match=f"allowed: up to {MOST_SET_POINTS}, given {MOST_SET_POINTS + 3}"):
        read_register_map(Section("f", "c", tomllib.loads(SET + many)))


def test_a_name_given_twice_is_no_toml() -> None:
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(SET + 'hold_pressure = { address = 40, type = "uint16", unit = "bar" }')


def test_a_unit_that_the_press_tells_gives_way_to_that_of_the_configuration() -> None:
    assert ChosenSetPoint("a", 1).taken(5, "MPa") == SetPoint(5.0, "MPa")
    assert ChosenSetPoint("a", 1, "bar").taken("5.50", "MPa") == SetPoint(5.5, "bar")
