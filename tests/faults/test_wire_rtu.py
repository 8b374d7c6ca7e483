"""Modbus RTU on a pseudo-terminal: an answer there carries nothing that tells which request it belongs to.

The device is a thread at the other end that answers exactly what a test tells it to.
"""

import os
import select
import threading
import tomllib
import tty
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import pytest
import serial

from shotlog.clock import HandClock
from shotlog.collectors import options
from shotlog.collectors.modbus_client import ModbusClient
from shotlog.collectors.modbus_rtu import ModbusRtuOptions
from shotlog.collectors.modbus_serial import rtu_line
from shotlog.collectors.registers import Block
from shotlog.errors import PressRefused, PressUnreachable
from shotlog.records import Fault, Shot
from shotlog.settings import PressSettings, Section
from tests.collectors.crc import crc

KEYS = """
kind = "modbus-rtu"
port = "{port}"
baudrate = 115200
parity = "N"
unit = 7
timeout_s = {timeout}
longest_answer_s = {longest}
table = "holding"
shot_counter = {{ address = 0, type = "uint16" }}
[channels]
cushion = {{ address = 10, type = "uint16", scale = 0.01, unit = "mm" }}
peak_pressure = {{ address = 20, type = "uint16", scale = 0.1, unit = "bar" }}
fill_time = {{ address = 30, type = "uint16", scale = 0.001, unit = "s" }}
"""


def test_the_guides_example_of_a_crc() -> None:
    """Serial line guide v1.02, clause 6.2.2: message 02 07 has CRC 1241 hex, sent 41 12 (from memory)."""
    assert crc(b"\x02\x07") == b"\x41\x12"


class Device:
    """A unit on a line. `answer` takes a request's eight bytes and gives the pieces to send; a number waits so long."""

    def __init__(self) -> None:
        self._master, self._slave = os.openpty()
        tty.setraw(self._slave)
        self.path = os.ttyname(self._slave)
        self.registers = {0: 7, 10: 497, 20: 5340, 30: 721}
        self.requests: list[bytes] = []
        self.answer: Callable[[bytes], list[bytes | float]] = lambda request: [self.good(request)]
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._serve)
        self._thread.start()

    def good(self, request: bytes) -> bytes:
        address, count = int.from_bytes(request[2:4], "big"), int.from_bytes(request[4:6], "big")
        words = b"".join(self.registers[address + n].to_bytes(2, "big") for n in range(count))
        frame = request[:2] + bytes([len(words)]) + words
        return frame + crc(frame)

    def say(self, data: bytes) -> None:
        os.write(self._master, data)

    def _serve(self) -> None:
        pending = b""
        while not self._stop.is_set():
            if not select.select([self._master], [], [], 0.02)[0]:
                continue
            pending += os.read(self._master, 4096)
            while len(pending) >= 8:
                request, pending = pending[:8], pending[8:]
                self.requests.append(request)
                for piece in self.answer(request):
                    if isinstance(piece, float):
                        # How slow this device is, not a way of waiting for something.
                        self._stop.wait(piece)
                    else:
                        self.say(piece)

    def close(self) -> None:
        self._stop.set()
        self._thread.join()
        os.close(self._master)
        os.close(self._slave)


@pytest.fixture
def device() -> Iterator[Device]:
    device = Device()
    yield device
    device.close()


def chosen(device: Device, timeout: float = 1.0, longest: float = 1.0) -> ModbusRtuOptions:
    table = tomllib.loads(KEYS.format(port=device.path, timeout=timeout, longest=longest))
    checked = options(PressSettings("p", "modbus-rtu", Section("press.toml", "press[1].collector", table)))
    assert isinstance(checked, ModbusRtuOptions)
    return checked


def quick(device: Device) -> ModbusRtuOptions:
    """Options for tests in which no answer is late, so that nothing need be listened for after opening."""
    return replace(chosen(device, timeout=1.0), longest_answer_s=0.02)


def test_a_shot_is_taken_over_rtu(device: Device) -> None:
    press = quick(device).build("p", HandClock(), None)
    press.open()
    (shot,) = press.poll()
    press.close()
    assert isinstance(shot, Shot)
    assert (shot.shot, shot.values) == (7, {"cushion": 4.97, "peak_pressure": 534.0, "fill_time": 0.721})
    assert shot.came == "10:497 20:5340 30:721"
    assert {request[1] for request in device.requests} == {3}
    assert all(request[-2:] == crc(request[:-2]) for request in device.requests)


