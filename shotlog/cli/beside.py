"""A process of its own beside the logging, so that whatever it waits for delays no poll.

When it ends by itself it is started again. It never outlives this process: it ends when its standard input closes,
which the system sees to however this process ends.
"""

import logging
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress

from shotlog.restarts import Restarts

__all__ = ["LET_GO_S", "Beside"]

_LOOK_S = 0.2
_LOOK_AGAIN_S = 2.0
"""How often it is looked whether somebody has made what was lacking, such as an account for the pages."""
LET_GO_S = 1.0
"""How long the process has to end when it is asked to, before it is ended."""
_LINE = 4096

logger = logging.getLogger(__name__)


class Beside(threading.Thread):
    """Keeps a process going until `stop`; what it says on stderr is said here.

    Parameters
    ----------
    named
        The process in the plural, as people know it: "the pages".
    begin
        Starts it; it ends when its standard input closes, the end of which we hold.
    refused
        Why there is to be none, empty where it may be. That is said once, and looked at again and again.
    farewell
        What is written to its standard input before that is closed as asked. Where there is such a word the process is
        given `let_go_s` to end by that, before it is asked to end.
    """

    def __init__(
        self,
        named: str,
        begin: Callable[[], "subprocess.Popen[bytes]"],
        stop: threading.Event,
        refused: Callable[[], str] = lambda: "",
        farewell: bytes = b"",
        let_go_s: float = LET_GO_S,
    ) -> None:
        super().__init__(name=named, daemon=True)
        self._begin, self._stop_event, self._refused = begin, stop, refused
        self._farewell, self._let_go_s = farewell, let_go_s
        self._ended = threading.Event()
        self._restarts = Restarts()

    def end(self) -> None:
        """End the process; returns when it is gone."""
        self._ended.set()
        self.join()

    def run(self) -> None:
        """Start the process, and again whenever it ends by itself."""
        while self._may_be():
            how = self._run_once()
            if self._wait(2 * _LOOK_S):  # Ctrl-C reaches both processes, and the other one may be quicker
                return
            wait_s = self._restarts.ended(time.monotonic())
            logger.error(
                "%s are gone (%s); logging goes on, and they are started again in %.0f s", self.name, how, wait_s
            )
            self._wait(wait_s)

    def _may_be(self) -> bool:
        """Wait until there may be such a process; return False once it is to stop."""
        why = self._refused()
        if why and not self._stopping():
            logger.error("%s. Logging goes on; %s come by themselves once that is done", why, self.name)
        while not self._stopping() and self._refused():
            self._wait(_LOOK_AGAIN_S)
        return not self._stopping()

    def _run_once(self) -> str:
        """Wait until the process ends or is to end; return how it ended."""
        try:
            process = self._begin()
        except OSError as error:
            return f"not started: {error.strerror or error}"
        with process:
            relay = threading.Thread(target=_relay, args=(process,), name=f"words of {self.name}", daemon=True)
            relay.start()
            while process.poll() is None and not self._wait(_LOOK_S):
                pass
            if self._farewell and process.poll() is None:
                _say_farewell(process, self._farewell, self._let_go_s)
            _let_go(process)
            relay.join(LET_GO_S)
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


def _say_farewell(process: "subprocess.Popen[bytes]", farewell: bytes, seconds: float) -> None:
    """Let a process end by itself; one that does not heed its standard input must not hold us up for longer."""
    if process.stdin is None:
        return
    with suppress(OSError, subprocess.TimeoutExpired):
        process.stdin.write(farewell)
        process.stdin.close()
        process.wait(seconds)


def _let_go(process: "subprocess.Popen[bytes]") -> None:
    """End a process: asked first, then by closing what it lives by, then by force."""
    process.terminate()
    try:
        process.wait(LET_GO_S)
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
