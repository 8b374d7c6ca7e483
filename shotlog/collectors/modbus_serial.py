"""Modbus RTU on a serial line: the library's client asks, on a port that is opened here.

An answer there carries nothing that tells which request it belongs to. One late answer is taken for the next one, whose
answer for the one after, and so on for ever, each looking perfect. After every opening - and every failure leads to
one - input is therefore thrown away for as long as the slowest answer can take.
"""

from math import ceil

from pymodbus import FramerType
from pymodbus.client import ModbusSerialClient

from shotlog.collectors.modbus_client import Answer, Connect, RegisterSource, Trace
from shotlog.collectors.registers import Block
from shotlog.collectors.serial_port import PORT_ERRORS, Opener, PortSettings, open_port
from shotlog.errors import PressUnreachable

__all__ = ["SerialRegisters", "rtu_line"]

# A read of the port waits so long; more bytes than a line brings in that time.
_LISTEN_S = 0.05
_LISTEN_BYTES = 1 << 16


def rtu_line(port: PortSettings, timeout_s: float, longest_answer_s: float, opener: Opener = open_port) -> Connect:
    """Return what opens a Modbus RTU line and listens until no late answer can come any more."""

    def connect(trace: Trace) -> RegisterSource:
        client = ModbusSerialClient(
            port.name,
            framer=FramerType.RTU,
            baudrate=port.baudrate,
            bytesize=port.bytesize,
            parity=port.parity,
            stopbits=int(port.stopbits),
            timeout=timeout_s,
            retries=0,
            trace_packet=trace,
        )
        # The port is opened as it stays: changing a time-out later sets everything anew, which a port that can do
        # no parity refuses. The library itself reads only what has come.
        line = opener(port, _LISTEN_S)
        try:
            heard = [line.read(_LISTEN_BYTES) for _ in range(max(1, ceil(longest_answer_s / _LISTEN_S)))]
        except PORT_ERRORS as error:
            line.close()
            raise PressUnreachable(f"serial port {port} was lost: {error}") from error
        if heard[-1]:
            line.close()
            raise PressUnreachable(f"serial port {port} does not fall silent: is there another master on the line?")
        client.socket = line
        return SerialRegisters(client)

    return connect


class SerialRegisters:
    """The registers behind a serial line, through the library's client."""

    def __init__(self, client: ModbusSerialClient) -> None:
        self._client = client

    def ask(self, function: int, block: Block, unit: int) -> Answer:
        ask = self._client.read_holding_registers if function == 3 else self._client.read_input_registers
        return ask(block.address, count=block.words, device_id=unit)

    def close(self) -> None:
        self._client.close()  # type: ignore[no-untyped-call]
