"""Signals of a process that ends with its logger."""

import signal
import threading

__all__ = ["heed_signals"]


def heed_signals(asked: threading.Event) -> None:
    """Leave Ctrl-C and a closed terminal to the logger, which all of a terminal's processes hear of; end by no other.

    A signal sets a flag from a thread: an event takes a lock, and a second signal may come while the first has it.
    """
    for name in ("SIGINT", "SIGBREAK", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    signal.signal(signal.SIGTERM, lambda *_: threading.Thread(target=asked.set, daemon=True).start())
