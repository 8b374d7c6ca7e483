"""Modbus TCP over a plain socket: the library makes every frame and reads every answer but the usual one.

The library's client asks the system five things for one answer and writes down each frame for a log that nobody keeps:
three times the work of a bare socket. A request is therefore made by its classes and sent here, and what comes is held
against how the right answer begins and how long it is: transaction, unit, function, count. All else - an exception, an
answer in pieces, of another unit, of no sense at all - is told by the library's framer, as its client would. Nothing
can be sent from here but requests to read (Modbus application protocol specification v1.1b3, clauses 6.3 and 6.4; the
frame: messaging on TCP/IP implementation guide v1.0b, clause 3.1.3).
"""

import socket
from struct import Struct
from time import monotonic
from typing import NamedTuple

from pymodbus.exceptions import ConnectionException, ModbusIOException
from pymodbus.framer import FramerSocket
from pymodbus.pdu import DecodePDU, ModbusPDU
from pymodbus.pdu.register_message import ReadHoldingRegistersRequest, ReadInputRegistersRequest

from shotlog.collectors.modbus_client import Answer, Connect, RegisterSource, Trace, reason
from shotlog.collectors.registers import Block
from shotlog.errors import PressUnreachable

__all__ = ["SocketRegisters", "tcp_line"]

_REQUESTS = {3: ReadHoldingRegistersRequest, 4: ReadInputRegistersRequest}
_LAST_TRANSACTION = 65000
_AT_ONCE = 4096
# Where the registers begin: after transaction, protocol, length, unit, function and the count of bytes.
_REGISTERS_AT = 9


class _Asked(NamedTuple):
    """A request without its frame; how an answer to it goes on after the transaction; its length; its registers."""

    pdu: bytes
    begins: bytes
    length: int
    registers: Struct


def tcp_line(host: str, port: int, timeout_s: float) -> Connect:
    """Return what connects to a Modbus TCP server."""

    def connect(trace: Trace) -> RegisterSource:
        try:
            line = socket.create_connection((host, port), timeout=timeout_s)
        except (OSError, UnicodeError) as error:
            raise PressUnreachable(f"no connection to {host}:{port}: {reason(error)}") from error
        return SocketRegisters(line, timeout_s, trace)

    return connect


class SocketRegisters:
    """The registers behind a connected socket (see `modbus_client.RegisterSource`).

    Parameters
    ----------
    line
        Connected; closed by `close`.
    timeout_s
        How long to wait for the first bytes of an answer, and for the rest of one that comes in pieces.
    trace
        Is shown what came where that is not at once the answer.
    """

    def __init__(self, line: socket.socket, timeout_s: float, trace: Trace) -> None:
        line.settimeout(timeout_s)
        self._line, self._timeout_s, self._trace = line, timeout_s, trace
        self._framer = FramerSocket(DecodePDU(is_server=False))
        self._transaction = 0
        self._asked: dict[tuple[int, int, int, int], _Asked] = {}

    def ask(self, function: int, block: Block, unit: int) -> Answer:
        key = function, block.address, block.words, unit
        asked = self._asked.get(key)
        if asked is None:
            asked = self._asked[key] = self._made(*key)
        self._transaction = transaction = self._transaction % _LAST_TRANSACTION + 1
        request = self._framer.encode(asked.pdu, unit, transaction)
        try:
            self._line.sendall(request)
        except OSError as error:
            raise ModbusIOException("the request could not be sent") from error
        came = self._receive()
        if len(came) == asked.length and came[:2] == request[:2] and came.startswith(asked.begins, 2):
            return asked.registers.unpack_from(came, _REGISTERS_AT)
        return self._told(came, unit, transaction)

    def close(self) -> None:
        self._line.close()

    def _made(self, function: int, address: int, words: int, unit: int) -> _Asked:
        pdu = bytes([function]) + _REQUESTS[function](address=address, count=words).encode()
        right = self._framer.encode(bytes([function, 2 * words, *bytes(2 * words)]), unit, 0)
        return _Asked(pdu, right[2:_REGISTERS_AT], len(right), Struct(f">{words}H"))

    def _receive(self) -> bytes:
        try:
            came = self._line.recv(_AT_ONCE)
        except TimeoutError as error:
            raise ModbusIOException("nothing came in time") from error
        if not came:
            raise ConnectionException("closed")
        return came

    def _told(self, came: bytes, unit: int, transaction: int) -> ModbusPDU:
        """Return what the library finds in what came, and goes on to come."""
        ends = monotonic() + self._timeout_s
        while True:
            used, answer = self._framer.handleFrame(self._trace(False, came), unit, transaction)
            if answer is not None:
                if (answer.dev_id, answer.transaction_id) != (unit, transaction):
                    raise ModbusIOException("an answer to somebody else")
                return answer
            if monotonic() >= ends:
                raise ModbusIOException("no answer in time")
            came = came[used:] + self._receive()
