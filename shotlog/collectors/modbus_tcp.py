"""The collector kind ``modbus-tcp``: a press, PLC or gateway that serves registers over Ethernet."""

from dataclasses import dataclass

from shotlog.clock import Clock
from shotlog.collectors.base import Collector, Resume
from shotlog.collectors.modbus_client import ModbusClient
from shotlog.collectors.modbus_shots import ModbusShots, apart_s
from shotlog.collectors.modbus_socket import tcp_line
from shotlog.collectors.register_map import RegisterMap, read_register_map
from shotlog.settings import Section

__all__ = ["ModbusTcpOptions", "options", "register_client"]


@dataclass(frozen=True, slots=True)
class ModbusTcpOptions:
    """The checked keys of a ``modbus-tcp`` collector; times in seconds."""

    host: str
    port: int
    unit: int
    poll_s: float
    timeout_s: float
    settle_s: float
    registers: RegisterMap

    def describe(self) -> list[str]:
        head = f"Modbus TCP {self.host}:{self.port}, unit {self.unit}, counter polled every {self.poll_s:g} s"
        return [head, *self.registers.describe()]

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        connect = tcp_line(self.host, self.port, self.timeout_s)
        client = ModbusClient(f"{self.host}:{self.port}", connect, self.registers.table, self.unit)
        apart = apart_s(self.poll_s)
        return ModbusShots(press, clock, resume, self.registers, client, self.settle_s, apart)


def options(section: Section) -> ModbusTcpOptions:
    """Read and check the keys.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    """
    return ModbusTcpOptions(
        _host(section),
        section.integer("port", 1, 65535, 502),
        section.integer("unit", 0, 255, 1),
        section.number("poll_s", 0.01, 60.0, 0.2),
        _timeout_s(section),
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
    host, port, timeout_s = _host(section), section.integer("port", 1, 65535, 502), _timeout_s(section)
    return ModbusClient(f"{host}:{port}", tcp_line(host, port, timeout_s), table, section.integer("unit", 0, 255, 1))


def _timeout_s(section: Section) -> float:
    return section.number("timeout_s", 0.05, 30.0, 1.0)


def _host(section: Section) -> str:
    """Read a name or address; an address of IPv6 has two colons or more, and one colon comes before a port."""
    host = section.text("host")
    if host.count(":") == 1 or any(mark in host for mark in "/[] "):
        raise section.wrong("host", "a name or address alone; its port goes under port")
    return host