def test_a_late_answer_is_never_stored_as_another_blocks_value(device: Device) -> None:
    """One answer 0.35 s late at a time-out of 0.2 s made every later answer that of the request before.

    All blocks have the same length here, so nothing but listening until the line is silent tells them apart. Code
    that reopens the port without listening stores 5340 as a cushion.
    """
    press = chosen(device, timeout=0.2, longest=0.6).build("p", HandClock(), None)
    n = 0

    def sometimes_late(request: bytes) -> list[bytes | float]:
        nonlocal n
        n += 1
        return [0.35, device.good(request)] if n in (2, 9, 11, 25) else [device.good(request)]

    device.answer = sometimes_late
    stored: list[Shot] = []
    n_lost = 0
    press.open()
    for counter in range(7, 15):
        device.registers |= {0: counter, 10: 400 + counter, 20: 5000 + counter, 30: 700 + counter}
        while not stored or stored[-1].counter != counter:
            try:
                stored += [record for record in press.poll() if isinstance(record, Shot)]
            except PressUnreachable:
                n_lost += 1
                press.close()
                press.open()
    press.close()
    assert n_lost >= 4
    assert [shot.shot for shot in stored] == list(range(7, 15))
    for shot in stored:
        assert shot.values == {
            "cushion": (400 + shot.counter) / 100,
            "peak_pressure": (5000 + shot.counter) / 10,
            "fill_time": (700 + shot.counter) / 1000,
        }


def test_an_answer_that_comes_after_the_failure_is_not_taken_for_the_next(device: Device) -> None:
    """The same at the client, where nothing but the listening stands between: 497 must not pass for 5340."""
    device.answer = lambda request: [1.0, device.good(request)] if len(device.requests) == 1 else [device.good(request)]
    port = chosen(device).port
    client = ModbusClient("line", rtu_line(port, timeout_s=0.7, longest_answer_s=1.0), "holding", 7)
    client.open()
    with pytest.raises(PressUnreachable):
        client.read(Block(10, 1))
    client.open()
    assert client.read(Block(20, 1)) == (5340,)
    client.close()


@pytest.mark.parametrize(
    "spoil",
    [
        lambda frame: frame[:-1] + bytes([frame[-1] ^ 1]),
        lambda frame: frame[:-3],
        lambda frame: b"\x09" + frame[1:-2] + crc(b"\x09" + frame[1:-2]),
        lambda frame: b"\xff\x00" + frame,
        lambda frame: bytes(range(100)),
        lambda frame: frame[:1] + b"\x04" + frame[2:-2] + crc(frame[:1] + b"\x04" + frame[2:-2]),
        lambda frame: frame[:1] + b"\x03\x04" + frame[3:5] * 2 + crc(frame[:1] + b"\x03\x04" + frame[3:5] * 2),
    ],
    ids=["wrong CRC", "cut off", "another unit", "noise in front", "garbage", "another function", "too many registers"],
)
def test_a_spoilt_frame_is_kept_as_a_fault_and_never_becomes_a_value(
    device: Device, spoil: Callable[[bytes], bytes]
) -> None:
    press = quick(device).build("p", HandClock(), None)
    device.answer = lambda request: [spoil(device.good(request))]
    press.open()
    with pytest.raises(PressUnreachable):
        press.poll()
    (fault,) = press.close()
    assert isinstance(fault, Fault)
    assert fault.kind == "bad answer"
    assert fault.raw
    device.answer = lambda request: [device.good(request)]
    press.open()
    assert [type(record) for record in press.poll()] == [Shot]
    press.close()


def test_silence_is_unreachable_and_leaves_nothing_to_keep(device: Device) -> None:
    press = quick(device).build("p", HandClock(), None)
    device.answer = lambda request: []
    press.open()
    with pytest.raises(PressUnreachable, match=r"unit 7: no usable answer for register 0"):
        press.poll()
    assert press.close() == []


def test_a_refusal_is_told_as_one(device: Device) -> None:
    press = quick(device).build("p", HandClock(), None)
    device.answer = lambda request: [request[:1] + b"\x83\x02" + crc(request[:1] + b"\x83\x02")]
    press.open()
    with pytest.raises(PressRefused, match="exception 2"):
        press.poll()
    press.close()


class Babbling(serial.Serial):
    """A line on which another master talks without a pause."""

    def __init__(self) -> None:
        super().__init__()

    def read(self, size: int = 1) -> bytes:
        return b"\x01" * min(size, 100)


def test_a_line_that_never_falls_silent_is_not_used() -> None:
    def opener(settings: Any, wait_s: float) -> serial.Serial:
        return Babbling()

    device = type("Nowhere", (), {"path": "nowhere"})()
    press = replace(chosen(device), opener=opener).build("p", HandClock(), None)
    with pytest.raises(PressUnreachable, match="does not fall silent: is there another master"):
        press.open()


@pytest.mark.parametrize("port", ["/no/such/port", "nonsense://x"])
def test_a_port_that_is_not_there_is_unreachable(port: str) -> None:
    device = type("Nowhere", (), {"path": port})()
    with pytest.raises(PressUnreachable, match="cannot be opened"):
        chosen(device).build("p", HandClock(), None).open()


def test_a_port_held_by_another_logger_is_unreachable(device: Device) -> None:
    press, second = (quick(device).build("p", HandClock(), None) for _ in range(2))
    press.open()
    with pytest.raises(PressUnreachable, match="cannot be opened"):
        second.open()
    press.close()
    second.open()
    second.close()


def test_an_adapter_that_is_unplugged_is_unreachable() -> None:
    device = Device()
    press = quick(device).build("p", HandClock(), None)
    press.open()
    assert [type(record) for record in press.poll()] == [Shot]
    device.close()
    with pytest.raises(PressUnreachable):
        press.poll()
    press.close()
