"""Frames on the wire against the examples of the Modbus specifications, byte for byte.

Modbus application protocol specification v1.1b3, clauses 6.3 (read holding registers), 6.4 (read input registers) and 7
(exceptions); Modbus over serial line guide v1.02. The examples are quoted from memory.
"""

import pytest

from shotlog.collectors.modbus_client import FUNCTIONS, ModbusClient
from shotlog.collectors.modbus_serial import rtu_line
from shotlog.collectors.modbus_socket import tcp_line
from shotlog.collectors.registers import Block
from shotlog.collectors.serial_port import PortSettings
from shotlog.errors import PressRefused, PressUnreachable, RefusedForNow
from tests.collectors.crc import crc


class Line:
    """Stands in for a socket or port: keeps what is written, hands out what a test put there."""

    def __init__(self, answer: bytes) -> None:
        self.sent = b""
        self.answer = answer
        self.closed = False

    @property
    def in_waiting(self) -> int:
        return len(self.answer) if self.sent else 0

    def write(self, data: bytes) -> int:
        self.sent += data
        return len(data)

    def read(self, size: int = 1) -> bytes:
        if not self.sent:
            return b""
        taken, self.answer = self.answer[:size], self.answer[size:]
        return taken

    def close(self) -> None:
        self.closed = True


def rtu(answer: str, table: str, unit: int = 0x11) -> tuple[ModbusClient, Line]:
    line = Line(bytes.fromhex(answer))
    port = PortSettings("played", 19200, "E", 8, 1)
    connect = rtu_line(port, timeout_s=0.1, longest_answer_s=0.0, opener=lambda settings, wait_s: line)
    client = ModbusClient("played", connect, table, unit)
    client.open()
    return client, line


def framed(pdu: str, unit: int = 0x11) -> str:
    frame = bytes([unit]) + bytes.fromhex(pdu)
    return (frame + crc(frame)).hex()


@pytest.mark.parametrize(
    ("table", "address", "asked", "answered", "registers"),
    [
        # Clause 6.3: registers 108 to 110, which are addresses 107 to 109.
        ("holding", 0x6B, "03 006B 0003", "03 06 022B 0000 0064", (555, 0, 100)),
        # Clause 6.4: input register 9, which is address 8.
        ("input", 0x08, "04 0008 0001", "04 02 000A", (10,)),
    ],
)
def test_the_specifications_examples(
    table: str, address: int, asked: str, answered: str, registers: tuple[int, ...]
) -> None:
    client, line = rtu(framed(answered), table)
    assert client.read(Block(address, len(registers))) == registers
    assert line.sent.hex() == framed(asked)
    client.close()
    assert line.closed


def test_an_exception_is_the_function_with_its_top_bit_and_a_code() -> None:
    client, line = rtu(framed("83 02"), "holding")
    with pytest.raises(PressRefused, match=r"function 3, register 107, with exception 2 \(illegal data address\)"):
        client.read(Block(0x6B, 1))
    assert not line.closed
    client.close()


def test_what_was_answered_before_is_refused_for_now_and_anything_else_for_good() -> None:
    client, line = rtu(framed("03 06 022B 0000 0064"), "holding")
    client.read(Block(0x6B, 3))
    for block, kind in ((Block(0x6B, 3), RefusedForNow), (Block(0x6C, 2), PressRefused)):
        line.sent, line.answer = b"", bytes.fromhex(framed("83 02"))
        with pytest.raises(PressRefused, match=r"exception 2 \(illegal data address\)") as caught:
            client.read(block)
        assert type(caught.value) is kind
        assert ("answered it before" in str(caught.value)) is (kind is RefusedForNow)


def test_a_failure_closes_the_line() -> None:
    client, line = rtu(framed("83 06"), "holding")
    with pytest.raises(PressUnreachable, match=r"exception 6 \(device busy\)"):
        client.read(Block(0x6B, 1))
    assert line.closed


def test_reading_without_a_connection_is_an_error() -> None:
    client = ModbusClient("nowhere:502", tcp_line("nowhere", 502, 1.0), "input", 1)
    with pytest.raises(PressUnreachable, match="nowhere:502 is not connected"):
        client.read(Block(0, 1))
    client.close()


def test_two_tables_two_function_codes() -> None:
    assert FUNCTIONS == {"holding": 3, "input": 4}
