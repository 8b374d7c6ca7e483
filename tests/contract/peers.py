"""A press at the other end of every kind of wire, played: it shows a shot, falls silent, comes back, and notes what was
sent to it.

A new kind of collector needs a line in `PEERS`; a test fails until it is there.
"""

import socketserver
import struct
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import replace
from typing import Any, Protocol

from shotlog.collectors import Options
from tests.collectors.crc import crc
from tests.collectors.folder_press import shared_folder
from tests.collectors.opcua_played import PlayedPress, offered

__all__ = ["PEERS", "WITHOUT_A_WIRE", "Peer"]

FIRST, WORDS = 10, 4
"""Registers of the first channel, and how many each takes: float64 shows any value exactly."""


class Peer(Protocol):
    """One played press. `forbidden`: what was sent to it and was no reading."""

    forbidden: list[bytes]

    def keys(self, units: Mapping[str, str]) -> dict[str, Any]:
        """Return the keys of a collector that reads these channels, each in its unit, from this press."""

    def wired(self, options: Options) -> Options:
        """Return the options with the wire that leads here."""

    def show(self, counter: int, values: Mapping[str, float]) -> None:
        """Make a shot: the press shows it from now on."""

    def garble(self) -> None:
        """Send, once, what is no answer and no shot."""

    def vanish(self) -> None:
        """Be gone, until `come_back`."""

    def come_back(self) -> None:
        """Answer again."""


class Registers:
    """The registers of a press, and the answer to a request for some of them (function codes 3 and 4)."""

    def __init__(self) -> None:
        self.forbidden: list[bytes] = []
        self._words: dict[int, int] = {0: 0}
        self._names: list[str] = []
        self._garbled = False

    def map(self, units: Mapping[str, str]) -> dict[str, Any]:
        """Return the keys that tell where the counter and these channels are."""
        self._names = list(units)
        channels = {
            name: {"address": FIRST + WORDS * n, "type": "float64", "unit": unit}
            for n, (name, unit) in enumerate(units.items())
        }
        return {"shot_counter": {"address": 0, "type": "uint16"}, "channels": channels}

    def show(self, counter: int, values: Mapping[str, float]) -> None:
        """Set the registers."""
        for n, name in enumerate(self._names):
            packed = struct.unpack(">4H", struct.pack(">d", values[name]))
            self._words |= {FIRST + WORDS * n + k: word for k, word in enumerate(packed)}
        self._words[0] = counter

    def garble(self) -> None:
        """Leave most of the next answer out."""
        self._garbled = True

    def answer(self, request: bytes) -> bytes:
        """Return the answer to a request; anything but a reading is noted and refused."""
        function = request[0]
        if function not in (3, 4):
            self.forbidden.append(request)
            return bytes([function | 0x80, 1])
        if self._garbled:
            self._garbled = False
            return bytes([function, 6, 0, 1, 0, 2, 0, 3])
        _, address, count = struct.unpack(">BHH", request)
        words = b"".join(self._words.get(address + n, 0).to_bytes(2, "big") for n in range(count))
        return bytes([function, len(words)]) + words


class _Answering(socketserver.BaseRequestHandler):
    def handle(self) -> None:
        server = self.server
        assert isinstance(server, TcpPeer)
        while len(header := self._exactly(7)) == 7:
            answer = server.registers.answer(self._exactly(int.from_bytes(header[4:6], "big") - 1))
            if server.gone:
                return
            self.request.sendall(header[:4] + (len(answer) + 1).to_bytes(2, "big") + header[6:7] + answer)

    def _exactly(self, count: int) -> bytes:
        data = b""
        while len(data) < count and (chunk := self.request.recv(count - len(data))):
            data += chunk
        return data


