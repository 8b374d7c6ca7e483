"""Answers of a press over Modbus: frames that are damaged, on TCP and on a serial line, and registers that hold
anything.

Taken registers are held against the frame, read by its bytes; shots against the registers, read by `struct`. A tuple:
``tcp`` or ``rtu``, registers asked for, the bytes that come; or ``registers`` and what stands in them at each read.
"""

import socket
import struct
from math import isfinite
from pathlib import Path
from random import Random
from typing import Any

from pymodbus import FramerType
from pymodbus.client import ModbusSerialClient

from shotlog.clock import HandClock
from shotlog.collectors.modbus_client import ModbusClient
from shotlog.collectors.modbus_serial import SerialRegisters
from shotlog.collectors.modbus_shots import ModbusShots
from shotlog.collectors.modbus_socket import SocketRegisters
from shotlog.collectors.register_map import read_register_map
from shotlog.collectors.registers import Block
from shotlog.errors import PressRefused, PressUnreachable
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import Section
from tests.collectors.crc import crc
from tests.fuzz.damage import damaged
from tests.fuzz.kind import Kind, one_line

__all__ = ["Modbus"]

_UNIT, _FIRST, _WAIT_S = 17, 100, 0.0002
_WORDS = [
    b"", b"\x83\x02", b"\x84\x06", b"\xff\xff", b"\x00", b"\x03", b"\x04", b"\x10", b"\x00\x01\x00\x00", b"\xff" * 300,
    b"\x2b\x0e\x01", b"\x16", b"\x18\x00\x02\x00\x00", b"\x11\x03", b"HTTP/1.1 400 Bad Request\r\n\r\n",
]  # fmt: skip
_ODD = (0, 1, 2, 3, 4, 0x7FFF, 0x8000, 0xFFFF, 0xFFFE, 0x7F80, 0xFF80, 0x7FC0, 0x4000, 9999, 10000, 65530, 497, 542)
_MAP = {
    "shot_counter": {"address": 0, "type": "uint16"},
    "channels": {
        "cushion": {"address": 1, "type": "uint16", "scale": 0.01, "unit": "mm", "missing": 9999},
        "peak_pressure": {"address": 2, "type": "int16", "scale": 0.1, "unit": "bar"},
        "fill_time": {"address": 3, "type": "float32", "unit": "s"},
        "recovery_time": {"address": 5, "type": "float64", "unit": "s"},
        "cycle_time": {"address": 9, "type": "uint32", "scale": 0.001, "unit": "s"},
    },
}
_N_WORDS = 11
_FORMS = {"cushion": ("H", 1), "peak_pressure": ("h", 2), "fill_time": ("f", 3), "recovery_time": ("d", 5),
          "cycle_time": ("I", 9)}  # fmt: skip
_SCALES = {"cushion": 0.01, "peak_pressure": 0.1, "cycle_time": 0.001}


class _Line:
    """A serial port on which an answer lies once something was asked."""

    def __init__(self, answer: bytes) -> None:
        self._answer, self._asked = answer, False

    @property
    def in_waiting(self) -> int:
        return len(self._answer) if self._asked else 0

    def write(self, data: bytes) -> int:
        self._asked = True
        return len(data)

    def read(self, size: int = 1) -> bytes:
        taken, self._answer = self._answer[:size], self._answer[size:]
        return taken

    def close(self) -> None:
        pass


class _Registers:
    """Stands in for the client: what its registers hold moves on with every read of the counter."""

    def __init__(self, states: list[list[int]]) -> None:
        self._states, self._n = states, -1

    def open(self) -> None:
        pass

    close = open

    def rejected(self) -> list[Any]:
        return []

    def read(self, block: Block) -> tuple[int, ...]:
        if block.address == 0:
            self._n += 1
        return tuple(self._states[min(self._n, len(self._states) - 1)][block.address : block.last + 1])


