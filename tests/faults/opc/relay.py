"""The wire between logger and press: carries bytes both ways, can be cut, and is listened to."""

import contextlib
import selectors
import socket
import struct
import threading
from collections import Counter

from tests.faults.opc.services import Listener

__all__ = ["Relay"]


class Relay:
    """A TCP relay on a free port of the loopback address, to a press on `target`.

    What the client asks for is counted over all connections.
    """

    def __init__(self, target: int) -> None:
        self.target = target
        self._listeners: list[Listener] = []
        self._pairs: list[tuple[socket.socket, socket.socket]] = []
        self._guard = threading.Lock()
        self._ended = False
        self.refusing = False
        self._door = socket.create_server(("127.0.0.1", 0))
        self.port = int(self._door.getsockname()[1])
        self._threads = [threading.Thread(target=self._let_in, daemon=True)]
        self._threads[0].start()

    @property
    def asked(self) -> Counter[str]:
        """What was asked for."""
        return sum((listener.asked for listener in list(self._listeners)), Counter[str]())

    @property
    def unread(self) -> list[str]:
        """What was sent and could not be read."""
        return [line for listener in list(self._listeners) for line in listener.unread]

    @property
    def connections(self) -> int:
        """How many there were."""
        return len(self._listeners)

    def cut(self) -> None:
        """Cut every connection, as a pulled cable behind a switch that resets does."""
        with self._guard:
            pairs, self._pairs = self._pairs, []
        for pair in pairs:
            for end in pair:
                with contextlib.suppress(OSError):
                    end.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
                with contextlib.suppress(OSError):
                    end.shutdown(socket.SHUT_RDWR)

    def close(self) -> None:
        """Be gone."""
        self._ended = True
        with contextlib.suppress(OSError):
            self._door.shutdown(socket.SHUT_RDWR)
        self._door.close()
        self.cut()
        for thread in self._threads:
            thread.join(timeout=5)

    def _let_in(self) -> None:
        while not self._ended:
            try:
                client, _ = self._door.accept()
            except OSError:
                return
            if self.refusing:
                client.close()
                continue
            try:
                press = socket.create_connection(("127.0.0.1", self.target), timeout=5)
            except OSError:
                client.close()
                continue
            press.settimeout(None)
            listener = Listener()
            with self._guard:
                self._listeners.append(listener)
                self._pairs.append((client, press))
            thread = threading.Thread(target=self._carry, args=(client, press, listener), daemon=True)
            self._threads.append(thread)
            thread.start()

    def _carry(self, client: socket.socket, press: socket.socket, listener: Listener) -> None:
        with selectors.DefaultSelector() as ready, client, press:
            ready.register(client, selectors.EVENT_READ, (press, listener))
            ready.register(press, selectors.EVENT_READ, (client, None))
            with contextlib.suppress(OSError):
                while True:
                    for key, _ in ready.select():
                        source = key.fileobj
                        assert isinstance(source, socket.socket)
                        other, hears = key.data
                        data = source.recv(65536)
                        if not data:
                            return
                        if hears is not None:
                            hears.hear(data)
                        other.sendall(data)
