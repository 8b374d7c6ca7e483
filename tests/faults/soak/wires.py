"""The presses' ends of three wires, byte by byte: Modbus TCP, Modbus RTU and a printed line on pseudo-terminals.

A wire does what its `wrong` says: a fault is on while its name stands there.
"""

import contextlib
import os
import random
import select
import socket
import struct
import threading
import time
import tty
from pathlib import Path
from typing import Any, Protocol

from tests.collectors.crc import crc
from tests.faults.soak.truth import Made, TruePress, true_values

__all__ = ["Printer", "RtuUnit", "TcpUnit", "Wire"]


class Wire(Protocol):
    """One press on a wire."""

    press: TruePress
    wrong: dict[str, float]

    def show(self, made: Made) -> None:
        """Put a shot on the wire, where the press has to say it by itself."""

    def config(self) -> str:
        """Return its table for the configuration."""

    def close(self) -> None:
        """Be gone."""


_MAP = """
    [press.collector.channels]
    cushion       = { address = 1, type = "int16", scale = 0.01, unit = "mm" }
    peak_pressure = { address = 2, type = "uint16", scale = 0.1, unit = "bar" }
    fill_time     = { address = 3, type = "float32", unit = "s" }
    recovery_time = { address = 5, type = "uint16", scale = 0.1, unit = "s" }
"""
_WORDS = 6


def _words(made: Made) -> list[int]:
    value = true_values(made.n)
    fill = struct.unpack(">2H", struct.pack(">f", value["fill_time"]))
    return [
        made.counter,
        round(value["cushion"] * 100),
        round(value["peak_pressure"] * 10),
        *fill,
        round(value["recovery_time"] * 10),
    ]


class _Unit:
    """The registers of a press and the answer to a request for some of them."""

    def __init__(self, press: TruePress, seed: int) -> None:
        self.press = press
        self.wrong: dict[str, float] = {}
        self.chance = random.Random(seed)

    def show(self, made: Made) -> None:
        """A register waits to be read."""

    def answer(self, request: bytes) -> bytes | None:
        """Return the answer to function code, address and count; None is silence."""
        function, address, count = struct.unpack(">BHH", request[:5])
        press = self.press
        with press.guard:
            if self.wrong:
                press.now.spoilt = True
            if "silence" in self.wrong:
                return None
            if "exception" in self.wrong:
                return bytes([function | 0x80, 6])
            if function not in (3, 4) or address + count > _WORDS:
                return bytes([function | 0x80, 2 if function in (3, 4) else 1])
            words = _words(press.now)
            if "torn" in self.wrong and count > 1 and self.chance.random() < 0.5:
                words[3:] = _words(press.make())[3:]  # the press writes in the middle of the read
                press.now.spoilt = True
            else:
                press.now.answers += 1
            data = b"".join(word.to_bytes(2, "big") for word in words[address : address + count])
            return bytes([function, len(data)]) + data

    def pace(self) -> None:
        """Answer late where that is what is wrong."""
        if "slow" in self.wrong:
            time.sleep(self.wrong["slow"])


