"""However many signals come at once, `run` is asked to end, and does."""

import signal
import subprocess
import sys
import threading

import pytest

from shotlog.cli.run import stop_on_signals

CHILD = """
import os, signal, sys, threading
from shotlog.cli.run import stop_on_signals

class Interrupted(threading.Condition):
    def notify_all(self):
        os.kill(os.getpid(), signal.SIGINT)  # the next signal, while whoever sets the event holds its lock
        super().notify_all()

with stop_on_signals() as stop:
    stop._cond = Interrupted(threading.Lock())
    for name in sys.argv[1:]:
        os.kill(os.getpid(), getattr(signal, name))
    stop.wait()
    stop.set()
print("ended")
"""


@pytest.mark.skipif(not hasattr(signal, "SIGHUP"), reason="where a terminal that closes sends no signal")
def test_signals_that_come_while_another_is_heeded_hang_nothing() -> None:
    """A terminal that closes sends two, from the kernel and the shell: `run` hung for ever, 20 of 86 times."""
    command = [sys.executable, "-c", CHILD, "SIGHUP", "SIGTERM", "SIGHUP"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=30, check=False)
    assert (done.stdout, done.returncode) == ("ended\n", 0)


def test_a_block_that_ends_by_itself_leaves_nothing_behind() -> None:
    before = signal.getsignal(signal.SIGINT)
    with stop_on_signals() as stop:
        assert signal.getsignal(signal.SIGINT) is not before
    assert signal.getsignal(signal.SIGINT) is before
    assert not stop.is_set()
    assert "signals" not in [thread.name for thread in threading.enumerate()]
