"""A press on a printer port: a pseudo-terminal, or, where there is none, a TCP socket that serial software opens as
``socket://``.
"""

import asyncio
import os
from datetime import datetime, timedelta

from simulators.disturb import PRINTER_FAULTS, WireFaults
from simulators.faces import collector_table
from simulators.press import PressRun
from simulators.printout import DIALECTS, Dialect, line_pattern, printed

__all__ = ["PtyPrinterFace", "SocketPrinterFace", "has_ptys"]


def has_ptys() -> bool:
    """Say whether this system has pseudo-terminals."""
    return hasattr(os, "openpty")


class _PrinterFace:
    """What both have in common: the lines."""

    kind = "serial-line"

    def __init__(
        self, clock: datetime, dialect: str = "semicolon", first_count: int = 0, faults: WireFaults | None = None
    ) -> None:
        self.shown = 0
        self.dialect: Dialect = DIALECTS[dialect]
        self.baudrate = 9600
        self.faults = faults or WireFaults((), PRINTER_FAULTS)
        self._clock, self._first = clock, first_count

    async def show(self, run: PressRun, index: int) -> None:
        """Print shot `index` (from 0), as the faults let it through."""
        self.shown += 1
        self.faults.shot = index + 1
        wrong = self.faults.active("clock")
        clock = self._clock if wrong is None else self._clock + timedelta(seconds=wrong.seconds)
        line = printed(run, index, self.faults.counter(self._first + index + 1), self.dialect, clock)
        for number, piece in enumerate(self.faults.lines(line)):
            if number:
                await self.faults.pause()
            self.send(piece)

    def send(self, data: bytes) -> None:
        """Send bytes as they are; nobody listening, they are lost, as on a real line."""
        raise NotImplementedError

    def asked(self) -> list[int]:
        """A printer line is asked nothing."""
        return []

    def place(self) -> dict[str, object]:
        """Return where it is."""
        raise NotImplementedError

    def config(self, poll_s: float) -> str:
        """Return the `[press.collector]` table that reads it, as TOML."""
        keys: dict[str, object] = {**self.place(), "poll_s": poll_s, "decimal": self.dialect.decimal}
        keys["skip"] = self.dialect.skip
        measured = [(number, field) for number, field in enumerate(self.dialect.fields, 1) if field.unit]
        fields = [(number, field) for number, field in measured if not field.set_point]
        if not self.dialect.delimiter:
            keys["pattern"] = line_pattern(self.dialect)
            return collector_table(keys, "", {field.channel: f'{{ unit = "{field.unit}" }}' for _, field in fields})
        keys["delimiter"] = self.dialect.delimiter.strip(" ")
        keys["fields"] = len(self.dialect.fields)
        channels = {field.channel: f'{{ field = {number}, unit = "{field.unit}" }}' for number, field in fields}
        settings = {
            field.set_point: f'{{ field = {number}, unit = "{field.unit}" }}'
            for number, field in measured
            if field.set_point
        }
        return collector_table(keys, "{ field = 1 }", channels, settings)


class PtyPrinterFace(_PrinterFace):
    """The printer port on a pseudo-terminal."""

    def __init__(
        self, clock: datetime, dialect: str = "semicolon", first_count: int = 0, faults: WireFaults | None = None
    ) -> None:
        super().__init__(clock, dialect, first_count, faults)
        self.port = ""
        self._ends: tuple[int, ...] = ()

    async def open(self) -> None:
        import tty

        ours, theirs = os.openpty()
        self._ends = (ours, theirs)
        tty.setraw(theirs)
        os.set_blocking(ours, False)
        self.port = os.ttyname(theirs)

    def send(self, data: bytes) -> None:
        try:
            os.write(self._ends[0], data)
        except BlockingIOError:
            return

    async def close(self) -> None:
        ends, self._ends = self._ends, ()
        for end in ends:
            os.close(end)

    def place(self) -> dict[str, object]:
        return {
            "kind": self.kind,
            "port": self.port,
            "baudrate": self.baudrate,
            "parity": "N",
            "bytesize": 8,
            "stopbits": 1,
        }


class SocketPrinterFace(_PrinterFace):
    """The printer port behind a serial-to-Ethernet adapter."""

    def __init__(
        self, clock: datetime, dialect: str = "semicolon", first_count: int = 0, faults: WireFaults | None = None
    ) -> None:
        super().__init__(clock, dialect, first_count, faults)
        self.port = 0
        self._server: asyncio.Server | None = None
        self._writers: set[asyncio.StreamWriter] = set()

    @property
    def heard(self) -> bool:
        """Whether somebody listens."""
        return bool(self._writers)

    async def open(self) -> None:
        self._server = await asyncio.start_server(self._connected, "127.0.0.1", self.port)
        self.port = self._server.sockets[0].getsockname()[1]

    def send(self, data: bytes) -> None:
        for writer in list(self._writers):
            if writer.is_closing():
                self._writers.discard(writer)
            else:
                writer.write(data)

    async def close(self) -> None:
        if self._server is None:
            return
        self._server.close()
        for writer in list(self._writers):
            writer.close()
        self._writers.clear()
        await self._server.wait_closed()
        self._server = None

    def place(self) -> dict[str, object]:
        return {"kind": self.kind, "port": f"socket://127.0.0.1:{self.port}", "baudrate": self.baudrate}

    async def _connected(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self._writers.add(writer)
        while await reader.read(4096):
            continue
        self._writers.discard(writer)
        writer.close()