class Modbus(Kind):
    """See above."""

    name = "modbus"

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self._map = read_register_map(Section("fuzz.toml", "press", _MAP))

    def make(self, random: Random) -> tuple[Any, ...]:
        if random.random() < 0.5:
            return "registers", _states(random)
        n = random.choice((1, 2, 5, 125))
        pdu = bytes([random.choice((3, 3, 3, 3, 4)), 2 * n]) + b"".join(
            random.choice(_ODD).to_bytes(2, "big") for _ in range(n)
        )
        if random.random() < 0.2:
            pdu = bytes([0x83, random.choice((1, 2, 3, 4, 5, 6, 8, 10, 11, 0, 255))])
        how = random.choice(("tcp", "tcp", "rtu"))
        if random.random() < 0.4:
            pdu = damaged(random, pdu, _WORDS, 300)
        frame = bytes([_UNIT]) + pdu
        frame = frame + crc(frame) if how == "rtu" else b"\0\1\0\0" + struct.pack(">H", len(frame)) + frame
        return how, n, damaged(random, frame, _WORDS, 1000) if random.random() < 0.6 else frame

    def judge(self, given: tuple[Any, ...]) -> str:
        return self._judge_registers(given[1]) if given[0] == "registers" else _judge_frame(*given)

    def _judge_registers(self, states: list[list[int]]) -> str:
        client: Any = _Registers(states)
        collector = ModbusShots("P25", HandClock(), None, self._map, client)
        collector.open()
        records: list[Any] = []
        for _ in states:
            records += collector.poll()
        records += collector.close()
        return _held_against(states, records)


def _states(random: Random) -> list[list[int]]:
    """Return what registers hold, reading by reading: the count goes on or does not, the values hold still or not."""
    count = random.choice((0, 1, 5, 9999, 65533, 65535))
    states: list[list[int]] = []
    for _ in range(random.choice((1, 2, 3, 5))):
        count = (count + random.choice((1, 1, 1, 0, 2, 60, -1, 40_000))) % 65536
        held = [random.choice(_ODD) if random.random() < 0.4 else random.randrange(65536) for _ in range(_N_WORDS)]
        for _ in range(random.choice((1, 3, 3, 4))):
            states.append([count, *held[1:]])
            if random.random() < 0.1:
                states[-1][random.randrange(_N_WORDS)] = random.choice(_ODD)
    return states


def _judge_frame(how: str, n: int, frame: bytes) -> str:
    ours, theirs = socket.socketpair()
    theirs.sendall(frame)
    theirs.shutdown(socket.SHUT_WR)

    def connect(trace: Any) -> Any:
        if how == "tcp":
            return SocketRegisters(ours, _WAIT_S, trace)
        made: Any = ModbusSerialClient("played", framer=FramerType.RTU, timeout=_WAIT_S, retries=0, trace_packet=trace)
        made.socket, made._recv_interval = _Line(frame), 0.0
        return SerialRegisters(made)

    client = ModbusClient("played", connect, "holding", _UNIT)
    client.open()
    try:
        words = client.read(Block(_FIRST, n))
    except (PressRefused, PressUnreachable) as error:
        one_line(str(error))
        for one in client.rejected():
            one_line(one.detail)
        return "refused" if isinstance(error, PressRefused) else "unusable"
    finally:
        client.close()
        ours.close()
        theirs.close()
    inside = bytes([3, 2 * n]) + b"".join(word.to_bytes(2, "big") for word in words)
    answer = bytes([_UNIT]) + inside
    assert answer in frame, f"{words} stand in no answer of unit {_UNIT} in {frame.hex()}"
    assert how == "tcp" or answer + crc(answer) in frame, f"{words} were taken against the check sum"
    return "registers"


def _held_against(states: list[list[int]], records: list[Any]) -> str:
    shots = [one for one in records if isinstance(one, Shot)]
    numbers = [one.shot for one in shots]
    assert numbers == sorted(set(numbers)), f"shots doubled or out of order: {numbers}"
    last = -1
    for one in records:
        if isinstance(one, Gap):
            assert last < one.first <= one.last, f"a gap over shots that are there: {one}"
        if isinstance(one, Shot):
            last = one.shot
        if isinstance(one, Fault):
            one_line(one.detail)
    for shot in shots:
        told = " ".join(one.detail for one in records if isinstance(one, Fault) and one.shot == shot.shot)
        assert any(_agrees(shot, state, told) for state in states), f"shot {shot.shot} {dict(shot.values)}: {states}"
    return f"shots {min(len(shots), 3)}"


def _agrees(shot: Shot, state: list[int], told: str) -> bool:
    """Say whether registers hold what a shot says, and a shot all of them that can be."""
    if state[0] != shot.counter:
        return False
    data = struct.pack(f">{_N_WORDS}H", *state)
    for name, (form, at) in _FORMS.items():
        (raw,) = struct.unpack_from(f">{form}", data, 2 * at)
        if name in shot.values:
            scaled = raw * _SCALES.get(name, 1.0)
            if not isfinite(raw) or abs(shot.values[name] - scaled) > 1e-9 * max(1.0, abs(scaled)):
                return False
        elif name not in told and not (name == "cushion" and raw == 9999):
            return False
    return True
