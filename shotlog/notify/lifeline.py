"""Whether the logger is there: standard input stays open for as long as its process lives, however that ends.

Who ends as asked says so before (`FAREWELL`). An end without it is a death: killed, crashed, ended by its watchdog.
"""

import os
import threading

__all__ = ["FAREWELL", "Lifeline"]

FAREWELL = b"farewell\n"
"""What `shotlog run` writes when it has ended as asked."""


class Lifeline:
    """Listens to one end of a pipe; `ended` is set once the other one is closed."""

    def __init__(self, pipe: int) -> None:
        self._pipe = pipe
        self._heard = b""
        self.ended = threading.Event()
        self._thread = threading.Thread(target=self._listen, name="lifeline", daemon=True)

    def start(self) -> None:
        """Begin to listen."""
        self._thread.start()

    @property
    def said_farewell(self) -> bool:
        """Whether the logger said that it ends."""
        return FAREWELL in self._heard

    def _listen(self) -> None:
        try:
            while said := os.read(self._pipe, 64):
                self._heard = (self._heard + said)[-64:]
        except OSError:  # closed under our hands: nobody holds the other end
            pass
        self.ended.set()
