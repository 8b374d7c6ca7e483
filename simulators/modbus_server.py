"""A press on Modbus: TCP, or RTU on a pseudo-terminal, both served by pymodbus.

A block is put in place in one step of the event loop, between two requests, so no read can see half of it: torn reads
exist only where a disturbance makes them. Registers are read-only; a write is refused with exception 2 and shows in
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

from simulators.faces import FaceError, collector_table
from simulators.press import Run
from simulators.registers import N_WORDS, channel_entries, words

__all__ = ["ModbusRtuFace", "ModbusTcpFace"]


class _ModbusFace:
    """What both have in common: the words, and the functions asked for."""

    kind = ""

    def __init__(self, unit: int = 1, first_count: int = 0) -> None:
        self.unit, self.shown = unit, 0
        self.words = [0] * N_WORDS
        self._first = first_count
        self._functions: set[int] = set()
        self._server: Any = None

    def show(self, run: Run, index: int) -> None:
        self.shown += 1
        self.words = words(run, index, self._first + index + 1, self.shown)

    def asked(self) -> list[int]:
        return sorted(self._functions)

    async def close(self) -> None:
        if self._server is not None:
            server, self._server = self._server, None
            await server.shutdown()

    def place(self) -> dict[str, object]:
        raise NotImplementedError

    def config(self, poll_s: float) -> str:
        """Return the `[press.collector]` table that reads it, as TOML."""
        keys = {**self.place(), "poll_s": poll_s, "timeout_s": 1.0, "table": "holding", "word_order": "big"}
        channels = {
            entry.channel: f'{{ address = {entry.address}, type = "{entry.type}", '
            f'scale = {entry.scale:g}, unit = "{entry.unit}" }}'
            for entry in channel_entries()
        }
        return collector_table(keys, '{ address = 0, type = "uint32" }', channels)

    def _device(self) -> SimDevice:
        block = SimData(0, values=[0] * N_WORDS, datatype=DataType.REGISTERS, readonly=True)
        return SimDevice(id=self.unit, simdata=[block], action=self._answer)

    async def _answer(
        self, function_code: int, start: int, address: int, count: int, registers: list[int], values: object
    ) -> ExcCodes | None:
        registers[: len(self.words)] = self.words
        return None

    def _note(self, sending: bool, pdu: ModbusPDU) -> ModbusPDU:
        if not sending:
            self._functions.add(pdu.function_code)
        return pdu


class ModbusTcpFace(_ModbusFace):
    """Modbus TCP on a free port of the loopback address (or the port given)."""

    kind = "modbus-tcp"

    def __init__(self, unit: int = 1, first_count: int = 0, port: int = 0) -> None:
        super().__init__(unit, first_count)
        self.host, self.port = "127.0.0.1", port

    async def open(self) -> None:
        self._server = ModbusTcpServer(self._device(), address=(self.host, self.port), trace_pdu=self._note)
        await self._server.serve_forever(background=True)
        self.port = self._server.transport.sockets[0].getsockname()[1]

    def place(self) -> dict[str, object]:
        return {"kind": self.kind, "host": self.host, "port": self.port, "unit": self.unit}


class ModbusRtuFace(_ModbusFace):
    """Modbus RTU on a pseudo-terminal: two of them back to back, the server on one, the logger on the other."""

    kind = "modbus-rtu"

    def __init__(self, unit: int = 1, first_count: int = 0, baudrate: int = 19200) -> None:
        super().__init__(unit, first_count)
        self.port, self.baudrate = "", baudrate
        self._ends: list[int] = []

    async def open(self) -> None:
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
        self.port = os.ttyname(outer_name)
        self._server = ModbusSerialServer(
            self._device(),
            framer=FramerType.RTU,
            port=os.ttyname(inner_name),
            baudrate=self.baudrate,
            trace_pdu=self._note,
        )
        await self._server.serve_forever(background=True)

    async def close(self) -> None:
        await super().close()
        loop = asyncio.get_running_loop()
        ends, self._ends = self._ends, []
        for end in ends[::2]:
            loop.remove_reader(end)
        for end in ends:
            os.close(end)

    def place(self) -> dict[str, object]:
        return {
            "kind": self.kind,
            "port": self.port,
            "unit": self.unit,
            "baudrate": self.baudrate,
            "parity": "N",
            "bytesize": 8,
            "stopbits": 1,
        }

    def _carry(self, source: int, target: int) -> None:
        try:
            os.write(target, os.read(source, 4096))
        except BlockingIOError:
            return
