"""The one place that talks Modbus, and all it can say is "read registers": function codes 3 and 4.

The library is used for framing and for its socket handling, and not trusted beyond that (each point measured):

* it accepts an answer with too few registers, one with another function code, and one that says another length than
  it has: all are checked here;
* it retries on its own for twelve seconds: retries are off, policy is the recorder's;
* it says it closed a connection and does not: every failure closes here;
* on a serial line an answer carries nothing that tells which request it belongs to. One late answer is taken for the
  next one, whose answer for the one after, and so on for ever, each looking perfect. After every opening - and every
  failure leads to one - input is therefore thrown away for as long as the slowest answer can take.

A failure is raised as `PressUnreachable` or `PressRefused`; bytes that did come and could not be used are kept
and handed over by `rejected`.
"""

import logging
import socket
from collections.abc import Callable
from dataclasses import dataclass
from math import ceil
from typing import Protocol

from pymodbus import FramerType
from pymodbus.client import ModbusSerialClient, ModbusTcpClient
from pymodbus.exceptions import ModbusException, ModbusIOException
from pymodbus.pdu import ModbusPDU

from shotlog.collectors.registers import Block, wire_bytes
from shotlog.collectors.serial_port import PORT_ERRORS, Opener, PortSettings, open_port
from shotlog.errors import PressRefused, PressUnreachable

__all__ = ["FUNCTIONS", "Connect", "ModbusClient", "Rejected", "rtu_line", "tcp_line"]

FUNCTIONS = {"holding": 3, "input": 4}
"""Function code of each table of registers."""

_NAMES = {
    1: "illegal function",
    2: "illegal data address",
    3: "illegal data value",
    4: "device failure",
    5: "acknowledged, still working",
    6: "device busy",
    10: "gateway path unavailable",
    11: "gateway target does not respond",
}
_CHECK = {
    1: "check table (holding or input)",
    2: "check the addresses (they count from 0), types, max_gap and the unit",
    3: "check the addresses and types",
}
# A read of the port waits so long; more bytes than a line brings in that time.
_LISTEN_S = 0.05
_LISTEN_BYTES = 1 << 16
# An answer has 260 bytes at most. The library goes on reading as long as bytes come, and shows all it holds at each
# step: one answer that comes byte by byte adds up to half of this.
_MOST_SHOWN = 1 << 16
_ENDLESS = "bytes come without an end, and no answer in them"

_FAILURES: tuple[type[Exception], ...] = (ModbusException, *PORT_ERRORS)


class RegisterSource(Protocol):
    """The part of the library's client that is used: reading, and nothing that writes."""

    def read_holding_registers(self, address: int, *, count: int, device_id: int) -> ModbusPDU:
        """Function code 3."""

    def read_input_registers(self, address: int, *, count: int, device_id: int) -> ModbusPDU:
        """Function code 4."""

    def close(self) -> None:
        """Close the socket or port."""


Trace = Callable[[bool, bytes], bytes]
Connect = Callable[[Trace], RegisterSource]
"""Connects and returns the library's client; bytes sent and received are shown to the trace."""


@dataclass(frozen=True, slots=True)
class Rejected:
    """Bytes that came as an answer and could not be used; `raw` holds the first of many."""

    detail: str
    raw: bytes


def tcp_line(host: str, port: int, timeout_s: float) -> Connect:
    """Return what connects to a Modbus TCP server."""

    def connect(trace: Trace) -> RegisterSource:
        client = ModbusTcpClient(host, port=port, timeout=timeout_s, retries=0, trace_packet=trace)
        try:
            # Opened here and not by the library, which keeps the reason of a failure to itself.
            client.socket = socket.create_connection((host, port), timeout=timeout_s)
        except (OSError, UnicodeError) as error:
            raise PressUnreachable(f"no connection to {host}:{port}: {_reason(error)}") from error
        return client

    return connect


def rtu_line(port: PortSettings, timeout_s: float, longest_answer_s: float, opener: Opener = open_port) -> Connect:
    """Return what opens a Modbus RTU line and listens until no late answer can come any more."""

    def connect(trace: Trace) -> RegisterSource:
        client = ModbusSerialClient(
            port.name,
            framer=FramerType.RTU,
            baudrate=port.baudrate,
            bytesize=port.bytesize,
            parity=port.parity,
            stopbits=int(port.stopbits),
            timeout=timeout_s,
            retries=0,
            trace_packet=trace,
        )
        # The port is opened as it stays: changing a time-out later sets everything anew, which a port that can do
        # no parity refuses. The library itself reads only what has come.
        line = opener(port, _LISTEN_S)
        try:
            heard = [line.read(_LISTEN_BYTES) for _ in range(max(1, ceil(longest_answer_s / _LISTEN_S)))]
        except PORT_ERRORS as error:
            line.close()
            raise PressUnreachable(f"serial port {port} was lost: {error}") from error
        if heard[-1]:
            line.close()
            raise PressUnreachable(f"serial port {port} does not fall silent: is there another master on the line?")
        client.socket = line
        return client

    return connect


