"""Opening a serial port, and the one list of what may go wrong with it.

`serial_for_url` also takes ``socket://host:port`` for a serial-to-Ethernet box. A port is opened exclusively, which
keeps out a second logger, though not every other program. Where the hardware address of an adapter is given in place of
a port, the port is looked up each time it is opened: it may be another one after the adapter was plugged in anew.
"""

import errno
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import serial

from shotlog.collectors.serial_ports import port_of_hardware, ports_said, ports_there
from shotlog.errors import PressUnreachable
from shotlog.settings import Section

__all__ = ["PORT_ERRORS", "Opener", "PortSettings", "open_port", "read_port", "read_waiting"]

_WRITE_S = 1.0
# At one poll, so that a flood does not keep the thread for ever: more than a line brings in that time. A port behind a
# network says only that something waits, not how much, and is read byte by byte.
_MOST_BYTES, _MOST_READS = 1 << 16, 1 << 12


def _terminal_errors() -> tuple[type[Exception], ...]:
    """Return what a port raises for a parity or size it cannot do; there is no such module on Windows."""
    try:
        import termios
    except ImportError:
        return ()
    return (termios.error,)


# ValueError: an unknown kind of URL; the error of a pattern: one after hwgrep:// that is none.
PORT_ERRORS: tuple[type[Exception], ...] = (serial.SerialException, OSError, ValueError, re.error, *_terminal_errors())


@dataclass(frozen=True, slots=True)
class PortSettings:
    """A serial port and its settings; `flow` is ``none``, ``rtscts`` or ``xonxoff``.

    `hwid`: the hardware address of the adapter, where that is given in place of `port`.
    """

    port: str
    baudrate: int
    parity: str
    bytesize: int
    stopbits: float
    flow: str = "none"
    hwid: str = ""

    def __str__(self) -> str:
        return f"{self.name} at {self.baudrate} {self.bytesize}{self.parity}{self.stopbits:g}"

    @property
    def name(self) -> str:
        """What the configuration calls it by."""
        return self.port or f'hwid "{self.hwid}"'

    @property
    def character_s(self) -> float:
        """Time one character takes on the wire, in seconds."""
        return (1 + self.bytesize + (self.parity != "N") + self.stopbits) / self.baudrate


Opener = Callable[[PortSettings, float], serial.Serial]
"""Opens a port; the number is the longest time a read may wait, in seconds."""


def read_port(section: Section, baudrate: int, parity: str) -> PortSettings:
    """Read the keys of a serial port; `baudrate` and `parity` are what is customary for the kind of line."""
    stopbits = section.number("stopbits", 1, 2, 1)
    if stopbits not in (1.0, 1.5, 2.0):
        raise section.wrong("stopbits", "1 | 1.5 | 2")
    hwid = section.text("hwid") if section.has("hwid") else ""
    if hwid and section.has("port"):
        raise section.wrong("hwid", "either port or hwid, the hardware address of the adapter")
    return PortSettings(
        "" if hwid else section.text("port"),
        section.integer("baudrate", 50, 4_000_000, baudrate),
        section.choice("parity", ("N", "E", "O", "M", "S"), parity),
        section.integer("bytesize", 5, 8, 8),
        stopbits,
        section.choice("flow", ("none", "rtscts", "xonxoff"), "none"),
        hwid,
    )


def open_port(settings: PortSettings, wait_s: float) -> serial.Serial:
    """Open a port whose reads wait at most `wait_s` seconds.

    Raises
    ------
    PressUnreachable
        The port is not there (then those that are there are named), may not be opened by this user, is held by another
        program, or cannot do these settings.
    """
    port = port_of_hardware(settings.hwid) if settings.hwid else settings.port
    try:
        return serial.serial_for_url(
            port,
            baudrate=settings.baudrate,
            parity=settings.parity,
            bytesize=settings.bytesize,
            stopbits=settings.stopbits,
            rtscts=settings.flow == "rtscts",
            xonxoff=settings.flow == "xonxoff",
            timeout=wait_s,
            write_timeout=_WRITE_S,
            exclusive=True,
        )
    except PORT_ERRORS as error:
        raise PressUnreachable(f"serial port {settings} cannot be opened: {error}{_advice(port, error)}") from error


def _advice(port: str, error: Exception) -> str:
    """Return what helps: which ports there are, or whose members may open this one."""
    if "://" in port and not port.lower().startswith("hwgrep://"):
        return ""
    there = ports_there()
    mine = next((one for one in there if port in (one.device, one.stable)), None)
    refused = isinstance(error, OSError) and error.errno == errno.EACCES
    if refused and mine is not None and mine.group:
        return f"; members of the group {mine.group} may open it"
    return "" if mine is not None or Path(port).exists() else f"; {ports_said(there)}"


def read_waiting(port: serial.Serial, into: bytearray) -> None:
    """Read the bytes at hand, after waiting a moment for the first of them; `into` keeps them when reading fails.

    Raises
    ------
    SerialException, OSError, ...
        One of `PORT_ERRORS`: the port is gone.
    """
    for _ in range(_MOST_READS):
        chunk = port.read(max(1, min(port.in_waiting, _MOST_BYTES)))
        into += chunk
        if not chunk or not port.in_waiting or len(into) >= _MOST_BYTES:
            return