class TcpUnit(_Unit):
    """Modbus TCP on the loopback interface."""

    def __init__(self, press: TruePress, seed: int) -> None:
        super().__init__(press, seed)
        self._listener: socket.socket | None = None
        self._open: list[socket.socket] = []
        self._ended = threading.Event()
        self.port = 0
        self._listen()
        threading.Thread(target=self._serve, daemon=True).start()

    def config(self) -> str:
        return f"""
[[press]]
name = "{self.press.name}"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = {self.port}
  poll_s = 0.02
  timeout_s = 0.5
  shot_counter = {{ address = 0, type = "uint16", last_count = {self.press.last_count} }}{_MAP}"""

    def _listen(self) -> None:
        self._listener = socket.create_server(("127.0.0.1", self.port), reuse_port=False)
        self.port = self._listener.getsockname()[1]

    def _serve(self) -> None:
        while not self._ended.is_set():
            if "refused" in self.wrong:
                self._hang_up()
                self._ended.wait(0.01)
                continue
            if self._listener is None:
                with contextlib.suppress(OSError):
                    self._listen()
            if self._listener and select.select([self._listener], [], [], 0.02)[0]:
                with contextlib.suppress(OSError):
                    peer, _ = self._listener.accept()
                    self._open.append(peer)
                    threading.Thread(target=self._talk, args=(peer,), daemon=True).start()
        self._hang_up()

    def _hang_up(self) -> None:
        if self._listener is not None:
            self._listener.close()
            self._listener = None
        for peer in self._open:
            with contextlib.suppress(OSError):
                peer.shutdown(socket.SHUT_RDWR)
            peer.close()
        self._open.clear()

    def _talk(self, peer: socket.socket) -> None:
        with contextlib.suppress(OSError, ValueError):
            while not self._ended.is_set():
                if "flood" in self.wrong:
                    self.press.now.spoilt = True
                    peer.sendall(self.chance.randbytes(1200))
                    self._ended.wait(0.1)
                if not select.select([peer], [], [], 0.05)[0]:
                    continue
                header = self._exactly(peer, 7)
                body = self._exactly(peer, int.from_bytes(header[4:6], "big") - 1)
                self.pace()
                answer = self.answer(body)
                if answer is None:
                    continue
                frame = header[:4] + (len(answer) + 1).to_bytes(2, "big") + header[6:7] + answer
                if "torrent" in self.wrong:
                    for _ in range(64):
                        peer.sendall(self.chance.randbytes(1 << 16))
                if "drop" in self.wrong and self.chance.random() < 0.3:
                    peer.sendall(frame[: self.chance.randrange(len(frame))])
                    peer.close()
                    return
                if "noise" in self.wrong and self.chance.random() < 0.5:
                    frame = self.chance.randbytes(self.chance.randint(1, 300))
                peer.sendall(frame)

    @staticmethod
    def _exactly(peer: socket.socket, count: int) -> bytes:
        data = b""
        while len(data) < count:
            chunk = peer.recv(count - len(data))
            if not chunk:
                raise OSError("closed")
            data += chunk
        return data

    def close(self) -> None:
        self._ended.set()


class _Port:
    """A serial port that can be unplugged: a pseudo-terminal behind a name that stays."""

    def __init__(self, name: Path) -> None:
        self.name = name
        self.far = self.near = -1
        self._guard = threading.Lock()  # a number given back is given out again: nobody may write to a closed one
        self.plug()

    def plug(self) -> None:
        self.far, self.near = os.openpty()
        tty.setraw(self.near)
        tty.setraw(self.far)
        os.set_blocking(self.far, False)
        self.name.unlink(missing_ok=True)
        self.name.symlink_to(os.ttyname(self.near))

    def unplug(self) -> None:
        with self._guard:
            self.name.unlink(missing_ok=True)
            for fd in (self.far, self.near):
                if fd >= 0:
                    os.close(fd)
            self.far = self.near = -1

    def read(self, wait_s: float) -> bytes:
        if self.far < 0:
            time.sleep(wait_s)
            return b""
        with contextlib.suppress(OSError, ValueError):
            if select.select([self.far], [], [], wait_s)[0]:
                with self._guard:
                    return os.read(self.far, 4096) if self.far >= 0 else b""
        return b""

    def write(self, data: bytes) -> bool:
        """Return whether all of it went on the wire: nobody waits for a reader."""
        with self._guard:
            try:
                return self.far >= 0 and os.write(self.far, data) == len(data)
            except OSError:
                return False


