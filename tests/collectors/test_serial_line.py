"""The serial-line collector on a port played by a test."""

import tomllib
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import Resume, options
from shotlog.collectors.serial_line import SerialLine, SerialLineOptions
from shotlog.errors import PressUnreachable
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import PressSettings, Section

KEYS = """
kind = "serial-line"
port = "played"
baudrate = 9600
delimiter = ";"
decimal = ","
skip = "^(MEAN|#)"
shot_counter = { field = 1, last_count = 9999 }
[channels]
cushion = { field = 7, unit = "mm" }
peak_pressure = { field = 6, unit = "bar" }
fill_time = { field = 3, unit = "s" }
"""

HEADER = b"NR;TIME;FILL s;XFER mm;XFER bar;PMAX bar;CUSH mm;DOSE s;CYC s\r\n"


def shot_line(counter: int, cushion: str = "4,97") -> bytes:
    return f"{counter:06d};08:41:07;0,721;9,01;534;556;{cushion};4,57;75,3\r\n".encode()


class Port:
    """A port that holds bytes; after them comes silence, or a loss where `lost` is set."""

    def __init__(self) -> None:
        self.held = bytearray()
        self.lost: Exception | None = None
        self.n_open = 0
        self.drip = False

    def put(self, data: bytes) -> None:
        self.held += data

    @property
    def in_waiting(self) -> int:
        return min(len(self.held), 1) if self.drip else len(self.held)

    def read(self, size: int = 1) -> bytes:
        if not self.held and self.lost is not None:
            raise self.lost
        taken = bytes(self.held[:size])
        del self.held[:size]
        return taken

    def close(self) -> None:
        self.n_open -= 1


@pytest.fixture
def port() -> Iterator[Port]:
    port = Port()
    yield port
    assert port.n_open <= 0


def press(port: Port, resume: Resume | None = None, **keys: Any) -> tuple[SerialLine, HandClock]:
    def opener(settings: Any, wait_s: float) -> Any:
        assert wait_s <= 0.2
        port.n_open += 1
        return port

    table = tomllib.loads(KEYS) | keys
    if "pattern" in keys:
        del table["delimiter"]
    section = Section("press.toml", "press[1].collector", table)
    chosen = options(PressSettings("p", "serial-line", section))
    assert isinstance(chosen, SerialLineOptions)
    clock = HandClock()
    collector = replace(chosen, opener=opener).build("p", clock, resume)
    assert isinstance(collector, SerialLine)
    return collector, clock


def told(records: list[Shot | Gap | Fault]) -> list[str]:
    return [
        f"shot {r.shot}" if isinstance(r, Shot) else f"gap {r.first}-{r.last}" if isinstance(r, Gap) else r.kind
        for r in records
    ]


def test_a_line_in_parts_is_one_shot_at_the_time_of_its_end(port: Port) -> None:
    collector, clock = press(port)
    collector.open()
    port.put(HEADER + shot_line(118)[:20])
    assert collector.poll() == []
    clock.advance(7.0)
    port.put(shot_line(118)[20:-1])
    (shot,) = collector.poll()
    values = {"cushion": 4.97, "peak_pressure": 556.0, "fill_time": 0.721}
    assert shot == Shot("p", 118, 118, HandClock().now() + timedelta(seconds=7), values)
    assert shot.came == shot_line(118).decode().strip()
    assert collector.close() == []


