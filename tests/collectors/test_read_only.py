"""Nothing in the product can write to a press: the source holds no call that could.

What goes over the wire is looked at in ``tests/faults/test_wire_modbus.py``.
"""

import ast
import socket
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from pymodbus.client import ModbusTcpClient

import shotlog
from shotlog.collectors.modbus_socket import SocketRegisters
from shotlog.collectors.registers import Block

ROOT = Path(shotlog.__file__).parent
PRODUCT = [ROOT, ROOT.parent / "dashboard"]
SOCKET = ROOT / "collectors" / "modbus_socket.py"
SOURCES = sorted(path for folder in PRODUCT for path in folder.rglob("*.py"))
READS = {"read_holding_registers", "read_input_registers"}
REQUESTS = {name for name in dir(ModbusTcpClient) if not name.startswith("_")} - READS - {"close"}
"""All the library's client can do, less reading registers and closing."""


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def names(path: Path) -> Iterator[str]:
    """Every name, attribute and short text in a source file."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Attribute):
            yield node.attr
        elif isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.FunctionDef):
            yield node.name
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def imports(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
    return found


def test_the_library_can_write_so_there_is_something_to_look_for() -> None:
    assert {"write_register", "write_registers", "write_coil", "mask_write_register", "execute"} <= REQUESTS
    assert len(SOURCES) > 20


def test_no_write_request_is_named_anywhere() -> None:
    writes = {name for name in REQUESTS if "write" in name}
    named = {path.relative_to(ROOT.parent).as_posix(): writes & set(names(path)) for path in SOURCES}
    assert {path: found for path, found in named.items() if found} == {}


def test_only_the_collectors_touch_a_wire() -> None:
    users = {path.relative_to(ROOT.parent).as_posix() for path in SOURCES if imports(path) & {"pymodbus", "serial"}}
    assert {"shotlog/collectors/modbus_socket.py", "shotlog/collectors/serial_port.py"} <= users
    assert all(path.startswith("shotlog/collectors/") for path in users)


def test_the_collectors_send_nothing_of_their_own_but_in_one_place() -> None:
    ways_round = {"write", "send", "sendall", "sendto", "sendmsg", "execute", "getattr", "setattr"}
    used = {path.name: ways_round & set(names(path)) for path in sorted((ROOT / "collectors").glob("*.py"))}
    assert {name: ways for name, ways in used.items() if ways} == {SOCKET.name: {"sendall"}}
    assert list(names(SOCKET)).count("sendall") == 1


def test_that_place_has_no_request_but_those_that_read() -> None:
    tree = ast.parse(SOCKET.read_text(encoding="utf-8"))
    taken = {alias.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names}
    assert {name for name in taken if "Request" in name} == {"ReadHoldingRegistersRequest", "ReadInputRegistersRequest"}


def test_it_asks_by_functions_3_and_4_and_by_no_other() -> None:
    ours, press = socket.socketpair()
    with ours, press:
        source = SocketRegisters(ours, 1.0, lambda sending, data: data)
        for transaction, function in (("0001", 3), ("0002", 4)):
            press.sendall(bytes.fromhex(f"{transaction} 0000 0005 11 0{function} 02 002A"))
            assert source.ask(function, Block(7, 1), 17) == (42,)
        for function in set(range(256)) - {3, 4}:
            with pytest.raises(KeyError):
                source.ask(function, Block(7, 1), 17)
        ours.shutdown(socket.SHUT_WR)
        assert press.recv(4096).hex() == "000100000006110300070001000200000006110400070001"
        assert press.recv(4096) == b""


def test_one_module_asks_a_serial_line_and_it_asks_for_registers_only() -> None:
    asked = {name for name in names(ROOT / "collectors" / "modbus_serial.py") if name in REQUESTS | READS}
    assert asked - {"connect", "socket", "trace_packet", "retries"} == READS
