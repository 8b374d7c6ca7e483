"""How much memory a logger holds, idle and after shots, against Python with its libraries; nothing is asserted.

The press is a serial line behind a socket that says as many lines as the logger takes. Run by `make bench`.
"""

import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path
from random import Random

from sqlalchemy import func, select

from shotlog.own_python import own_environment
from shotlog.store.log import schema
from shotlog.store.log.log import open_log
from tests.benchmark.bench import Bench
from tests.benchmark.row import Row

_SHOTS, _WAIT_S = 10_000, 240.0
_LIBRARIES = "numba, numpy, pymodbus.client, serial, sqlalchemy"
_CONFIG = """\
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "serial-line"
  port = "socket://127.0.0.1:{port}"
  delimiter = ";"
  shot_counter = {{ field = 1 }}
    [press.collector.channels]
    cushion = {{ field = 2, unit = "mm" }}
    peak_pressure = {{ field = 3, unit = "bar" }}
    fill_time = {{ field = 4, unit = "s" }}
"""


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what a logger holds when it has just started, and after thousands of shots."""
    what = f"memory of run, after {_SHOTS} shots"
    if not Path("/proc/self/status").exists():
        yield Row.without(what, "this system does not tell what a process holds")
        return
    folder = bench.folder / "memory"
    folder.mkdir()
    bare = subprocess.run(
        [sys.executable, "-c", f"import {_LIBRARIES}; print(open('/proc/self/status').read())"],
        check=True, capture_output=True, text=True,
    ).stdout  # fmt: skip
    with socket.create_server(("127.0.0.1", 0)) as line:
        config = folder / "trial.toml"
        config.write_text(_CONFIG.format(port=line.getsockname()[1]), encoding="utf-8")
        command = [sys.executable, "-P", "-m", "shotlog", "run", str(config), "--no-dashboard"]
        with subprocess.Popen(
            command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=own_environment()
        ) as run:
            try:
                press, _ = line.accept()
                with press:
                    first = until_judged(folder, press)
                    idle = held(status(run.pid))
                    press.sendall(said(first + 1, first + 1 + _SHOTS))
                    until(lambda: last_judged(folder) == first + _SHOTS)
                    after = held(status(run.pid))
            finally:
                run.kill()
    than = f"Python and import {_LIBRARIES}"
    yield Row("memory of run, after its first shot", "B", [idle], [held(bare)], than, "the loops of the call, compiled")
    yield Row(what, "B", [after], [idle], "after its first shot", "", goal=1.2)


def said(first: int, end: int) -> bytes:
    """Return the lines that a press prints of its shots."""
    noise = Random(first).gauss
    lines = (
        f"{n};{4.94 + noise(0, 0.05):.2f};{540 + noise(0, 4):.1f};{0.72 + noise(0, 0.004):.3f}\r\n"
        for n in range(first, end)
    )
    return "".join(lines).encode()


def until_judged(folder: Path, press: socket.socket) -> int:
    """Say one line after the other until one is judged (the first may fall into the opening of the line); return it."""
    lines = count(1)

    def said_and_judged() -> bool:
        number = next(lines)
        press.sendall(said(number, number + 1))
        return last_judged(folder) > 0

    until(said_and_judged)
    last = next(lines) - 1
    until(lambda: last_judged(folder) == last)
    return last


def last_judged(folder: Path) -> int:
    """Return the last shot that has a verdict, 0 while none has."""
    if not (folder / "trial.db").exists():
        return 0
    with open_log(f"sqlite:///{folder}/trial.db") as log, log.reading() as connection:
        return connection.execute(select(func.max(schema.verdicts.c.shot))).scalar_one() or 0


def until(there: Callable[[], bool]) -> None:
    """Wait for something to be so."""
    deadline = time.monotonic() + _WAIT_S
    while not there():
        if time.monotonic() > deadline:
            raise SystemExit(f"the logger has not judged these shots in {_WAIT_S:g} s")
        time.sleep(0.5)


def status(process: int) -> str:
    """Return what the system says of a process."""
    return Path(f"/proc/{process}/status").read_text(encoding="utf-8")


def held(said: str) -> float:
    """Return how many bytes a process holds, by what the system says of it."""
    return float(next(line for line in said.splitlines() if line.startswith("VmRSS")).split()[1]) * 1024
