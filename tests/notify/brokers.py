"""A broker that is not ours, Debian's mosquitto, and its own client that reads what was sent."""

import getpass
import json
import os
import shutil
import socket
import subprocess
import threading
import time
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import pytest

from tests.end_to_end.running import DEADLINE_S

__all__ = ["MOSQUITTO", "Broker", "Subscriber", "free_port", "needs_mosquitto"]

MOSQUITTO = shutil.which("mosquitto") or shutil.which("mosquitto", path="/usr/sbin:/usr/local/sbin")
needs_mosquitto = pytest.mark.skipif(
    (MOSQUITTO is None or shutil.which("mosquitto_sub") is None) and "CI" not in os.environ,
    reason="needs mosquitto and mosquitto-clients",
)


def free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


class Broker:
    """A broker on a port of its own that keeps what it retains, and sessions, over a stop where it is `persistent`."""

    def __init__(self, folder: Path, persistent: bool = True, more: str = "") -> None:
        self.port = free_port()
        self._file = folder / "mosquitto.conf"
        kept = f"persistence true\npersistence_location {folder.as_posix()}/\n" if persistent else ""
        # started by root it would become a user of its own, who may not come into the folder of a test
        head = f"per_listener_settings true\nuser {getpass.getuser()}\nmax_queued_messages 0\n{kept}"
        self._file.write_text(f"{head}listener {self.port} 127.0.0.1\nallow_anonymous true\n{more}\n", "utf-8")
        self._process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        self.stop()

    def start(self) -> None:
        assert MOSQUITTO is not None, "mosquitto is not installed"
        command, said = [MOSQUITTO, "-c", str(self._file)], self._file.with_suffix(".said")
        with said.open("w") as out:
            self._process = subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT)
        until = time.monotonic() + DEADLINE_S
        while time.monotonic() < until and self._process.poll() is None:
            with socket.socket() as tried:
                if tried.connect_ex(("127.0.0.1", self.port)) == 0:
                    return
            threading.Event().wait(0.01)
        raise AssertionError(f"mosquitto did not come up: {said.read_text()}")

    def stop(self, kill: bool = False) -> None:
        if self._process is not None:
            (self._process.kill if kill else self._process.terminate)()
            self._process.wait(DEADLINE_S)
            self._process = None


class Subscriber:
    """`mosquitto_sub`, whose lines are handed out as (topic, document, retained)."""

    def __init__(self, port: int, pattern: str = "shotlog/#", *more: str) -> None:
        command = ["mosquitto_sub", "-p", str(port), "-t", pattern, "-q", "1", "-F", "%r %t\t%p", *more]
        self._process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
        self._changed = threading.Condition()
        self.heard: list[tuple[str, dict[str, Any], bool]] = []
        self.times: list[float] = []
        self._thread = threading.Thread(target=self._read)
        self._thread.start()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        self._process.terminate()
        self._process.wait(DEADLINE_S)
        self._thread.join()

    def _read(self) -> None:
        assert self._process.stdout is not None
        with self._process.stdout as lines:
            for line in lines:
                now = time.time()
                head, _, payload = line.decode().rstrip("\n").partition("\t")
                retained, _, topic = head.partition(" ")
                with self._changed:
                    self.heard.append((topic, json.loads(payload), retained == "1"))
                    self.times.append(now)
                    self._changed.notify_all()

    def of(self, end: str) -> list[dict[str, Any]]:
        """Return the documents of topics that end so, in the order they came."""
        with self._changed:
            return [document for topic, document, _ in self.heard if topic.endswith(f"/{end}")]

    def wait_for(self, end: str, count: int = 1, **wanted: object) -> list[dict[str, Any]]:
        """Wait until `count` documents of such topics have these values; return them."""
        until = time.monotonic() + DEADLINE_S
        with self._changed:
            while True:
                found = [
                    one
                    for topic, one, _ in self.heard
                    if topic.endswith(f"/{end}") and all(one.get(key) == value for key, value in wanted.items())
                ]
                if len(found) >= count:
                    return found
                assert self._changed.wait(until - time.monotonic()), f"no {count} {end} {wanted}: {self.heard[-5:]}"
