"""A press at speed, ``shotlog run`` beside it, and all who are told, in a folder; what is offered is written down."""

import json
import os
import re
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import closing
from functools import partial
from pathlib import Path
from typing import Any, Self

from tests.end_to_end.running import ServedPress
from tests.faults.messages.receivers import SECRET, Broker, Inbox, Listener, free_port

_STANDS = 100
"""What the counter shows before the first shot."""
_LIMIT_MM = 4.2
_PATIENCE_S = 90.0
_TAKEN_S = 2.0


class Shop:
    """`every_s`: between two shots."""

    def __init__(self, folder: Path, every_s: float = 0.1) -> None:
        self.folder = folder
        self.every_s = every_s
        self.press = ServedPress()
        self.press.stop()
        self.press.port = free_port()
        self.press.start()
        self._show(_STANDS)
        self.broker, self.inbox = Broker(folder), Inbox(folder)
        self.offered: dict[int, float] = {}
        self.said: dict[int, float] = {}
        """Shot -> when the logger said that it is stored, s since 1970."""
        self.lines: list[str] = []
        self.listener: Listener | None = None
        self._run: subprocess.Popen[str] | None = None
        self._readers: list[threading.Thread] = []
        (folder / "broker.password").write_text(SECRET + "\n", encoding="utf-8")
        (folder / "broker.password").chmod(0o600)
        self.config = folder / "trial.toml"
        self.config.write_text(
            '[log]\nstore = "sqlite:///trial.db"\nreserve_mb = 1\n'
            f'[messages]\nsite = "hall-2"\nmqtt = "mqtt://logger@127.0.0.1:{self.broker.port}"\n'
            f'mqtt_password_file = "broker.password"\nto = ["{self.inbox.address}"]\n'
            f"[design.cap-r2.limits]\ncushion = {{ low = {_LIMIT_MM} }}\n{self.press.config('P1')}",
            encoding="utf-8",
        )
        self.config.chmod(0o600)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._run is not None and self._run.poll() is None:
            self._run.send_signal(signal.SIGINT)
            try:
                self._run.wait(20)
            except subprocess.TimeoutExpired:
                self._run.kill()
        for reader in self._readers:
            reader.join()
        if self.listener is not None:
            self.listener.stop()
        self.broker.kill()
        self.inbox.kill()
        self.press.stop()

    # Who is told.

    def listen(self) -> None:
        """Start the broker and who listens behind it."""
        self.broker.start()
        self.listener = Listener(self.broker.port, self.folder / "heard", "referee")

    # The logger.

    def log(self) -> None:
        """Start the logger."""
        self._run = subprocess.Popen(
            [sys.executable, "-m", "shotlog", "run", str(self.config), "--no-dashboard"],
            stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip
        answered = self.answers()
        self._readers.append(threading.Thread(target=self._read, args=(self._run,)))
        self._readers[-1].start()
        self.until(lambda: self.answers() > answered)

    def answers(self) -> int:
        """Return how often the logger has said that the press answers."""
        return sum("the press answers" in line for line in self.lines)

    def _read(self, run: "subprocess.Popen[str]") -> None:
        assert run.stderr is not None
        with run.stderr:
            for line in run.stderr:
                if found := re.search(r" P1: shot (\d+) ", line):
                    self.said.setdefault(int(found[1]), time.time())
                self.lines.append(line.rstrip("\n"))

    def kill_logger(self) -> None:
        assert self._run is not None
        self._run.kill()
        self._run.wait()

    def end_logger(self) -> int:
        assert self._run is not None
        self._run.send_signal(signal.SIGINT)
        return self._run.wait(30)

    def messenger(self) -> int | None:
        """Return the process that sends."""
        for one in Path("/proc").iterdir():
            try:
                words = (one / "cmdline").read_bytes().split(b"\0")
            except OSError:
                continue
            if b"shotlog.notify" in words and str(self.config).encode() in words:
                return int(one.name)
        return None

    def kill_messenger(self) -> None:
        was = self.messenger()
        assert was is not None
        os.kill(was, signal.SIGKILL)
        self.until(lambda: self.messenger() not in (None, was))

    def type(self, *words: str) -> str:
        done = subprocess.run(
            [sys.executable, "-m", "shotlog", words[0], str(self.config), *words[1:]],
            capture_output=True, text=True, check=False, timeout=_PATIENCE_S,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout

    # What is offered.

    def shots(self, n: int, *, low: bool = False) -> None:
        """Offer `n` shots; `low`: beyond the action limit of the cushion."""
        for _ in range(n):
            shot = max(self.offered, default=_STANDS) + 1
            self._show(shot, low=low)
            self.offered[shot] = time.time()
            time.sleep(self.every_s)
            # a machine with much to do may read late, and the next shot would take the place of this one
            self.until(partial(self.said.__contains__, shot), _TAKEN_S)

    def _show(self, shot: int, *, low: bool = False) -> None:
        words = [shot % 65536, 380 if low else 480 + shot % 7, 0, 0x4402, 3800 + shot % 5, 0]
        self.press.bank.set_input_registers(0, words)

    # What is in the log.

    def logged(self) -> list[int]:
        return [row[0] for row in self._rows("SELECT shot FROM shots ORDER BY shot")]

    def _rows(self, question: str) -> list[Any]:
        with closing(sqlite3.connect(f"file:{self.folder / 'trial.db'}?mode=ro", uri=True)) as log:
            return log.execute(question).fetchall()

    # Waiting.

    def until(self, holds: Callable[[], bool], patience_s: float = _PATIENCE_S) -> bool:
        """Wait until something holds; returns whether it did in time."""
        end = time.monotonic() + patience_s
        while not holds():
            if time.monotonic() > end:
                return False
            time.sleep(0.05)
        return True

    def quiet(self, for_s: float = 4.0) -> None:
        """Wait until nobody hears anything for a while."""
        end, seen, since = time.monotonic() + _PATIENCE_S, (-1, -1), time.monotonic()
        while time.monotonic() < end:
            now = (sum(not one.kept for one in self.heard()), len(self.inbox.taken()))
            if now != seen:
                seen, since = now, time.monotonic()
            if time.monotonic() - since > for_s:
                return
            time.sleep(0.2)

    def heard(self) -> list[Any]:
        return self.listener.heard() if self.listener is not None else []

    def where_the_secret_is(self) -> list[str]:
        """Return every place but the configuration that has the secret in it."""
        allowed = {self.config.name, "broker.password"}
        found = [
            str(file.relative_to(self.folder)) for file in self.folder.rglob("*")
            if file.is_file() and file.name not in allowed and SECRET.encode() in file.read_bytes()
        ]  # fmt: skip
        for one in Path("/proc").iterdir():
            try:
                words = (one / "cmdline").read_bytes()
            except OSError:
                continue
            if SECRET.encode() in words and b"mosquitto" not in words:
                found.append(f"process {words[:80]!r}")
        return (
            found
            + [line for line in self.lines if SECRET in line]
            + [json.dumps(one) for one in self.inbox.taken() if SECRET in json.dumps(one)]
        )
