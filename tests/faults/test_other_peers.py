"""Presses that other people's code plays, under faults: libmodbus (C) behind a cable that is cut, and pyModbusTCP.

The C server shows half of a shot before the rest, for one answer: the counter before the values, then the values
before the counter. Torn for longer, as by a server that is halted in the middle, nothing that it shows could tell.
"""

import contextlib
import signal
import socket
import sqlite3
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.collectors.test_modbus_peers import CHANNELS, CServer, c_server, values
from tests.end_to_end.running import ServedPress, expected, write_config
from tests.faults.soak.logger import Logger

__all__ = ["c_server"]  # a fixture


class Cable:
    """A fixed port that leads to wherever the server is; it can be cut in the middle of an answer, and be dead."""

    def __init__(self) -> None:
        self.to = 0
        self.cut_after: int | None = None
        self._listener = socket.create_server(("127.0.0.1", 0))
        self._listener.settimeout(0.05)
        self.port: int = self._listener.getsockname()[1]
        self._ended = threading.Event()
        self._thread = threading.Thread(target=self._serve)
        self._thread.start()

    def _serve(self) -> None:
        while not self._ended.is_set():
            with contextlib.suppress(OSError):
                peer, _ = self._listener.accept()
                with peer, socket.create_connection(("127.0.0.1", self.to), 1.0) as server:
                    self._carry(peer, server)
        self._listener.close()

    def _carry(self, peer: socket.socket, server: socket.socket) -> None:
        for end in (peer, server):
            end.settimeout(0.02)
        while not self._ended.is_set():
            for one, other in ((peer, server), (server, peer)):
                with contextlib.suppress(TimeoutError):
                    data = one.recv(4096)
                    if not data:
                        return
                    if self.cut_after is not None and one is server:
                        other.sendall(data[: self.cut_after])
                        return
                    other.sendall(data)

    def close(self) -> None:
        self._ended.set()
        self._thread.join()


@contextlib.contextmanager
def libmodbus(program: Path) -> Iterator[tuple["subprocess.Popen[str]", CServer]]:
    with subprocess.Popen([program, "tcp"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        try:
            yield process, CServer(process)
        finally:
            process.send_signal(signal.SIGCONT)
            process.kill()


@pytest.mark.usefixtures("c_server")
def test_libmodbus_and_pymodbustcp_under_faults(c_server: Path, tmp_path: Path) -> None:
    cable = Cable()
    n = 0

    def make(shots: int, c: CServer | None) -> None:
        nonlocal n
        for _ in range(shots):
            n += 1
            served.offer(n)
            if c is not None:
                c.offer(n, torn=1 + n % 2)
            time.sleep(0.08)

    with contextlib.ExitStack() as stack:
        stack.callback(cable.close)
        served = stack.enter_context(ServedPress())
        table = CHANNELS.replace("[channels]", "[press.collector.channels]")
        keys = f'kind = "modbus-tcp"\nhost = "127.0.0.1"\nport = {cable.port}\npoll_s = 0.02\ntimeout_s = 0.4\n'
        press = f'[[press]]\nname = "C"\n[press.collector]\n{keys}{table}\n'
        config = write_config(tmp_path, served.config("PY"), press)
        logger = Logger(config, pages=False)
        stack.callback(logger.kill)
        with libmodbus(c_server) as (process, first):
            cable.to = first.port
            make(1, first)
            logger.start()
            _until(lambda: len(set(logger.acknowledged)) >= 2)
            make(10, first)
            cable.cut_after = 7  # in the middle of an answer
            make(5, first)
            cable.cut_after = None
            process.send_signal(signal.SIGSTOP)  # answers nothing; its registers stand
            make(8, None)
            process.send_signal(signal.SIGCONT)
            make(5, first)
            logger.kill()
        served.stop()
        with libmodbus(c_server) as (_, second):  # another process, on another port, the count goes on
            make(5, second)
            cable.to = second.port
            logger.start()
            served.start()
            _until(lambda: {("C", n), ("PY", n)} <= set(logger.acknowledged))
            make(10, second)
            _until(lambda: {("C", n), ("PY", n)} <= set(logger.acknowledged))
            assert logger.stop(20) == 0
    with contextlib.closing(sqlite3.connect(tmp_path / "trial.db")) as log:
        _check(log, "C", n, logger)
        _check(log, "PY", n, logger)
        assert log.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def _until(so: Callable[[], object]) -> None:
    end = time.monotonic() + 60.0
    while not so():
        assert time.monotonic() < end
        time.sleep(0.05)


def _check(log: sqlite3.Connection, press: str, last: int, logger: Logger) -> None:
    truth = values if press == "C" else expected
    names = sorted(truth(1))
    rows = log.execute(
        f"SELECT shot, {', '.join(names)} FROM shots JOIN presses p ON p.id = press_id WHERE p.name = ?", [press]
    ).fetchall()
    stored = [row[0] for row in rows]
    for shot, *found in rows:
        assert found == pytest.approx([truth(shot)[name] for name in names], rel=1e-6), f"{press} {shot}"
    told = [shot for name, shot in logger.acknowledged if name == press]
    assert len(told) == len(set(told))
    assert set(told) <= set(stored)
    gaps = log.execute(
        "SELECT first, last FROM gaps JOIN presses p ON p.id = press_id WHERE p.name = ?", [press]
    ).fetchall()
    missed = [n for low, high in gaps for n in range(low, high + 1)]
    assert sorted([*stored, *missed]) == list(range(min(stored), last + 1))
    assert len(stored) > 8  # a busy machine misses some, and says so
