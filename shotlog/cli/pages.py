"""The pages beside the logging: a process of their own, so that a busy page delays no poll.

When it ends by itself it is started again. It never outlives this process: it ends when its standard input closes,
which the system sees to however this process ends.
"""

import logging
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from shotlog.access.reach import why_no_pages
from shotlog.own_python import own_environment, own_python
from shotlog.restarts import Restarts
from shotlog.settings import Settings

__all__ = ["Pages", "pages", "pages_process"]

_LOOK_S = 0.2
_LOOK_AGAIN_S = 2.0
"""How often it is looked whether somebody has made the account without which there are no pages."""
_LET_GO_S = 1.0
"""How long the process has to end when it is asked to, before it is ended."""
_LINE = 4096

logger = logging.getLogger(__name__)


@contextmanager
def pages(settings: Settings, wanted: bool, stop: threading.Event) -> Iterator[None]:
    """Serve the pages for the length of the block, or until `stop`."""
    if not wanted:
        yield
        return
    kept = Pages(lambda: pages_process(settings.file, stderr=subprocess.PIPE), stop, lambda: why_no_pages(settings))
    kept.start()
    try:
        yield
    finally:
        kept.end()


def pages_process(config: Path, *options: str, stderr: int | None = None) -> "subprocess.Popen[bytes]":
    """Start the process that serves the pages; it ends when the end of its standard input that we hold is closed."""
    command = own_python("-m", "dashboard", str(config), "--attached", *options)
    return subprocess.Popen(command, stdin=subprocess.PIPE, stderr=stderr, env=own_environment())  # noqa: S603  (our own Python, its arguments ours; no shell)


class Pages(threading.Thread):
    """Keeps the pages' process going until `stop`; what it says on stderr is said here.

    `refused`: why there are to be none, empty where they may be. That is said once, and looked at again and again.
    """

    def __init__(
        self,
        begin: Callable[[], "subprocess.Popen[bytes]"],
        stop: threading.Event,
        refused: Callable[[], str] = lambda: "",
    ) -> None:
        super().__init__(name="pages", daemon=True)
        self._begin, self._stop_event, self._refused = begin, stop, refused
        self._ended = threading.Event()
        self._restarts = Restarts()

    def end(self) -> None:
        """End the process; returns when it is gone."""
        self._ended.set()
        self.join()

    def run(self) -> None:
        """Start the process, and again whenever it ends by itself."""
        while self._may_be():
            how = self._serve_once()
            if self._wait(2 * _LOOK_S):  # Ctrl-C reaches both processes, and the other one may be quicker
                return
            wait_s = self._restarts.ended(time.monotonic())
            logger.error("the pages are gone (%s); logging goes on, and they are started again in %.0f s", how, wait_s)
            self._wait(wait_s)

    def _may_be(self) -> bool:
        """Wait until the pages may be served; return False once it is to stop."""
        why = self._refused()
        if why and not self._stopping():
            logger.error("%s. Logging goes on; the pages come by themselves once that is done", why)
        while not self._stopping() and self._refused():
            self._wait(_LOOK_AGAIN_S)
        return not self._stopping()

    def _serve_once(self) -> str:
        """Serve until the process ends or is to end; return how it ended."""
        try:
            process = self._begin()
        except OSError as error:
            return f"not started: {error.strerror or error}"
        with process:
            relay = threading.Thread(target=_relay, args=(process,), name="pages' words", daemon=True)
            relay.start()
            while process.poll() is None and not self._wait(_LOOK_S):
                pass
            _let_go(process)
            relay.join(_LET_GO_S)
        status = process.returncode
        return f"killed by {signal.Signals(-status).name}" if status < 0 else f"it ended with status {status}"

    def _wait(self, seconds: float) -> bool:
        """Wait up to `seconds`; return True soon after either has been said to stop."""
        until = time.monotonic() + seconds
        while not self._stopping() and time.monotonic() < until:
            self._ended.wait(min(_LOOK_S, seconds))
        return self._stopping()

    def _stopping(self) -> bool:
        return self._stop_event.is_set() or self._ended.is_set()


def _let_go(process: "subprocess.Popen[bytes]") -> None:
    """End a process: asked first, then by closing what it lives by, then by force."""
    process.terminate()
    try:
        process.wait(_LET_GO_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()
    if process.stdin is not None:
        with suppress(OSError):
            process.stdin.close()


def _relay(process: "subprocess.Popen[bytes]") -> None:
    """Say what a process says. Its lines are read at once, whoever reads ours: it must not be held up either."""
    if process.stderr is not None:
        for line in iter(lambda: process.stderr.readline(_LINE) if process.stderr else b"", b""):
            print(line.decode("utf-8", "replace").rstrip("\r\n"), file=sys.stderr)
