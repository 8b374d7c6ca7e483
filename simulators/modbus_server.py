"""A press on Modbus: TCP, or RTU on a pseudo-terminal, both served by pymodbus.

A block is put in place in one step of the event loop, between two requests, so no read can see half of it: torn reads
exist only where a fault makes them. Registers are read-only; a write is refused with exception 2 and shows in
`asked`.
"""

import asyncio
import os
from typing import Any

from pymodbus.constants import ExcCodes
from pymodbus.framer import FramerType
from pymodbus.pdu import ModbusPDU
from pymodbus.server import ModbusSerialServer, ModbusTcpServer
from pymodbus.simulator import DataType, SimData, SimDevice

from simulators.disturb import WireFaults
from simulators.faces import FaceError, collector_table
from simulators.press import PressRun
from simulators.registers import (
    INSERT_TEMPERATURE,
    N_WORDS,
    SENTINEL,
    RegisterEntry,
    channel_entries,
    filler_words,
    set_point_entries,
    swapped_words,
    words,
)

__all__ = ["ModbusRtuFace", "ModbusTcpFace"]

_TORN_READS = 2
_HALF = 14
"""Words that a torn reading has of the new shot."""


class _ModbusFace:
    """What both have in common: the words, the faults, and the functions asked for."""

    kind = ""

    def __init__(self, unit: int = 1, first_count: int = 0, faults: WireFaults | None = None) -> None:
        self.unit, self.shown = unit, 0
        self.words = [0] * N_WORDS
        self.faults = faults or WireFaults()
        self._old = self.words
        self._since = 0.0
        self._torn_left = 0
        self._first = first_count
        self._functions: set[int] = set()
        self._server: Any = None

    async def show(self, run: PressRun, index: int) -> None:
        """Put shot `index` (from 0) on the registers, and open or close the door to them as the faults want it."""
        self.shown += 1
        faults = self.faults
        faults.shot = index + 1
        new = words(run, index, faults.counter(self._first + index + 1), self.shown)
        self._old, self.words = self.words, self._falsified(new)
        self._since = asyncio.get_running_loop().time()
        self._torn_left = _TORN_READS if faults.active("torn") else 0
        if faults.active("refused") and self._server is not None:
            await self._shut()
        elif not faults.active("refused") and self._server is None:
            await self._start()

    def _falsified(self, new: list[int]) -> list[int]:
        """The words of a shot as the faults leave them."""
        faults = self.faults
        if faults.active("frozen"):
            new = [*new[:2], *self.words[2:]]
        if faults.active("filler"):
            new = [*new[:2], *filler_words()[2:]]
        if faults.active("sentinel"):
            new = [*new[:INSERT_TEMPERATURE], SENTINEL, *new[INSERT_TEMPERATURE + 1 :]]
        if faults.active("swapped"):
            new = swapped_words(new)
        if faults.active("one-based"):
            new = [0, *new[:-1]]
        return new

    def asked(self) -> list[int]:
        """Return the function codes asked for."""
        return sorted(self._functions)

    async def close(self) -> None:
        """Stop serving."""
        await self._shut()

    def place(self) -> dict[str, object]:
        """Return where it is."""
        raise NotImplementedError

    def config(self, poll_s: float, set_points: bool = False) -> str:
        """Return the `[press.collector]` table that reads it, as TOML; with what it is set to where that is asked."""
        keys = {**self.place(), "poll_s": poll_s, "timeout_s": 1.0, "table": "holding", "word_order": "big"}
        channels = {entry.channel: _table(entry) for entry in channel_entries()}
        settings = {entry.name.replace(" ", "_"): _table(entry) for entry in set_point_entries() if set_points}
        return collector_table(keys, '{ address = 0, type = "uint32" }', channels, settings)

    async def _start(self) -> None:
        raise NotImplementedError

    async def _shut(self) -> None:
        if self._server is not None:
            server, self._server = self._server, None
            await server.shutdown()

    def _device(self) -> SimDevice:
        block = SimData(0, values=[0] * N_WORDS, datatype=DataType.REGISTERS, readonly=True)
        return SimDevice(id=self.unit, simdata=[block], action=self._answer)

    async def _answer(
        self, function_code: int, start: int, address: int, count: int, registers: list[int], values: object
    ) -> ExcCodes | None:
        slow, exception = self.faults.active("slow"), self.faults.active("exception")
        if slow is not None:
            await asyncio.sleep(slow.seconds)
        registers[:N_WORDS] = self._seen(address, count)
        return None if exception is None else ExcCodes(exception.code)

    def _seen(self, address: int, count: int) -> list[int]:
        """The words as a read finds them now."""
        delayed = self.faults.active("delayed")
        if delayed is not None and asyncio.get_running_loop().time() - self._since < delayed.seconds:
            return [*self.words[:2], *self._old[2:]]
        if self._torn_left and address + count > _HALF:
            self._torn_left -= 1
            return [*self.words[:_HALF], *self._old[_HALF:]]
        return self.words

    def _pdu(self, sending: bool, pdu: ModbusPDU) -> ModbusPDU:
        if not sending:
            self._functions.add(pdu.function_code)
        elif self.faults.active("short") and len(pdu.registers) > 1:
            pdu.registers = pdu.registers[:-1]
        return pdu

    def _packet(self, sending: bool, data: bytes) -> bytes:
        if not sending:
            return data
        if self.faults.active("half-open"):
            return b""
        if self.faults.active("garbage"):
            return self.faults.noise(len(data))
        return self.faults.flipped(data) if self.faults.active("bit-errors") else data


