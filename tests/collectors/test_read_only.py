"""Nothing in the product can write to a press: the source holds no call that could.

What goes over the wire is looked at in ``tests/faults/test_wire_modbus.py``.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from pymodbus.client import ModbusTcpClient

import shotlog

ROOT = Path(shotlog.__file__).parent
PRODUCT = [ROOT, ROOT.parent / "dashboard"]
SOURCES = sorted(path for folder in PRODUCT for path in folder.rglob("*.py"))
READS = {"read_holding_registers", "read_input_registers"}
REQUESTS = {name for name in dir(ModbusTcpClient) if not name.startswith("_")} - READS - {"close"}
"""All the library's client can do, less reading registers and closing."""


def names(path: Path) -> Iterator[str]:
    """Every name, attribute and short text in a source file."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
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
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module.split(".")[0])
    return found


def test_the_library_can_write_so_there_is_something_to_look_for() -> None:
    assert {"write_register", "write_registers", "write_coil", "mask_write_register", "execute"} <= REQUESTS
    assert len(SOURCES) > 20


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.relative_to(ROOT.parent).as_posix())
def test_no_write_request_is_named_anywhere(path: Path) -> None:
    assert not {name for name in REQUESTS if "write" in name} & set(names(path))


def test_only_the_collectors_touch_a_wire() -> None:
    users = {path.relative_to(ROOT.parent).as_posix() for path in SOURCES if imports(path) & {"pymodbus", "serial"}}
    assert {"shotlog/collectors/modbus_client.py", "shotlog/collectors/serial_port.py"} <= users
    assert all(path.startswith("shotlog/collectors/") for path in users)


def test_the_collectors_send_nothing_of_their_own() -> None:
    ways_round = {"write", "send", "sendall", "sendto", "sendmsg", "execute", "getattr", "setattr"}
    for path in sorted((ROOT / "collectors").glob("*.py")):
        assert not ways_round & set(names(path)), path.name


def test_one_module_asks_and_it_asks_for_registers_only() -> None:
    asked = {name for name in names(ROOT / "collectors" / "modbus_client.py") if name in REQUESTS | READS}
    assert asked - {"connect", "connected", "socket", "trace_packet", "retries"} == READS
