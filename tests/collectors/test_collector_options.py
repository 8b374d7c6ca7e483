"""The keys of each collector: what is read, and one clear line for whatever is wrong."""

import subprocess
import sys
import tomllib
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import COLLECTORS, Options, options
from shotlog.errors import SettingsError, UsageError
from shotlog.settings import PressSettings, Section

TCP = """
kind = "modbus-tcp"
host = "127.0.0.1"
port = 5020
unit = 1
poll_s = 0.2
timeout_s = 1.0
table = "holding"
word_order = "big"
shot_counter = { address = 0, type = "uint16" }
[channels]
cushion = { address = 2, type = "uint16", scale = 0.01, unit = "mm" }
peak_pressure = { address = 3, type = "uint16", scale = 0.1, unit = "bar" }
fill_time = { address = 4, type = "float32", unit = "s" }
"""
RTU = """
kind = "modbus-rtu"
port = "COM3"
shot_counter = { address = 0, type = "uint32" }
[channels]
cushion = { address = 2, type = "int16", scale = 0.01, unit = "mm" }
"""
SERIAL = """
kind = "serial-line"
port = "COM4"
delimiter = ";"
decimal = ","
skip = "^#"
shot_counter = { field = 1 }
[channels]
cushion = { field = 4, unit = "mm" }
peak_pressure = { field = 3, unit = "MPa" }
"""


def read(text: str, **changes: Any) -> Options:
    table = {key: value for key, value in (tomllib.loads(text) | changes).items() if value is not None}
    return options(PressSettings("press-1", str(table["kind"]), Section("press.toml", "press[1].collector", table)))


def channel(name: str = "cushion", **keys: Any) -> dict[str, Any]:
    return {"channels": {name: {"address": 2, "type": "uint16", "unit": "mm"} | keys}}


@pytest.mark.parametrize("text", [TCP, RTU, SERIAL, 'kind = "recording"'])
def test_every_kind_reads_its_keys_and_describes_itself(text: str) -> None:
    chosen = read(text)
    assert chosen.poll_s > 0
    assert all(line and "\n" not in line for line in chosen.describe())


def test_a_number_may_have_an_order_of_its_own() -> None:
    """A press whose counter has its high word first and whose floats have it last could not be read at all."""
    told = read(TCP, **channel("fill_time", type="float32", unit="s", word_order="little")).describe()
    assert any(line.startswith("fill_time: ") and "low word first" in line for line in told)
    told = read(RTU, shot_counter={"address": 0, "type": "uint32", "word_order": "little"}).describe()
    assert "low word first" in told[1]


def test_the_description_says_what_is_read_from_where() -> None:
    assert read(TCP).describe() == [
        "Modbus TCP 127.0.0.1:5020, unit 1, counter polled every 0.2 s",
        "shot_counter: holding register 0 (40001 in a map that counts from 40001), uint16, up to 65535",
        "cushion: holding register 2 (40003 in a map that counts from 40001), uint16, x 0.01 mm",
        "peak_pressure: holding register 3 (40004 in a map that counts from 40001), uint16, x 0.1 bar",
        "fill_time: holding registers 4 to 5 (40005 in a map that counts from 40001), float32, high word first, s",
        "a shot is read in 1 request (4 registers), twice until equal",
    ]
    assert read(SERIAL).describe() == [
        "serial line COM4 at 9600 8N1, split at ';', decimal mark ',', text in iso8859-1",
        "shot_counter: field 1, up to 999999999",
        "cushion: field 4, mm",
        "peak_pressure: field 3, MPa, converted to bar",
    ]


def test_rtu_defaults_are_those_of_the_serial_line_guide() -> None:
    assert read(RTU).describe()[0].startswith("Modbus RTU COM3 at 19200 8E1, unit 1")


def test_nothing_is_opened_by_building() -> None:
    for text in (TCP, RTU, SERIAL):
        assert read(text).build("press-1", HandClock(), None).close() == []


def test_a_recording_is_only_replayed() -> None:
    with pytest.raises(UsageError, match="press press-1 is only replayed from a recording"):
        read('kind = "recording"').build("press-1", HandClock(), None)


