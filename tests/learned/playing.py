"""An odd press while it runs: its server in a process of its own, and the thread that writes its registers."""

import contextlib
import heapq
import os
import random
import shutil
import socket
import subprocess
import sys
import tempfile
import threading
import time
import tty
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tests.learned.lines import LinePress
from tests.learned.odd_press import Moment, OddPress, encoded

__all__ = ["Played", "c_peer", "played"]

_LIVE_S = 0.1


@cache
def c_peer() -> Path | None:
    """Return the server by libmodbus, compiled; None where there is no compiler or no library."""
    compiler = shutil.which("cc")
    if compiler is None:
        return None
    out = Path(tempfile.mkdtemp(prefix="odd-press-")) / "peer"
    source = Path(__file__).with_name("peer.c")
    command = [compiler, "-I/usr/include/modbus", "-o", str(out), str(source), "-lmodbus"]
    return out if not subprocess.run(command, capture_output=True, check=False).returncode else None


class Played:
    """What a press has shown.

    `made` holds when it counted each shot (seconds of the epoch), `forbidden` what it was asked that is no reading;
    `asked` is set when it was first read. It stands for `stand_s` seconds after that, then it shoots.
    """

    def __init__(self, press: OddPress | LinePress, stand_s: float) -> None:
        self.press, self.stand_s = press, stand_s
        self.values = [dict(one) for one in press.shots()]
        self.made: list[float] = []
        self.forbidden: list[str] = []
        self.where = ""
        self.asked = threading.Event()
        self._stop = threading.Event()
        self._rng = random.Random(press.name)

    def shot_at(self, when: float) -> int:
        """Return which shot was the last at a time; 0 is the one that stood there at the start."""
        return sum(at <= when for at in self.made)

    def stop(self) -> None:
        self._stop.set()

    def _due(self) -> Iterator[float]:
        """Yield when the press counts, once somebody listens."""
        at = time.time() + self.stand_s + self.press.cycle_s
        while True:
            yield at
            at += self.press.cycle_s * self._rng.uniform(0.9, 1.1)


class PlayedRegisters(Played):
    """A press in registers."""

    def __init__(self, press: OddPress, process: "subprocess.Popen[str]", stand_s: float) -> None:
        super().__init__(press, stand_s)
        self.odd, self._process = press, process
        assert process.stdout is not None
        self.where = process.stdout.readline().strip()
        self._dry = 0
        self._values_of = 0
        self._began = time.time()
        self._write("shot", "count", "live")
        self._threads = [threading.Thread(target=each) for each in (self._listen, self._run)]
        for each in self._threads:
            each.start()

    def stop(self) -> None:
        super().stop()
        self.asked.set()
        self._process.kill()
        for each in self._threads:
            each.join()

    def _listen(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            if line.startswith("read"):
                self.asked.set()
            else:
                self.forbidden.append(line.strip())

    def _run(self) -> None:
        self.asked.wait()
        due = self._due()
        queue: list[tuple[float, int, str]] = [(time.time(), 0, "live")]
        self._plan(queue, next(due), 1)
        with contextlib.suppress(OSError, ValueError):
            while not self._stop.is_set():
                at, n, what = heapq.heappop(queue)
                self._stop.wait(max(0.0, at - time.time()))
                if what == "live":
                    heapq.heappush(queue, (at + _LIVE_S, 0, "live"))
                elif what == "dry":
                    self._dry += 1
                elif what == "count":
                    self.made.append(time.time())
                    if self.odd.true_cycle and n > 1:
                        self.values[n]["cycle_time"] = self.made[-1] - self.made[-2]
                    self._plan(queue, next(due), n + 1)
                if what == "shot" or (what == "count" and not self.odd.values_s):
                    self._values_of = n
                self._write(*self._moving(what))

    def _moving(self, what: str) -> tuple[str, ...]:
        """Return what moves at an event; values that come with the count are put before it, at the same instant."""
        if what == "count" and not self.odd.values_s:
            return "shot", "count"
        return ("count" if what == "dry" else what,)

    def _plan(self, queue: list[tuple[float, int, str]], at: float, n: int) -> None:
        """Put the events of shot `n` into the queue; a dry cycle lies in the middle between two shots."""
        heapq.heappush(queue, (at, n, "count"))
        if self.odd.values_s:
            heapq.heappush(queue, (at + self.odd.values_s, n, "shot"))
        if n in self.odd.dry_after:
            heapq.heappush(queue, (at + self.odd.cycle_s / 2, n, "dry"))

    def _write(self, *moves: str) -> None:
        assert self._process.stdin is not None
        now = time.time()
        since = now - (self.made[-1] if self.made else self._began)
        n = self._values_of
        moment = Moment(len(self.made), self._dry, now - self._began, since, self.values[n], self.values[n + 1])
        lines = [
            f"{place.address} {' '.join(map(str, encoded(place, place.value(moment), self.odd)))}\n"
            for kind in moves
            for place in self.odd.places
            if place.moves == kind
        ]
        self._process.stdin.write("".join(lines))
        self._process.stdin.flush()


class PlayedLines(Played):
    """A press that prints, on a pseudo-terminal or a socket."""

    def __init__(self, press: LinePress, stand_s: float) -> None:
        super().__init__(press, stand_s)
        self.printer = press
        self._peer: socket.socket | None = None
        self._threads = [threading.Thread(target=self._run)]
        if press.wire == "tcp":
            self._listener = socket.create_server(("127.0.0.1", 0))
            self._listener.settimeout(0.1)
            self.where = f"socket://127.0.0.1:{self._listener.getsockname()[1]}"
            self._threads.append(threading.Thread(target=self._accept))
        else:
            self._far, self._near = os.openpty()
            tty.setraw(self._near)
            self.where = os.ttyname(self._near)
        for each in self._threads:
            each.start()

    def stop(self) -> None:
        super().stop()
        for each in self._threads:
            each.join()
        if self.printer.wire == "pty":
            os.close(self._far)
            os.close(self._near)
        else:
            self._listener.close()
            if self._peer is not None:
                self._peer.close()

    def _accept(self) -> None:
        while not self._stop.is_set():
            with contextlib.suppress(TimeoutError):
                fresh = self._listener.accept()[0]
                if self._peer is not None:
                    self._peer.close()
                self._peer = fresh

    def _run(self) -> None:
        due = self._due()
        for n in range(1, len(self.values)):
            if self._stop.wait(max(0.0, next(due) - time.time())):
                return
            self.made.append(time.time())
            self._say(self.printer.printed(n, self.values[n]))

    def _say(self, data: bytes) -> None:
        with contextlib.suppress(OSError):
            if self.printer.wire == "pty":
                os.write(self._far, data)
            elif self._peer is not None:
                self._peer.sendall(data)


@contextlib.contextmanager
def played(press: OddPress | LinePress, stand_s: float = 0.0) -> Iterator[Played]:
    """Run a press, which stands for a while once it is read, as while a range of registers is looked through."""
    if isinstance(press, LinePress):
        printing = PlayedLines(press, stand_s)
        try:
            yield printing
        finally:
            printing.stop()
        return
    program = [sys.executable, "-m", "tests.learned.peer"] if press.peer == "pyModbusTCP" else [str(c_peer())]
    command = [*program, *press.arguments()]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    playing = PlayedRegisters(press, process, stand_s)
    try:
        yield playing
    finally:
        playing.stop()
        with contextlib.suppress(OSError), process:
            pass
