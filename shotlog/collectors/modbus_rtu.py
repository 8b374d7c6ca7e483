"""The collector kind ``modbus-rtu``: a press or PLC that serves registers on a serial line."""

from dataclasses import dataclass

from shotlog.clock import Clock
from shotlog.collectors.base import Collector, Resume
from shotlog.collectors.modbus_client import ModbusClient
from shotlog.collectors.modbus_serial import rtu_line
from shotlog.collectors.modbus_shots import ModbusShots, apart_s
from shotlog.collectors.register_map import RegisterMap, read_register_map
from shotlog.collectors.serial_port import Opener, PortSettings, open_port, read_port
from shotlog.settings import Section

__all__ = ["ModbusRtuOptions", "options", "register_client"]


@dataclass(frozen=True, slots=True)
class ModbusRtuOptions:
    """The checked keys of a ``modbus-rtu`` collector; times in seconds.

    `longest_answer_s` is how late an answer can come at all: after opening the port, input is thrown away for so long.
    """

    port: PortSettings
    unit: int
    poll_s: float
    timeout_s: float
    longest_answer_s: float
    settle_s: float
    registers: RegisterMap
    opener: Opener = open_port

    def describe(self) -> list[str]:
        head = f"Modbus RTU {self.port}, unit {self.unit}, counter polled every {self.poll_s:g} s"
        return [head, *self.registers.describe()]

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        connect = rtu_line(self.port, self.timeout_s, self.longest_answer_s, self.opener)
        client = ModbusClient(str(self.port), connect, self.registers.table, self.unit)
        apart = apart_s(self.poll_s)
        return ModbusShots(press, clock, resume, self.registers, client, self.settle_s, apart)


def options(section: Section) -> ModbusRtuOptions:
    """Read and check the keys. Defaults are those of the serial line guide v1.02: 19200 baud, even parity.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    """
    port, timeout_s, longest_answer_s = _line(section)
    return ModbusRtuOptions(
        port,
        section.integer("unit", 1, 247, 1),
        section.number("poll_s", 0.01, 60.0, 0.2),
        timeout_s,
        longest_answer_s,
        section.number("settle_s", 0.0, 10.0, 0.0),
        read_register_map(section),
    )


def register_client(section: Section, table: str) -> ModbusClient:
    """Read only the keys that say where the press is, and make the client that reads its registers; not opened yet.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    """
    port, timeout_s, longest_answer_s = _line(section)
    connect = rtu_line(port, timeout_s, longest_answer_s)
    return ModbusClient(str(port), connect, table, section.integer("unit", 1, 247, 1))


def _line(section: Section) -> tuple[PortSettings, float, float]:
    """Read the port, the time-out and the longest an answer takes, in seconds."""
    port = read_port(section, 19200, "E")
    if port.bytesize != 8:
        raise section.wrong("bytesize", "8: Modbus RTU sends whole bytes")
    if port.flow == "xonxoff":
        raise section.wrong("flow", "none | rtscts: Modbus RTU sends every byte value")
    timeout_s = section.number("timeout_s", 0.05, 30.0, 1.0)
    return port, timeout_s, section.number("longest_answer_s", timeout_s, 60.0, max(2.0, 2 * timeout_s))
