"""A printing press on a real pseudo-terminal, or behind a serial-to-Ethernet box, with all that goes wrong there."""

import os
import random
import socket
import tomllib
import tty
from collections.abc import Iterator
from contextlib import closing, suppress
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import Collector, Resume, options
from shotlog.errors import PressUnreachable
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import PressSettings, Section

KEYS = """
kind = "serial-line"
delimiter = ";"
decimal = ","
skip = "^#"
shot_counter = { field = 1, last_count = 9999 }
[channels]
cushion = { field = 4, unit = "mm" }
peak_pressure = { field = 3, unit = "bar" }
fill_time = { field = 2, unit = "s" }
"""
HEADER = b"NR;FILL s;PMAX bar;CUSH mm\r\n"


def press(port: str, resume: Resume | None = None, **keys: Any) -> Collector:
    table = tomllib.loads(KEYS) | {"port": port} | keys
    return options(PressSettings("p", "serial-line", Section("press.toml", "c", table))).build("p", HandClock(), resume)


def printed(n: int) -> bytes:
    return f"{n % 10000:04d};0,{n % 900 + 100};{500 + n % 50},{n % 10};{4 + n % 2},{n % 90 + 10}\r\n".encode()


def values(n: int) -> dict[str, float]:
    return {
        "fill_time": (n % 900 + 100) / 1000,
        "peak_pressure": (5000 + n % 50 * 10 + n % 10) / 10,
        "cushion": ((4 + n % 2) * 100 + n % 90 + 10) / 100,
    }


class Terminal:
    """A pseudo-terminal: the test prints at one end, the collector opens the other by name."""

    def __init__(self) -> None:
        self._master, self._slave = os.openpty()
        tty.setraw(self._slave)
        self.port = os.ttyname(self._slave)

    def put(self, data: bytes) -> None:
        os.write(self._master, data)

    def unplug(self) -> None:
        for end in (self._master, self._slave):
            with suppress(OSError):
                os.close(end)


@pytest.fixture
def terminal() -> Iterator[Terminal]:
    terminal = Terminal()
    yield terminal
    terminal.unplug()


def test_a_printout_with_headers_splits_garbage_and_an_outage_is_logged_once_and_exactly(terminal: Terminal) -> None:
    """Every offered shot is stored exactly once with exact values, over a rollover and a closed port."""
    draw = random.Random(20260105)
    collector = press(terminal.port)
    offered = range(9950, 10080)
    noise = [b"ALARM 17 HEATER\r\n", b"\x00\x00", b"\xff\xfe\x80 77\r\n", b"# page 4\r\n", b"\f" + HEADER, b"\r\n"]
    records: list[Shot | Gap | Fault] = []
    collector.open()
    for n in offered:
        data = b"".join(draw.choices(noise, k=draw.choice([0, 0, 1, 2]))) + printed(n)
        while data:
            cut = draw.randint(1, len(data))
            terminal.put(data[:cut])
            data = data[cut:]
            records += collector.poll()
        if n == 10010:
            records += collector.close()
            collector.open()
    records += collector.close()
    shots = [record for record in records if isinstance(record, Shot)]
    assert [shot.shot for shot in shots] == list(offered)
    assert [shot.counter for shot in shots] == [n % 10000 for n in offered]
    assert [shot.values for shot in shots] == [values(n) for n in offered]
    faults = [record for record in records if isinstance(record, Fault)]
    assert {fault.kind for fault in faults} == {"field count", "damaged"}
    assert {fault.raw.strip(b"\x00") for fault in faults} == {b"ALARM 17 HEATER", b"\xff\xfe\x80 77"}
    assert len(shots) + len(faults) == len(records)


def test_an_unplugged_adapter_is_unreachable_and_the_count_goes_on() -> None:
    first, second = Terminal(), Terminal()
    collector = press(first.port)
    collector.open()
    first.put(printed(7))
    assert [type(record) for record in collector.poll()] == [Shot]
    first.unplug()
    with pytest.raises(PressUnreachable, match="was lost"):
        collector.poll()
    assert collector.close() == []
    with pytest.raises(PressUnreachable, match="cannot be opened"):
        collector.open()
    second.unplug()


def test_a_port_is_held_by_one_logger(terminal: Terminal) -> None:
    with_it, without = press(terminal.port), press(terminal.port)
    with_it.open()
    with pytest.raises(PressUnreachable, match="cannot be opened"):
        without.open()
    with_it.close()


@pytest.mark.parametrize("keys", [{"bytesize": 7}, {"port": "/no/such/port"}, {"port": "nonsense://here"}])
def test_a_port_that_cannot_be_set_so_is_unreachable(terminal: Terminal, keys: dict[str, Any]) -> None:
    """A pseudo-terminal can do no seven bits: the system's own error must not travel on.

    It says so only where nothing else is left to set, hence the first opening.
    """
    first = press(terminal.port)
    first.open()
    first.close()
    with pytest.raises(PressUnreachable, match="cannot be opened"):
        press(**({"port": terminal.port} | keys)).open()


def test_a_box_on_the_network_that_hangs_up_loses_no_line() -> None:
    """The last line and the end of the connection arrive together: the line must not go down with the error."""
    with closing(socket.create_server(("127.0.0.1", 0))) as server:
        collector = press(f"socket://127.0.0.1:{server.getsockname()[1]}", Resume(6, 6))
        collector.open()
        with closing(server.accept()[0]) as box:
            box.sendall(HEADER + printed(7) + printed(8)[:6])
        records = collector.poll()
        assert [(record.shot, record.values) for record in records if isinstance(record, Shot)] == [(7, values(7))]
        with pytest.raises(PressUnreachable):
            collector.poll()
        (half,) = collector.close()
        assert isinstance(half, Fault)
        assert (half.kind, half.raw) == ("half line", printed(8)[:6])
        collector.open()
        with closing(server.accept()[0]) as box:
            box.sendall(printed(9))
            records = collector.poll()
        assert [type(record) for record in records] == [Gap, Shot]
        collector.close()
