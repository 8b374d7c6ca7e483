"""What a poll of a press costs over Modbus TCP, against libmodbus in C and a bare socket asking the same press.

An idle poll reads the counter. A poll that takes a shot reads the counter, then block and counter twice, as
`collectors.modbus_shots` says. The press is libmodbus, a process for each reader. All are held to one core where the
system can do that: to wake a press on a core that rests takes seven times what asking it does (41 us there and back
against 6), and where the system puts it is chance. Nothing is asserted on time. Run by `make bench`.
"""

import os
import shutil
import socket
import struct
import subprocess
import time
import tomllib
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import NamedTuple

from shotlog.clock import SystemClock
from shotlog.collectors.modbus_shots import ModbusShots
from shotlog.collectors.modbus_tcp import register_client
from shotlog.collectors.register_map import read_register_map
from shotlog.records import Shot
from shotlog.settings import Section
from tests.benchmark.bench import Bench
from tests.benchmark.row import Row, turns

_ROUNDS = 7
_POLLS = {"idle": 1500, "shot": 400}
_ASKED = {"idle": ((50, 1),), "shot": ((0, 1), (100, 4), (0, 1), (100, 4), (0, 1))}
_MAP = """
shot_counter = {{ address = {counter}, type = "uint16" }}
[channels]
cushion = {{ address = 100, type = "uint16", scale = 0.01, unit = "mm" }}
peak_pressure = {{ address = 101, type = "uint16", scale = 0.1, unit = "bar" }}
fill_time = {{ address = 102, type = "float32", unit = "s" }}
"""


class Took(NamedTuple):
    """Seconds a poll took: by the clock, and of the processor of the process that asked."""

    clock: float
    processor: float


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what a poll costs, idle and with a shot."""
    program = compiled(bench.folder)
    if program is None:
        yield Row.without(
            "a poll over Modbus TCP", "no C compiler, or no libmodbus (Debian: apt install libmodbus-dev)"
        )
        return
    with ExitStack() as open_:
        hold_to_one_core(open_)
        press = open_.enter_context(subprocess.Popen([program, "serve"], stdout=subprocess.PIPE, text=True))
        open_.callback(press.kill)
        assert press.stdout is not None
        port = int(press.stdout.readline())
        reader = open_.enter_context(
            subprocess.Popen([program, "read", str(port)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        )
        open_.callback(reader.kill)
        bare = open_.enter_context(socket.create_connection(("127.0.0.1", port)))
        bare.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        for what, n in _POLLS.items():
            poll = collected(port, what, open_)
            works: dict[str, Callable[[], Took]] = {
                "ours": lambda poll=poll, n=n: timed(poll, n),  # type: ignore[misc]
                "libmodbus": lambda what=what, n=n: by_libmodbus(reader, what, n),  # type: ignore[misc]
                "socket": lambda what=what, n=n: timed(lambda: by_socket(bare, what), n),  # type: ignore[misc]
            }
            yield from told(what, turns(works, _ROUNDS))


def compiled(folder: Path) -> Path | None:
    """Return the press and reader in C, None where they cannot be had."""
    compiler, out = shutil.which("cc"), folder / "modbus_peer"
    if compiler is None:
        return None
    source = str(Path(__file__).with_name("modbus_peer.c"))
    command = [compiler, "-O2", "-I/usr/include/modbus", "-o", str(out), source, "-lmodbus"]
    return out if subprocess.run(command, capture_output=True).returncode == 0 else None


def hold_to_one_core(open_: ExitStack) -> None:
    """Hold this process, and those that it starts from here on, to one core until `open_` is closed."""
    if hasattr(os, "sched_setaffinity"):
        cores = os.sched_getaffinity(0)
        open_.callback(os.sched_setaffinity, 0, cores)
        os.sched_setaffinity(0, {min(cores)})


def collected(port: int, what: str, open_: ExitStack) -> Callable[[], None]:
    """Return a poll of our collector that finds nothing new, or a shot each time, with no time between two readings."""
    keys = tomllib.loads(_MAP.format(counter=_ASKED[what][0][0])) | {"host": "127.0.0.1", "port": port}
    press = Section("bench.toml", "press[1].collector", keys)
    collector = ModbusShots("p", SystemClock(), None, read_register_map(press), register_client(press, "holding"))
    collector.open()
    open_.callback(collector.close)

    def shot() -> None:
        assert any(isinstance(record, Shot) for record in collector.poll())

    def idle() -> None:
        collector.poll()

    return shot if what == "shot" else idle


def timed(poll: Callable[[], object], n: int) -> Took:
    """Poll n times; return what one took."""
    began = Took(time.perf_counter(), time.process_time())
    for _ in range(n):
        poll()
    return Took((time.perf_counter() - began.clock) / n, (time.process_time() - began.processor) / n)


def by_libmodbus(reader: "subprocess.Popen[str]", what: str, n: int) -> Took:
    """Have the reader in C do the same n times."""
    assert reader.stdin is not None
    assert reader.stdout is not None
    print(what, n, file=reader.stdin, flush=True)
    return Took(*(float(seconds) / n for seconds in reader.stdout.readline().split()))


def by_socket(press: socket.socket, what: str) -> None:
    """Send the frames of a poll and take the registers out of the answers, looking at nothing else."""
    for address, count in _ASKED[what]:
        press.sendall(struct.pack(">HHHBBHH", 1, 0, 6, 1, 3, address, count))
        answer = b""
        while len(answer) < 9 + 2 * count:
            answer += press.recv(260)
        struct.unpack(f">{count}H", answer[9:])


def told(what: str, took: dict[str, list[Took]]) -> Iterator[Row]:
    """Yield the rows of one kind of poll."""
    name = {"idle": "an idle poll (counter)", "shot": "a poll with a shot (five reads)"}[what]
    why = "every answer checked for its function, count and length, bytes kept that cannot be used"
    why += (
        ""
        if what == "idle"
        else "; what was read is decoded, doubted and made a record (20 ms between two readings not in it)"
    )
    for peer, kind, than in (
        ("libmodbus", "clock", "libmodbus in C"),
        ("socket", "clock", "a bare socket in Python"),
        ("libmodbus", "processor", "libmodbus in C"),
    ):
        ours, beside = ([getattr(one, kind) for one in took[by]] for by in ("ours", peer))
        goal = 2.0 if what == "idle" and peer == "libmodbus" else None
        yield Row(f"{name}, {kind}", "s", ours, beside, than, why if kind == "processor" else "", goal)