class RtuUnit(_Unit):
    """Modbus RTU, unit 1."""

    def __init__(self, press: TruePress, seed: int, folder: Path) -> None:
        super().__init__(press, seed)
        self._port = _Port(folder / f"{press.name}.port")
        self._ended = threading.Event()
        threading.Thread(target=self._talk, daemon=True).start()

    def config(self) -> str:
        return f"""
[[press]]
name = "{self.press.name}"
  [press.collector]
  kind = "modbus-rtu"
  port = "{self._port.name.as_posix()}"
  baudrate = 19200
  parity = "N"
  poll_s = 0.02
  timeout_s = 0.3
  shot_counter = {{ address = 0, type = "uint16", last_count = {self.press.last_count} }}{_MAP}"""

    def _talk(self) -> None:
        held = b""
        while not self._ended.is_set():
            if "unplugged" in self.wrong:
                if self._port.far >= 0:
                    self._port.unplug()
                self.press.now.spoilt = True
                self._ended.wait(0.02)
                continue
            if self._port.far < 0:
                self._port.plug()
            if "flood" in self.wrong:
                self.press.now.spoilt = True
                self._port.write(self.chance.randbytes(110))
                self._ended.wait(0.01)
            held = (held + self._port.read(0.02))[-64:]
            while len(held) >= 8 and (held[0] != 1 or crc(held[:6]) != held[6:8]):
                held = held[1:]
            if len(held) < 8:
                continue
            request, held = held[1:6], held[8:]
            self.pace()
            answer = self.answer(request)
            if answer is None:
                continue
            frame = b"\x01" + answer
            frame += crc(frame)
            if "noise" in self.wrong and self.chance.random() < 0.4:
                at = self.chance.randrange(len(frame))
                frame = frame[:at] + bytes([frame[at] ^ 1 << self.chance.randrange(8)]) + frame[at + 1 :]
            if "drop" in self.wrong and self.chance.random() < 0.3:
                frame = frame[: self.chance.randrange(len(frame))]
            self._port.write(frame)
        self._port.unplug()

    def close(self) -> None:
        self._ended.set()


class Printer:
    """A press that prints a line a shot, with a decimal comma."""

    _NOISE = bytes({*range(0x80, 0x100), *b"\x00\x07~#?!"})
    """Bytes that make no number: a line without a checksum cannot tell a digit from a digit."""

    def __init__(self, press: TruePress, seed: int, folder: Path) -> None:
        self.press = press
        self.wrong: dict[str, float] = {}
        self.chance = random.Random(seed)
        self._port = _Port(folder / f"{press.name}.port")
        self._ended = threading.Event()
        threading.Thread(target=self._chatter, daemon=True).start()

    def config(self) -> str:
        return f"""
[[press]]
name = "{self.press.name}"
  [press.collector]
  kind = "serial-line"
  port = "{self._port.name.as_posix()}"
  delimiter = ";"
  decimal = ","
  shot_counter = {{ field = 1, last_count = {self.press.last_count} }}
    [press.collector.channels]
    fill_time     = {{ field = 2, unit = "s" }}
    peak_pressure = {{ field = 3, unit = "bar" }}
    cushion       = {{ field = 4, unit = "mm" }}
    recovery_time = {{ field = 5, unit = "s" }}
"""

    def show(self, made: Made) -> None:
        if "silence" in self.wrong or "unplugged" in self.wrong:
            made.spoilt = True
            return
        value = true_values(made.n)
        cells = [f"{value['fill_time']:.3f}", f"{value['peak_pressure']:.1f}", f"{value['cushion']:.2f}"]
        cells.append(f"{value['recovery_time']:.1f}")
        if "unreadable" in self.wrong:
            made.unreadable = ("cushion",)
            cells[2] = self.chance.choice(["ERR", "----", "inf", "****", ">999"])
        line = f"{made.counter:04d};{';'.join(cells)}".replace(".", ",").encode() + b"\r\n"
        if "noise" in self.wrong:
            made.spoilt = True
            at = self.chance.randrange(len(line) - 2)
            line = line[:at] + bytes(self.chance.choices(self._NOISE, k=self.chance.randint(1, 9))) + line[at:]
        elif "drop" in self.wrong:
            made.spoilt = True
            line = line[: self.chance.randrange(2, 8)] + b"\r\n"
        elif "flood" in self.wrong:
            made.spoilt = True
        elif "twice" in self.wrong:
            line += line
        if self._port.write(line):
            made.answers += 1
        else:
            made.spoilt = True

    def _chatter(self) -> None:
        noise: Any = sorted(self._NOISE)
        while not self._ended.wait(0.01):
            if "unplugged" in self.wrong:
                if self._port.far >= 0:
                    self._port.unplug()
            elif self._port.far < 0:
                self._port.plug()
            elif "flood" in self.wrong:  # 11 kB/s in lines that say nothing
                self._port.write(bytes(self.chance.choices(noise, k=108)) + b"\r\n")
            self._port.read(0.0)
        self._port.unplug()

    def close(self) -> None:
        self._ended.set()
