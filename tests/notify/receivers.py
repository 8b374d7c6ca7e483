"""Receivers of messages on loopback, of the standard library: one by HTTP, one that speaks as much SMTP as it takes."""

import json
import socketserver
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, HTTPServer
from typing import Any, ClassVar

__all__ = ["by_http", "by_mail"]


@contextmanager
def by_http() -> Iterator[tuple[int, list[dict[str, Any]]]]:
    """Take what is posted; what is posted to ``/elsewhere`` is sent on to another address, and ``/away`` refuses."""
    got: list[dict[str, Any]] = []

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            if self.path == "/elsewhere":
                self.send_response(307)
                self.send_header("Location", "/taken")
            elif self.path == "/away":
                self.send_response(503)
            else:
                got.append(json.loads(body))
                self.send_response(200)
            self.end_headers()

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    with _serving(HTTPServer(("127.0.0.1", 0), Handler)) as port:
        yield port, got


@contextmanager
def by_mail() -> Iterator[tuple[int, list[str]]]:
    """Take mails, each as it came."""
    got: list[str] = []

    class Handler(socketserver.StreamRequestHandler):
        ANSWERS: ClassVar[dict[bytes, bytes]] = {b"EHLO": b"250 hall", b"QUIT": b"221 bye", b"DATA": b"354 go on"}

        def handle(self) -> None:
            self._say(b"220 hall")
            while line := self.rfile.readline():
                word = line[:4].upper()
                self._say(self.ANSWERS.get(word, b"250 ok"))
                if word == b"DATA":
                    got.append(b"".join(iter(self.rfile.readline, b".\r\n")).decode())
                    self._say(b"250 taken")
                if word == b"QUIT":
                    return

        def _say(self, line: bytes) -> None:
            self.wfile.write(line + b"\r\n")

    with _serving(socketserver.TCPServer(("127.0.0.1", 0), Handler)) as port:
        yield port, got


@contextmanager
def _serving(server: socketserver.TCPServer) -> Iterator[int]:
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    try:
        yield server.server_address[1]
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