class TcpPeer(socketserver.ThreadingTCPServer):
    """A Modbus server on the loopback interface; gone, it hangs up on every request."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), _Answering)
        self.registers = Registers()
        self.forbidden = self.registers.forbidden
        self.show, self.garble = self.registers.show, self.registers.garble
        self.gone = False

    def keys(self, units: Mapping[str, str]) -> dict[str, Any]:
        port = self.server_address[1]
        return {"kind": "modbus-tcp", "host": "127.0.0.1", "port": port, "timeout_s": 5.0, **self.registers.map(units)}

    def wired(self, options: Options) -> Options:
        return options

    def vanish(self) -> None:
        self.gone = True

    def come_back(self) -> None:
        self.gone = False


@contextmanager
def _served() -> Iterator[TcpPeer]:
    with TcpPeer() as press:
        thread = threading.Thread(target=press.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield press
        finally:
            press.shutdown()
            thread.join()


class Port:
    """A serial port in memory; `said` is called with what is written. Gone, it fails as an unplugged adapter does."""

    def __init__(self, said: Callable[[bytes], None]) -> None:
        self.held = b""
        self.gone = False
        self._said = said

    @property
    def in_waiting(self) -> int:
        return len(self.held)

    def read(self, size: int = 1) -> bytes:
        if self.gone:
            raise OSError("unplugged")
        taken, self.held = self.held[:size], self.held[size:]
        return taken

    def write(self, data: bytes) -> int:
        if self.gone:
            raise OSError("unplugged")
        self._said(data)
        return len(data)

    def close(self) -> None:
        """Nothing is held."""


class SerialPeer:
    """What presses on a serial port share: the port, and being unplugged."""

    def __init__(self) -> None:
        self.forbidden: list[bytes] = []
        self.port = Port(self.heard)

    def heard(self, data: bytes) -> None:
        """Take what was sent; a press that only prints is asked nothing."""
        self.forbidden.append(data)

    def wired(self, options: Any) -> Options:
        wired: Options = replace(options, opener=lambda settings, wait_s: self.port)
        return wired

    def vanish(self) -> None:
        self.port.gone = True

    def come_back(self) -> None:
        self.port.gone = False


class RtuPeer(SerialPeer):
    """A Modbus unit on a serial line."""

    def __init__(self) -> None:
        super().__init__()
        self.registers = Registers()
        self.forbidden = self.registers.forbidden
        self.show, self.garble = self.registers.show, self.registers.garble

    def keys(self, units: Mapping[str, str]) -> dict[str, Any]:
        times = {"timeout_s": 0.1, "longest_answer_s": 0.1}
        return {"kind": "modbus-rtu", "port": "played", **times, **self.registers.map(units)}

    def heard(self, data: bytes) -> None:
        answer = data[:1] + self.registers.answer(data[1:-2])
        self.port.held = answer + crc(answer)


class PrintingPeer(SerialPeer):
    """A press that prints a line a shot."""

    def keys(self, units: Mapping[str, str]) -> dict[str, Any]:
        self._names = list(units)
        fields = {name: {"field": n, "unit": unit} for n, (name, unit) in enumerate(units.items(), 2)}
        keys: dict[str, Any] = {"kind": "serial-line", "port": "played", "delimiter": ";", "decimal": "."}
        return keys | {"timeout_s": 0.1, "shot_counter": {"field": 1}, "channels": fields}

    def show(self, counter: int, values: Mapping[str, float]) -> None:
        cells = [str(counter), *(f"{values[name]:.12f}" for name in self._names)]
        self.port.held += ";".join(cells).encode() + b"\r\n"

    def garble(self) -> None:
        self.port.held += b"\x81\xfe8;;0x\x00\r\n"


class EventPeer:
    """A press that sends each cycle as an event; its link, which could send nothing else, is played."""

    def __init__(self) -> None:
        self.forbidden: list[bytes] = []
        self._press = PlayedPress({})
        self._press.has_clock = False
        self._fields: dict[str, str] = {}

    def keys(self, units: Mapping[str, str]) -> dict[str, Any]:
        self._fields = {name: f"InjectionUnitCycleParameters_1/Shown_{name}" for name in units}
        shown = [(path, "Double", units[name]) for name, path in self._fields.items()]
        self._press.fields = offered(("JobCycleCounter", "UInt64", ""), *shown)
        channels = {name: {"name": f"Shown_{name}", "unit": unit} for name, unit in units.items()}
        counter = {"name": "JobCycleCounter"}
        return {"kind": "opcua-40077", "url": "opc.tcp://played:4840", "shot_counter": counter, "channels": channels}

    def wired(self, options: Any) -> Options:
        wired: Options = replace(options, wire=lambda chosen: self._press)
        return wired

    def show(self, counter: int, values: Mapping[str, float]) -> None:
        fields = {path: values[name] for name, path in self._fields.items()}
        self._press.make({"JobCycleCounter": counter, **fields})

    def garble(self) -> None:
        self._press.make({"JobCycleCounter": "----"})

    def vanish(self) -> None:
        self._press.gone = True

    def come_back(self) -> None:
        self._press.gone = False


PEERS: dict[str, Callable[[], AbstractContextManager[Peer]]] = {
    "modbus-tcp": _served,
    "modbus-rtu": lambda: nullcontext(RtuPeer()),
    "serial-line": lambda: nullcontext(PrintingPeer()),
    "euromap63": shared_folder,
    "opcua-40077": lambda: nullcontext(EventPeer()),
}
"""A played press for each kind of collector."""

WITHOUT_A_WIRE = ("recording",)
"""Kinds that are only replayed: there is nothing to connect to."""
