"""A press served by an independent Modbus library, and the real ``shotlog run`` as a process beside it."""

import io
import os
import re
import signal
import struct
import subprocess
import sys
import threading
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from types import MappingProxyType
from typing import Self

from pyModbusTCP.server import DataBank, ModbusServer

from shotlog.cli.main import main

DEADLINE_S = 90.0
"""Longest wait for anything: long for a busy machine, never waited out by a test that passes."""


class ServedPress:
    """Input registers of a press, low word first: 0 counter, 1 cushion, 2 peak pressure (float32), 4 fill time
    (uint32).

    The server can be stopped and started again on its port; the registers live on, as in a press whose switch lost
    power.
    """

    def __init__(self, serving: bool = True) -> None:
        self.bank = DataBank()
        self.port = 0
        self.start()
        if not serving:
            self.stop()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.stop()

    def start(self) -> None:
        self._server = ModbusServer("127.0.0.1", self.port, no_block=True, data_bank=self.bank)
        self._server.start()
        self.port = self._server._service.server_address[1]

    def stop(self) -> None:
        self._server.stop()

    def offer(self, n: int) -> None:
        """Show shot `n`: counter and values change at one instant."""
        pressure = struct.unpack(">2H", struct.pack(">f", peak_pressure(n)))
        fill = 3800 + n % 50
        words = [n % 65536, cushion(n), pressure[1], pressure[0], fill & 0xFFFF, fill >> 16]
        self.bank.set_input_registers(0, words)

    def config(self, name: str, poll_s: float = 0.02) -> str:
        return f"""
[[press]]
name = "{name}"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = {self.port}
  poll_s = {poll_s}
  timeout_s = 1.0
  table = "input"
  word_order = "little"
  shot_counter = {{ address = 0, type = "uint16" }}
    [press.collector.channels]
    cushion       = {{ address = 1, type = "uint16", scale = 0.01, unit = "mm" }}
    peak_pressure = {{ address = 2, type = "float32", unit = "bar" }}
    fill_time     = {{ address = 4, type = "uint32", scale = 0.0001, unit = "s" }}
"""


def cushion(n: int) -> int:
    return 480 + n % 40


def peak_pressure(n: int) -> float:
    return 520.0 + (n % 64) / 16


def expected(n: int) -> dict[str, float]:
    """The values of shot `n` in the units of their channels."""
    return {"cushion": cushion(n) / 100, "peak_pressure": peak_pressure(n), "fill_time": (3800 + n % 50) / 10_000}


@contextmanager
def pseudo_terminal() -> Iterator[tuple[int, str]]:
    """Yield the far end of a serial line, to play a device on, and the name of the port to open."""
    far, near = os.openpty()
    try:
        yield far, os.ttyname(near)
    finally:
        os.close(far)
        os.close(near)


@contextmanager
def heeding_interrupts() -> Iterator[None]:
    """A shell lets its background jobs ignore Ctrl-C and what they start inherits that; not so what is started here."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def write_config(folder: Path, *presses: str) -> Path:
    config = folder / "press.toml"
    config.write_text('[log]\nstore = "sqlite:///trial.db"\nreserve_mb = 1\n' + "\n".join(presses), encoding="utf-8")
    return config


class Run:
    """``shotlog run`` as a process; what it says on stderr is the acknowledgement of each shot.

    `environment`: what else stands in its own; `first`: Python that is run in it before the command; `service`: the
    command of a service, which is run as one: from the root folder, with nothing else in its environment.
    """

    def __init__(
        self,
        config: Path,
        *arguments: str,
        environment: Mapping[str, str] = MappingProxyType({}),
        first: str = "",
        service: Sequence[str] = (),
    ) -> None:
        starts = ["-c", f"{first}\nfrom shotlog.cli.main import main; raise SystemExit(main())"]
        command = [*service] or [sys.executable, *(starts if first else ["-m", "shotlog"]), "run", str(config)]
        self.process = subprocess.Popen(
            [*command, "--no-dashboard", *arguments],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**({} if service else os.environ), **environment},
            cwd="/" if service else None,
        )
        self.lines: list[str] = []
        self._changed = threading.Condition()
        self._reader = threading.Thread(target=self._read)
        self._reader.start()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.wait()

    def _read(self) -> None:
        assert self.process.stderr is not None
        for line in self.process.stderr:
            with self._changed:
                self.lines.append(line.rstrip("\n"))
                self._changed.notify_all()
        with self._changed:
            self.lines.append("<end>")
            self._changed.notify_all()

    def wait_for(self, pattern: str, count: int = 1) -> None:
        """Wait until `count` lines match; fail when the process ends before."""
        until = time.monotonic() + DEADLINE_S
        with self._changed:
            while sum(bool(re.search(pattern, line)) for line in self.lines) < count:
                assert "<end>" not in self.lines, f"ended before {pattern!r}: {self.lines}"
                assert self._changed.wait(until - time.monotonic()), f"no {pattern!r} in time: {self.lines}"

    def acknowledged(self, press: str) -> list[int]:
        """Return the shots of a press said to be stored, in order."""
        with self._changed:
            found = [re.search(rf" {press}: shot (\d+) ", line) for line in self.lines]
        return [int(match[1]) for match in found if match]

    def stop(self, how: signal.Signals = signal.SIGINT) -> int:
        self.process.send_signal(how)
        return self.wait()

    def wait(self) -> int:
        status = self.process.wait(timeout=DEADLINE_S)
        self._reader.join()
        for stream in (self.process.stdout, self.process.stderr):
            if stream is not None:
                stream.close()
        return status


def shotlog(*arguments: str | Path) -> "subprocess.CompletedProcess[str]":
    """Run a command to its end, here: that is another process than the logger's, and has loaded what commands need."""
    given = [*map(str, arguments)]
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(given)
    return subprocess.CompletedProcess(given, status, out.getvalue(), err.getvalue())
