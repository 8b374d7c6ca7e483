"""A receiver of people's messages, a process of its own: takes what is sent to it over HTTP and writes it down.

``python inbox.py PORT FILE``; on SIGUSR1 it takes requests and never answers, on SIGUSR2 it answers again.
"""

import json
import signal
import sys
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

MUTE = threading.Event()


class Inbox(BaseHTTPRequestHandler):
    """Writes each message as a line: when it came, its title and text; only what is answered counts as taken."""

    def do_POST(self) -> None:
        sent = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        if MUTE.is_set():
            time.sleep(3600)
        with Path(sys.argv[2]).open("a", encoding="utf-8") as taken:
            taken.write(json.dumps({"at": time.time(), **sent}) + "\n")
        self.send_response(200)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def log_message(self, *_: object) -> None:
        """Say nothing."""


class Server(ThreadingHTTPServer):
    allow_reuse_address = True
    daemon_threads = True


if __name__ == "__main__":
    signal.signal(signal.SIGUSR1, lambda *_: MUTE.set())
    signal.signal(signal.SIGUSR2, lambda *_: MUTE.clear())
    Server(("127.0.0.1", int(sys.argv[1])), Inbox).serve_forever()