@pytest.mark.parametrize(
    ("text", "changes", "said"),
    [
        (
            TCP,
            {"kind": "opc"},
            f'kind: given "opc", allowed: {" | ".join(COLLECTORS)}',
        ),
        (TCP, {"host": None}, "collector.host: given nothing, allowed: text"),
        (TCP, {"port": 70000}, "collector.port: given 70000, allowed: whole number 1 to 65535"),
        (TCP, {"unit": 256}, "collector.unit: given 256, allowed: whole number 0 to 255"),
        (TCP, {"timeout_s": 0}, "collector.timeout_s: given 0, allowed: number 0.05 to 30"),
        (TCP, {"tabel": "input"}, "collector.tabel: given an unknown key, allowed: .*did you mean table"),
        (TCP, {"table": "coils"}, 'collector.table: given "coils", allowed: holding | input'),
        (TCP, {"word_order": "middle"}, 'collector.word_order: given "middle", allowed: big | little'),
        (TCP, {"shot_counter": None}, "collector.shot_counter: given nothing, allowed: a table"),
        (TCP, {"shot_counter": {"address": 0, "type": "float32"}}, 'type: given "float32", allowed: uint16'),
        (TCP, {"shot_counter": {"address": 0, "type": "uint16", "last_count": 70000}}, "count: given 70000, allowed"),
        (TCP, {"shot_counter": {"address": 0, "type": "uint64", "last_count": 2**63}}, "to 1000000000000000000"),
        (TCP, {"channels": {}}, "collector.channels: given {}, allowed: at least one channel"),
        (TCP, {"channels": {"cusion": {}}}, "channels.cusion: given an unknown key.*did you mean cushion"),
        (TCP, channel(address=65536), "cushion.address: given 65536, allowed: whole number 0 to 65535"),
        (TCP, channel(address=65535, type="uint32"), "cushion.address: given 65535, allowed: whole number 0 to 65534"),
        (TCP, channel(address=-1), "cushion.address: given -1, allowed"),
        (TCP, channel(address=True), "cushion.address: given True, allowed"),
        (TCP, channel(address=0), "cushion.address: given 0, allowed: registers that shot_counter does not take"),
        (TCP, channel(type="int8"), 'cushion.type: given "int8", allowed: uint16 | int16'),
        (TCP, channel(unit="bar"), 'cushion.unit: given "bar", allowed: mm, or a unit that can be converted to it'),
        (TCP, channel(unit="furlongs per"), "cushion.unit: given"),
        (TCP, channel(scale=0), "cushion.scale: given 0, allowed: .* not 0"),
        (TCP, channel(scale="0.01"), 'cushion.scale: given "0.01", allowed: number'),
        (TCP, channel(field=3), "cushion.field: given an unknown key"),
        (RTU, {"unit": 248}, "collector.unit: given 248, allowed: whole number 1 to 247"),
        (RTU, {"bytesize": 7}, "collector.bytesize: given 7, allowed: 8: Modbus RTU sends whole bytes"),
        (RTU, {"flow": "xonxoff"}, "collector.flow: given .* allowed: none | rtscts"),
        (RTU, {"parity": "even"}, 'collector.parity: given "even", allowed: N | E | O'),
        (RTU, {"longest_answer_s": 0.5}, "collector.longest_answer_s: given 0.5, allowed: number 1 to 60"),
        (SERIAL, {"stopbits": 1.2}, "collector.stopbits: given 1.2, allowed: 1 | 1.5 | 2"),
        (SERIAL, {"delimiter": ","}, "collector.delimiter: given .*, allowed: another mark than the decimal one"),
        (SERIAL, {"skip": "("}, "collector.skip: given .* allowed: a regular expression"),
        (SERIAL, {"encoding": "martian"}, "collector.encoding: given .* allowed: a text encoding such as latin-1"),
        (SERIAL, {"shot_counter": {"field": 0}}, "field: given 0, allowed: field number from 1, or its"),
        (SERIAL, {"shot_counter": {}}, "shot_counter.field: given nothing, allowed: field number"),
        (SERIAL, {"fields": 3}, "collector.fields: given 3, allowed: at least 4"),
        (SERIAL, {"pattern": "(?P<cushion>.*)"}, "collector.pattern: given .* allowed: a group named"),
        (SERIAL, {"address": 3}, "collector.address: given an unknown key"),
        ('kind = "recording"', {"port": 1}, "collector.port: given an unknown key"),
    ],
)  # fmt: skip
def test_a_wrong_key_is_one_clear_line(text: str, changes: dict[str, Any], said: str) -> None:
    with pytest.raises(SettingsError, match=said.replace("|", r"\|").replace("{}", r"\{\}")) as caught:
        read(text, **changes)
    assert str(caught.value).startswith("press.toml: press[1].collector.")
    assert "\n" not in str(caught.value)


def test_a_pattern_needs_no_fields() -> None:
    pattern = r"^(?P<shot_counter>\d+) +(?P<cushion>\S+)$"
    changes = {"pattern": pattern, "delimiter": None, "shot_counter": None, "channels": {"cushion": {"unit": "mm"}}}
    assert "cushion: group 'cushion', mm" in read(SERIAL, **changes).describe()


def test_the_units_library_is_loaded_only_where_a_unit_differs() -> None:
    code = (
        "import sys, tomllib\n"
        "from shotlog.collectors import options\n"
        "from shotlog.settings import PressSettings, Section\n"
        "options(PressSettings('p', 'modbus-tcp', Section('f', 'c', tomllib.loads(sys.argv[1]))))\n"
        "print(sorted({'pint', 'pandas', 'sqlalchemy', 'dash'} & set(sys.modules)))"
    )
    for text, loaded in ((TCP, "[]"), (TCP.replace('"mm"', '"inch"'), "['pint']")):
        ran = subprocess.run([sys.executable, "-c", code, text], capture_output=True, text=True, check=True)
        assert ran.stdout.strip() == loaded
