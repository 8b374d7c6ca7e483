"""A viewer without a screen: opens pages of a running logger one after the other, each second, as a browser does.

    python -m tests.benchmark.page_asker PORT PATH...

It asks for the layout of a page and then calls every callback that a browser calls for it. Once the first page is there
it prints a line; when its standard input ends it prints how long each later one took, in seconds, as one JSON list.
"""

import http.client
import json
import sys
import threading
import time
from dataclasses import dataclass
from typing import Any

from tests.benchmark.bench_pages import Tab

__all__ = ["Served"]

_EVERY_S = 1.0
_START_S = 300.0


@dataclass(frozen=True)
class Answer:
    """What came back: `body` as it was sent."""

    status_code: int
    body: bytes

    def get_json(self) -> Any:
        return json.loads(self.body)


class Served:
    """Asks a server on this machine, with the token that its first page leaves in a cookie."""

    def __init__(self, port: int) -> None:
        self._asking = http.client.HTTPConnection("127.0.0.1", port)
        self._asking.request("GET", "/help")
        first = self._asking.getresponse()
        first.read()
        cookie = (first.getheader("Set-Cookie") or "").partition(";")[0]
        self._headers = {"Cookie": cookie, "X-CSRFToken": cookie.partition("=")[2]}

    def get(self, path: str) -> Answer:
        self._asking.request("GET", path, headers=self._headers)
        return self._answer()

    def post(self, path: str, json: Any) -> Answer:  # the name is that of the client in a test
        self._asking.request("POST", path, _body(json), {**self._headers, "Content-Type": "application/json"})
        return self._answer()

    def _answer(self) -> Answer:
        came = self._asking.getresponse()
        return Answer(came.status, came.read())


def _body(asked: Any) -> bytes:
    return json.dumps(asked).encode()


def _once_there(port: int) -> Served:
    until = time.monotonic() + _START_S
    while True:
        try:
            return Served(port)
        except OSError:
            if time.monotonic() > until:
                raise
            time.sleep(0.2)


def main(port: int, paths: list[str]) -> None:
    tab, ended, took, n = Tab(_once_there(port)), threading.Event(), list[float](), 0
    threading.Thread(target=lambda: (sys.stdin.read(), ended.set()), daemon=True).start()
    tab.open(paths[0])
    print("there", flush=True)
    while not ended.is_set():
        began = time.monotonic()
        tab.open(paths[n % len(paths)])
        took.append(time.monotonic() - began)
        n += 1
        ended.wait(max(0.0, _EVERY_S - took[-1]))
    print(json.dumps(took))


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2:])
