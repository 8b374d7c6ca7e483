"""Answers over a socket: taken and told exactly as the library's own client takes and tells them."""

import socket
from collections.abc import Callable
from random import Random

import pytest
from pymodbus.client import ModbusTcpClient

from shotlog.collectors.modbus_client import ModbusClient, RegisterSource, Rejected, Trace
from shotlog.collectors.modbus_serial import SerialRegisters
from shotlog.collectors.modbus_socket import SocketRegisters
from shotlog.collectors.registers import Block
from shotlog.errors import CollectorError
from tests.fuzz.damage import damaged

Source = Callable[[socket.socket, float, Trace], RegisterSource]
UNIT = 17
RIGHT = bytes.fromhex("0001 0000 0007 11 03 04 002A FFFE")


def ours(line: socket.socket, timeout_s: float, trace: Trace) -> RegisterSource:
    return SocketRegisters(line, timeout_s, trace)


def of_the_library(line: socket.socket, timeout_s: float, trace: Trace) -> RegisterSource:
    client = ModbusTcpClient("played", timeout=timeout_s, retries=0, trace_packet=trace)
    client.socket = line
    return SerialRegisters(client)  # type: ignore[arg-type]


def said(source: Source, answer: bytes, ends: bool, unit: int) -> tuple[object, list[Rejected], bool]:
    """What comes of an answer to a request for two registers: they, or the words; the bytes kept; whether it is open.

    `ends`: the press closes the connection behind it; otherwise it falls silent, and is not waited for long.
    """
    timeout_s = 10.0 if ends else 0.02
    line, press = socket.socketpair()
    with line, press:
        client = ModbusClient("played", lambda trace: source(line, timeout_s, trace), "holding", unit)
        client.open()
        if answer:
            press.sendall(answer)
        if ends:
            press.shutdown(socket.SHUT_WR)
        try:
            result: object = client.read(Block(7, 2))
        except CollectorError as error:
            result = type(error), str(error)
        is_open = line.fileno() >= 0
        client.close()
        return result, client.rejected(), is_open


ANSWERS = [
    b"",
    RIGHT,
    RIGHT + RIGHT,
    RIGHT + b"\x00",
    bytes.fromhex("0000") + RIGHT[2:],
    bytes.fromhex("0002") + RIGHT[2:],
    bytes.fromhex("0002") + RIGHT[2:] + RIGHT,
    RIGHT[:2] + b"\x01" + RIGHT[3:],
    RIGHT[:6] + b"\x12" + RIGHT[7:],
    RIGHT[:6] + b"\x00" + RIGHT[7:],
    RIGHT[:7] + b"\x04" + RIGHT[8:],
    bytes.fromhex("0001 0000 0005 11 03 02 002A"),
    bytes.fromhex("0001 0000 0007 11 03 02 002A FFFE"),
    bytes.fromhex("0001 0000 0007 11 03 03 002A FFFE"),
    bytes.fromhex("0001 0000 0007 11 03 06 002A FFFE"),
    bytes.fromhex("0001 0000 0006 11 03 04 002A FFFE"),
    bytes.fromhex("0001 0000 0003 11 83 02"),
    bytes.fromhex("0001 0000 0003 11 84 02"),
    bytes.fromhex("0001 0000 0003 11 83 06"),
    *(RIGHT[:n] for n in range(1, len(RIGHT))),
    *(damaged(Random(seed), RIGHT, [b"\x83\x02", b"\x00\x01\x00\x00"], 300) for seed in range(80)),
]


@pytest.mark.parametrize("unit", [UNIT, 0])
def test_every_answer_is_taken_or_told_as_the_library_would(unit: int) -> None:
    taken = set()
    for answer in ANSWERS:
        found = said(ours, answer, True, unit)
        assert found == said(of_the_library, answer, True, unit), answer.hex()
        taken.add(type(found[0][0]) if isinstance(found[0], tuple) else None)
    assert int in taken or unit == 0
    assert type in taken


@pytest.mark.parametrize("answer", [b"", RIGHT[:-1], RIGHT[:6] + b"\x12" + RIGHT[7:], RIGHT])
def test_a_press_that_falls_silent_is_told_as_the_library_would(answer: bytes) -> None:
    assert said(ours, answer, False, UNIT) == said(of_the_library, answer, False, UNIT)


def test_a_request_that_cannot_be_sent_is_told_as_the_library_would() -> None:
    def cut(source: Source) -> Source:
        def connect(line: socket.socket, timeout_s: float, trace: Trace) -> RegisterSource:
            line.shutdown(socket.SHUT_RDWR)
            return source(line, timeout_s, trace)

        return connect

    found = said(cut(ours), b"", False, UNIT)
    assert found == said(cut(of_the_library), b"", False, UNIT)
    assert "the press does not answer" in str(found[0])