class ModbusClient:
    """Reads registers of one unit, one request at a time.

    Parameters
    ----------
    where
        How messages name the other end.
    table
        ``holding`` or ``input``.
    """

    def __init__(self, where: str, connect: Connect, table: str, unit: int) -> None:
        self._where, self._connect, self._unit = where, connect, unit
        self._function = FUNCTIONS[table]
        self._client: RegisterSource | None = None
        self._received = b""
        self._shown = 0
        self._rejected: list[Rejected] = []

    def open(self) -> None:
        """Connect, unless connected.

        Raises
        ------
        PressUnreachable
            There is no connection to be had.
        """
        # What the library logs as an error is raised here as one, with more to say.
        logging.getLogger("pymodbus.logging").setLevel(logging.CRITICAL)
        if self._client is None:
            self._client = self._connect(self._trace)

    def close(self) -> None:
        """Disconnect; twice is fine."""
        client, self._client = self._client, None
        if client is not None:
            client.close()

    def rejected(self) -> list[Rejected]:
        """Hand over the answers that could not be used, once."""
        taken, self._rejected = self._rejected, []
        return taken

    def read(self, block: Block) -> tuple[int, ...]:
        """Return the registers of one block.

        Raises
        ------
        PressRefused
            The press says it has no such function, address or value. The connection stays.
        PressUnreachable
            No answer, a wrong one, or a press that cannot answer now. The connection is closed.
        """
        client = self._client
        if client is None:
            raise PressUnreachable(f"{self._where} is not connected")
        self._received, self._shown = b"", 0
        ask = client.read_holding_registers if self._function == 3 else client.read_input_registers
        try:
            answer = ask(block.address, count=block.words, device_id=self._unit)
        except _FAILURES as error:
            raise self._failed(f"no usable answer for {block}", _reason(error, bool(self._received))) from error
        return self._checked(answer, block)

    def _checked(self, answer: ModbusPDU, block: Block) -> tuple[int, ...]:
        if answer.isError():
            if answer.function_code != self._function | 0x80:
                raise self._failed(f"wrong answer for {block}", f"function code {answer.function_code}")
            raise self._exception(answer.exception_code, block)
        if answer.function_code != self._function:
            raise self._failed(
                f"wrong answer for {block}", f"function code {answer.function_code} instead of {self._function}"
            )
        if len(answer.registers) != block.words:
            raise self._failed(
                f"wrong answer for {block}", f"{len(answer.registers)} registers instead of {block.words}"
            )
        written = bytes([self._unit, self._function, 2 * block.words]) + wire_bytes(answer.registers)
        if written not in self._received:
            # the library takes an odd number of bytes for half as many registers
            raise self._failed(f"wrong answer for {block}", f"it says another length than {2 * block.words} bytes")
        return tuple(answer.registers)

    def _exception(self, code: int, block: Block) -> PressRefused | PressUnreachable:
        said = f"{self._where} unit {self._unit} answers function {self._function}, {block}, with exception {code}"
        named = f"{said} ({_NAMES.get(code, 'not in the standard')})"
        if code in _CHECK:
            return PressRefused(f"{named}: {_CHECK[code]}")
        self.close()
        return PressUnreachable(named)

    def _failed(self, what: str, why: str) -> PressUnreachable:
        self.close()
        if self._received:
            self._rejected.append(Rejected(f"{what}: {why}", self._received))
        return PressUnreachable(f"{self._where} unit {self._unit}: {what}: {why}")

    def _trace(self, sending: bool, data: bytes) -> bytes:
        if not sending:
            self._received = data
            self._shown += len(data)
            if self._shown > _MOST_SHOWN:
                raise ModbusIOException(_ENDLESS)
        return data


def _reason(error: Exception, came: bool = False) -> str:
    """Say in our own words what went wrong; `came`: some bytes did. The library's words tell of its workings."""
    if isinstance(error, ModbusException):
        if _ENDLESS in error.string:
            return _ENDLESS
        if "closed" in error.string.lower():
            return "the connection was closed"
        return "nothing valid came in time" if came else "the press does not answer"
    if isinstance(error, TimeoutError):
        return "timed out"
    return (isinstance(error, OSError) and error.strerror) or str(error)
