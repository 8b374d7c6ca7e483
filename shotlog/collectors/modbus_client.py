"""Reads registers of a press, whatever the line beneath. All it can say is "read registers": function codes 3 and 4.

The library is used for framing and on a serial line, and not trusted beyond that (each point measured):

* it accepts an answer with too few registers, one with another function code, and one that says another length than
  it has: all are checked here;
* it retries on its own for twelve seconds: retries are off, policy is the recorder's;
* it says it closed a connection and does not: every failure closes here.

A failure is raised as `PressUnreachable` or `PressRefused`, a refusal of what was answered before as `RefusedForNow`;
bytes that did come and could not be used are kept and handed over by `rejected`.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from pymodbus.exceptions import ModbusException, ModbusIOException
from pymodbus.pdu import ModbusPDU

from shotlog.collectors.registers import Block, wire_bytes
from shotlog.collectors.serial_port import PORT_ERRORS
from shotlog.errors import PressRefused, PressUnreachable, RefusedForNow

__all__ = ["FUNCTIONS", "Answer", "Connect", "ModbusClient", "RegisterSource", "Rejected", "Trace", "reason"]

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
_MAY_START = "a press or gateway that starts does so, and is asked again soon"
# An answer has 260 bytes at most. The library goes on reading as long as bytes come, and shows all it holds at each
# step: one answer that comes byte by byte adds up to half of this.
_MOST_SHOWN = 1 << 16
_ENDLESS = "bytes come without an end, and no answer in them"

_FAILURES: tuple[type[Exception], ...] = (ModbusException, *PORT_ERRORS)


Answer = tuple[int, ...] | ModbusPDU
"""The registers, where what came is the right answer to the last bit; otherwise what the library made of it."""


class RegisterSource(Protocol):
    """A connection that registers are asked of, and nothing else."""

    def ask(self, function: int, block: Block, unit: int) -> Answer:
        """Ask once, by function code 3 or 4, and wait for the answer."""

    def close(self) -> None:
        """Close the socket or port."""


Trace = Callable[[bool, bytes], bytes]
Connect = Callable[[Trace], RegisterSource]
"""Connects and returns what is asked; bytes that came (False) are shown to the trace before they are looked into."""


@dataclass(frozen=True, slots=True)
class Rejected:
    """Bytes that came as an answer and could not be used; `raw` holds the first of many."""

    detail: str
    raw: bytes


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
        self._source: RegisterSource | None = None
        self._received = b""
        self._shown = 0
        self._rejected: list[Rejected] = []
        self._answered: set[Block] = set()

    def open(self) -> None:
        """Connect, unless connected.

        Raises
        ------
        PressUnreachable
            There is no connection to be had.
        """
        # What the library logs as an error is raised here as one, with more to say.
        logging.getLogger("pymodbus.logging").setLevel(logging.CRITICAL)
        if self._source is None:
            self._source = self._connect(self._trace)

    def close(self) -> None:
        """Disconnect; twice is fine."""
        source, self._source = self._source, None
        if source is not None:
            source.close()

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
        RefusedForNow
            It says so of a block that it answered before.
        PressUnreachable
            No answer, a wrong one, or a press that cannot answer now. The connection is closed.
        """
        source = self._source
        if source is None:
            raise PressUnreachable(f"{self._where} is not connected")
        self._received, self._shown = b"", 0
        try:
            answer = source.ask(self._function, block, self._unit)
        except _FAILURES as error:
            raise self._failed(f"no usable answer for {block}", reason(error, bool(self._received))) from error
        registers = answer if isinstance(answer, tuple) else self._checked(answer, block)
        self._answered.add(block)
        return registers

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
        if code in _CHECK and block in self._answered:
            return RefusedForNow(f"{named}, and answered it before: {_MAY_START}; or {_CHECK[code]}")
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


def reason(error: Exception, came: bool = False) -> str:
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