def test_bytes_one_at_a_time_give_the_same(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    port.drip = True
    port.put(HEADER + shot_line(118) + shot_line(119))
    assert told(collector.poll()) == ["shot 118", "shot 119"]
    collector.close()


def test_a_first_line_without_its_front_is_kept_as_a_fault(port: Port) -> None:
    collector, _ = press(port)
    port.put(shot_line(118)[13:])
    collector.open()
    port.put(shot_line(119) + shot_line(120))
    cut, *shots = collector.poll()
    assert isinstance(cut, Fault)
    assert (cut.kind, cut.raw) == ("cut line", shot_line(118)[13:-2])
    assert told(shots) == ["shot 119", "shot 120"]
    collector.close()


def test_a_counter_without_its_front_is_not_believed(port: Port) -> None:
    """ "000118" opened two characters late is "0118", five late it is "8": both look like counters."""
    collector, _ = press(port)
    port.put(shot_line(118)[5:])
    collector.open()
    assert collector.poll() == []
    port.put(shot_line(119) + shot_line(120))
    assert told(collector.poll()) == ["cut line", "shot 119", "shot 120"]
    collector.close()


def test_after_silence_the_first_line_is_taken_at_once(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    port.put(shot_line(118))
    assert told(collector.poll()) == ["shot 118"]
    collector.close()


def test_a_cut_header_does_not_make_the_next_line_doubtful(port: Port) -> None:
    collector, _ = press(port)
    port.put(HEADER[20:])
    collector.open()
    port.put(shot_line(118))
    assert told(collector.poll())[-1:] == ["shot 118"]
    collector.close()


def test_what_came_before_the_loss_is_not_lost(port: Port) -> None:
    collector, _ = press(port, Resume(117, 117))
    collector.open()
    port.put(shot_line(118) + shot_line(119)[:9])
    port.lost = OSError("device reports readiness to read but returned no data")
    assert told(collector.poll()) == ["shot 118"]
    with pytest.raises(PressUnreachable, match="serial port played at 9600 8N1 was lost: device reports"):
        collector.poll()
    (half,) = collector.close()
    assert isinstance(half, Fault)
    assert (half.kind, half.raw) == ("half line", b"000119;08")
    assert collector.close() == []
    with pytest.raises(PressUnreachable, match="is not open"):
        collector.poll()


def test_the_count_goes_on_after_reconnecting(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    port.put(shot_line(118))
    collector.poll()
    collector.close()
    collector.open()
    port.put(shot_line(121))
    assert told(collector.poll()) == ["gap 119-120", "shot 121"]
    collector.close()


def test_a_held_line_comes_back_when_closing(port: Port) -> None:
    collector, _ = press(port)
    port.put(shot_line(118))
    collector.open()
    assert collector.poll() == []
    (held,) = collector.close()
    assert isinstance(held, Fault)
    assert (held.kind, held.raw) == ("cut line", shot_line(118)[:-2])


def test_a_line_without_an_end_is_one_fault(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    port.put(b"\x86" * 5000)
    assert told(collector.poll()) == ["too long"]
    port.put(b"\r" + shot_line(5))
    assert told(collector.poll()) == ["shot 5"]
    collector.close()


def test_after_a_cut_line_without_an_end_the_next_line_is_whole(port: Port) -> None:
    """Only the first line after opening may lack its front, also where that one is given up for its length."""
    collector, _ = press(port)
    port.put(b"\x86" * 5000)
    collector.open()
    (fault,) = collector.poll()
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.detail) == ("too long", "a line without an end: check baudrate, parity and bytesize")
    port.put(b"\r" + shot_line(5))
    assert told(collector.poll()) == ["shot 5"]
    collector.close()


def test_every_kind_of_disturbance_is_told_and_no_shot_is_lost(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    page = [
        (b"\f" + HEADER, []),
        (b";;s;mm;bar;bar;mm;s;s\r\n", []),
        (shot_line(9997), ["shot 9997"]),
        (b"\r\n\r\n", []),
        (b"\x02" + shot_line(9998).rstrip() + b"\x03\r\n", ["shot 9998"]),
        (b"ALARM 17 HEATER ZONE 2\r\n", ["field count"]),
        (shot_line(9999, "----"), ["shot 9999", "cushion dashes"]),
        (shot_line(0, ">999"), ["shot 10000", "cushion beyond"]),
        (shot_line(0, ">999"), ["repeat"]),
        (b"MEAN;08:41:07;0,721;9,01;534;556;4,97;4,57;75,3\r\n", []),
        (shot_line(1).rstrip() + shot_line(2), ["field count"]),
        (shot_line(3), ["gap 10001-10002", "shot 10003"]),
        (shot_line(2), ["late line"]),
        (b"\x00\xfe\x7f\r\n", ["damaged"]),
        (shot_line(4, "999999,9"), ["shot 10004", "cushion range"]),
        (shot_line(5, "4,x"), ["no number"]),
        (shot_line(6, "-0,02"), ["gap 10005-10005", "shot 10006"]),
        (b"\f" + HEADER, []),
    ]
    for data, expected in page:
        port.put(data)
        assert (data, told(collector.poll())) == (data, expected)
    assert collector.close() == []


def test_probe_numbers_the_fields(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    port.put(HEADER + shot_line(118))
    whole, *fields = collector.probe()
    assert whole.raw.startswith("000118;08:41:07")
    assert [row.where for row in fields] == [f"field {n}" for n in range(1, 10)]
    shown = {row.name: (row.raw, row.value, row.unit) for row in fields if row.name}
    assert shown == {
        "shot_counter": ("000118", 118.0, ""),
        "fill_time": ("0,721", 0.721, "s"),
        "peak_pressure": ("556", 556.0, "bar"),
        "cushion": ("4,97", 4.97, "mm"),
    }
    collector.close()


def test_probe_finds_fields_by_their_header(port: Port) -> None:
    channels = {"cushion": {"field": "CUSH mm", "unit": "mm"}}
    collector, _ = press(port, channels=channels, shot_counter={"field": "NR"})
    collector.open()
    port.put(HEADER + shot_line(118))
    assert {row.name: row.value for row in collector.probe() if row.name in ("cushion", "shot_counter")} == {
        "shot_counter": 118.0,
        "cushion": 4.97,
    }
    collector.close()


def test_probe_says_why_a_line_is_not_taken(port: Port) -> None:
    collector, _ = press(port, decimal=".")
    collector.open()
    port.put(shot_line(118))
    whole, *_ = collector.probe()
    assert whole.remark.startswith("not taken: no number, cushion: '4,97' is no number")
    collector.close()


def test_probe_shows_the_groups_of_a_pattern(port: Port) -> None:
    pattern = r"^(?P<shot_counter>\d+) +(?P<cushion>\S+)$"
    channels = {"cushion": {"unit": "mm"}}
    collector, _ = press(port, pattern=pattern, shot_counter={}, channels=channels)
    collector.open()
    port.put(b"118 4,97\r\n")
    rows = [(row.name, row.where, row.raw, row.value) for row in collector.probe()]
    assert rows == [
        ("line", "as it came", "118 4,97", None),
        ("shot_counter", "group shot_counter", "118", 118.0),
        ("cushion", "group cushion", "4,97", 4.97),
    ]
    collector.close()


def test_probe_shows_control_characters_by_their_escapes(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    port.put(b"\x1b[2J;1\r\n")
    assert collector.probe()[0].raw == "\\x1b[2J;1"
    collector.close()


def test_a_port_lost_while_opening_is_closed(port: Port) -> None:
    collector, _ = press(port)
    port.lost = OSError("gone")
    with pytest.raises(PressUnreachable, match="was lost: gone"):
        collector.open()
    assert port.n_open == 0


@pytest.mark.parametrize(("held", "remark"), [(b"", "no line came in 0.5 s"), (b"\x9a\x00\x13", "check baudrate")])
def test_probe_gives_up_in_bounded_time(port: Port, held: bytes, remark: str) -> None:
    collector, _ = press(port, timeout_s=0.5)
    collector.open()
    port.put(held)
    (row,) = collector.probe()
    assert remark in row.remark
    collector.close()


def test_probe_gives_up_on_a_torrent(port: Port) -> None:
    collector, _ = press(port)
    collector.open()
    port.put(b"\x86" * 200_000)
    (row, *_) = collector.probe()
    assert row.remark
    collector.close()
