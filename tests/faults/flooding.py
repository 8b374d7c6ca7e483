"""Peers that misbehave on a TCP socket: each gets a thread of its own that ends with the test."""

import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

Act = Callable[[socket.socket, threading.Event], None]

__all__ = ["flood", "hang_up", "peer", "say_nothing", "trickle"]


@contextmanager
def peer(act: Act) -> Iterator[tuple[int, list[int]]]:
    """Serve `act` to whoever connects; yields the port, and a list that grows by one a connection."""
    stop, met = threading.Event(), list[int]()
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0.05)

        def serve() -> None:
            while not stop.is_set():
                try:
                    line, _ = server.accept()
                except TimeoutError:
                    continue
                met.append(len(met))
                with line:
                    line.settimeout(0.2)
                    try:
                        act(line, stop)
                    except OSError:
                        continue

        thread = threading.Thread(target=serve)
        thread.start()
        try:
            yield server.getsockname()[1], met
        finally:
            stop.set()
            thread.join()


def flood(pattern: bytes) -> Act:
    """Send a pattern without an end, as fast as it is taken."""

    def act(line: socket.socket, stop: threading.Event) -> None:
        block = pattern * (1 + 65536 // len(pattern))
        while not stop.is_set():
            try:
                line.send(block)
            except TimeoutError:
                continue

    return act


def trickle(answer: bytes, seconds: float) -> Act:
    """Answer every request, a byte at a time."""

    def act(line: socket.socket, stop: threading.Event) -> None:
        while not stop.is_set():
            try:
                asked = line.recv(256)
            except TimeoutError:
                continue
            if not asked:
                return
            for byte in asked[:2] + answer:
                if stop.wait(seconds):
                    return
                line.send(bytes([byte]))

    return act


def say_nothing(line: socket.socket, stop: threading.Event) -> None:
    """Take the connection and what comes, and answer nothing."""
    while not stop.is_set():
        try:
            if not line.recv(4096):
                return
        except TimeoutError:
            continue


def hang_up(line: socket.socket, stop: threading.Event) -> None:
    """Close at once."""