class ModbusTcpFace(_ModbusFace):
    """Modbus TCP on a free port of the loopback address (or the port given)."""

    kind = "modbus-tcp"

    def __init__(self, unit: int = 1, first_count: int = 0, faults: WireFaults | None = None, port: int = 0) -> None:
        super().__init__(unit, first_count, faults)
        self.host, self.port = "127.0.0.1", port

    async def open(self) -> None:
        """Start serving."""
        await self._start()

    def place(self) -> dict[str, object]:
        """Return host, port and unit."""
        return {"kind": self.kind, "host": self.host, "port": self.port, "unit": self.unit}

    async def _start(self) -> None:
        server = ModbusTcpServer(
            self._device(), address=(self.host, self.port), trace_pdu=self._pdu, trace_packet=self._packet
        )
        await server.serve_forever(background=True)
        self._server = server
        listening: Any = server.transport  # an asyncio.Server, whatever its annotation says
        self.port = listening.sockets[0].getsockname()[1]


class ModbusRtuFace(_ModbusFace):
    """Modbus RTU on a pseudo-terminal: two of them back to back, the server on one, the logger on the other."""

    kind = "modbus-rtu"

    def __init__(
        self, unit: int = 1, first_count: int = 0, faults: WireFaults | None = None, baudrate: int = 19200
    ) -> None:
        super().__init__(unit, first_count, faults)
        self.port, self.baudrate = "", baudrate
        self._inner_port = ""
        self._ends: list[int] = []

    async def open(self) -> None:
        """Make the pseudo-terminals and start serving.

        Raises
        ------
        FaceError
            This system has none.
        """
        try:
            import tty
        except ImportError as error:
            raise FaceError("modbus-rtu: given a system without pseudo-terminals, allowed: modbus-tcp") from error
        inner, inner_name = os.openpty()
        outer, outer_name = os.openpty()
        self._ends = [inner, inner_name, outer, outer_name]
        for end in (inner_name, outer_name):
            tty.setraw(end)
        for end in (inner, outer):
            os.set_blocking(end, False)
        loop = asyncio.get_running_loop()
        loop.add_reader(inner, self._carry, inner, outer)
        loop.add_reader(outer, self._carry, outer, inner)
        self.port, self._inner_port = os.ttyname(outer_name), os.ttyname(inner_name)
        await self._start()

    async def close(self) -> None:
        """Stop serving and give the pseudo-terminals back."""
        await super().close()
        loop = asyncio.get_running_loop()
        ends, self._ends = self._ends, []
        for end in ends[::2]:
            loop.remove_reader(end)
        for end in ends:
            os.close(end)

    def place(self) -> dict[str, object]:
        """Return port, unit and line settings."""
        line = {"baudrate": self.baudrate, "parity": "N", "bytesize": 8, "stopbits": 1}
        return {"kind": self.kind, "port": self.port, "unit": self.unit, **line}

    async def _start(self) -> None:
        server = ModbusSerialServer(
            self._device(),
            framer=FramerType.RTU,
            port=self._inner_port,
            baudrate=self.baudrate,
            trace_pdu=self._pdu,
            trace_packet=self._packet,
        )
        await server.serve_forever(background=True)
        self._server = server

    def _carry(self, source: int, target: int) -> None:
        try:
            os.write(target, os.read(source, 4096))
        except BlockingIOError:
            return


def _table(entry: RegisterEntry) -> str:
    place = f'address = {entry.address}, type = "{entry.type}"'
    return f'{{ {place}, scale = {entry.scale:g}, unit = "{entry.unit}" }}'
