"""Stopping a server of pages that runs in a thread of the test's."""

import threading
from typing import Any

from waitress.channel import HTTPChannel
from waitress.wasyncore import close_all, dispatcher

__all__ = ["stop_serving"]


def stop_serving(server: Any, thread: threading.Thread) -> None:
    """Have a server hang up, let the threads that answer end, then its loop; return when all have.

    Its loop is woken through a pipe. Whoever wakes it after the loop has closed that fails, or writes into what has
    its number by then: so the threads that answer end first, and the loop waits until we are done with waking it.
    """

    def hang_up() -> None:
        for one in list(server._map.values()):
            if isinstance(one, HTTPChannel):
                one.handle_close()
        dispatcher.close(server)  # its own way would close the pipe as well

    woken = threading.Event()

    def end() -> None:
        woken.wait()
        close_all(server._map, ignore_all=True)

    server.trigger.pull_trigger(hang_up)
    server.task_dispatcher.shutdown()
    server.trigger.pull_trigger(end)
    woken.set()
    thread.join()
