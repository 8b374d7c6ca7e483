"""The server of the pages under whoever is slow, many or large; and over TLS."""

import socket
import ssl
import threading
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from http.client import HTTPConnection, HTTPSConnection
from pathlib import Path
from time import time
from typing import Any

import pytest

from dashboard.server import _tell_daily
from dashboard.walls import connections
from dashboard.walls.connections import HEAD_S, MOST_BODY, MOST_OF_ONE, WHOLE_S, server
from dashboard.walls.refusing import Refusing
from dashboard.walls.sealed import end_of, sealing, term
from shotlog.errors import UsageError
from shotlog.settings import WallSettings
from tests.dashboard.stopping import stop_serving

_TLS = Path(__file__).parent / "tls"
_ANSWERED = threading.Event()
_LARGE = 6_000_000
"""Bytes of an answer that fits into no buffer of a socket."""


def app(environ: dict[str, Any], start_response: Callable[..., Any]) -> list[bytes]:
    """Answer with what is known of the request; at ``/slow`` once the test says so, at ``/big`` with much."""
    if environ["PATH_INFO"] == "/slow":
        _ANSWERED.wait(30)
    if environ["PATH_INFO"] == "/big":
        start_response("200 OK", [("Content-Length", str(_LARGE))])
        return [b"x" * _LARGE]
    size = len(environ["wsgi.input"].read())
    said = f"{environ['wsgi.url_scheme']} {environ['REMOTE_ADDR']} {environ['HTTP_HOST']} {size}".encode()
    start_response("200 OK", [("Content-Type", "text/plain"), ("Content-Length", str(len(said)))])
    return [said]


class Running:
    """A server in a thread of its own."""

    def __init__(self, walls: WallSettings, tls: ssl.SSLContext | None) -> None:
        self.server = server(app, "127.0.0.1", 0, walls, tls)
        self._thread = threading.Thread(target=self.server.run)
        self._thread.start()
        self.port = int(self.server.effective_port)

    def within(self, act: Callable[[], Any]) -> Any:
        """Do something in the server's own loop, and return what it gave."""
        done, found = threading.Event(), []
        self.server.trigger.pull_trigger(lambda: (found.append(act()), done.set()))
        assert done.wait(30)
        return found[0]

    def held(self) -> int:
        """Return how many connections there are, once those that are to go have gone."""
        until = time() + 30
        while time() < until and self.within(
            lambda: any(one.will_close for one in self.server.active_channels.values())
        ):
            pass
        return int(self.within(lambda: len(self.server.active_channels)))

    def ended(self, within_s: float = 0.0) -> bool:
        self._thread.join(within_s)
        return not self._thread.is_alive()

    def stop(self) -> None:
        if not self.ended():
            stop_serving(self.server, self._thread)

    def open(self, said: bytes = b"") -> socket.socket:
        opened = socket.create_connection(("127.0.0.1", self.port), timeout=30)
        opened.sendall(said)
        return opened

    def ask(
        self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None
    ) -> tuple[int, bytes]:
        with closing(HTTPConnection("127.0.0.1", self.port, timeout=30)) as asked:
            asked.request(method, path, body, headers or {})
            answer = asked.getresponse()
            return answer.status, answer.read()


@pytest.fixture
def run() -> Iterator[Callable[..., Running]]:
    running: list[Running] = []

    def start(walls: WallSettings | None = None, tls: ssl.SSLContext | None = None) -> Running:
        running.append(Running(walls or WallSettings(), tls))
        return running[-1]

    _ANSWERED.clear()
    yield start
    _ANSWERED.set()
    for one in running:
        one.stop()


def is_open(connection: socket.socket) -> bool:
    """Say whether the other side still holds a connection, once it says something or hangs up."""
    with suppress(OSError):
        return connection.recv(1) != b""
    return False


def test_who_opens_connections_and_says_nothing_keeps_nobody_out(run: Callable[..., Running]) -> None:
    """110 were held, each for as long as it liked, and nobody else was answered."""
    running = run()
    held = [running.open(b"GET / HTTP/1.1\r\nHost: x\r\nX-") for _ in range(110)]
    assert running.ask("GET", "/healthz")[0] == 200
    assert running.held() <= MOST_OF_ONE + 1
    assert not any(is_open(one) for one in held[:70])
    for one in held:
        one.close()


def test_who_takes_no_answer_keeps_nobody_out(run: Callable[..., Running], monkeypatch: pytest.MonkeyPatch) -> None:
    """With as many as there may be, each new one was itself the one that waited, and was dropped at once."""
    monkeypatch.setattr(connections, "MOST_CONNECTIONS", 12)
    running, held = run(), []

    def hold(address: str) -> None:
        held.append(socket.socket())
        held[-1].setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
        held[-1].settimeout(30)
        held[-1].bind((address, 0))
        held[-1].connect(("127.0.0.1", running.port))
        held[-1].sendall(b"GET /big HTTP/1.1\r\nHost: x\r\n\r\n")
        assert held[-1].recv(1) == b"H"

    for n in range(12):
        hold(f"127.0.0.{10 + n % 3}")
    for n in range(6):
        assert running.ask("GET", "/healthz" if n % 2 else "/")[0] == 200
        hold(f"127.0.0.{10 + n % 3}")
    assert running.ask("GET", "/")[0] == 200
    assert running.held() <= 13, "what is dropped is closed"
    for one in held:
        one.close()


def test_an_answer_that_is_not_taken_for_long_is_dropped(run: Callable[..., Running]) -> None:
    running = run()
    with closing(socket.socket()) as one:
        one.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
        one.settimeout(30)
        one.connect(("127.0.0.1", running.port))
        one.sendall(b"GET /big HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n")
        assert one.recv(1) == b"H"
        until = time() + 30
        while time() < until and running.within(lambda: len(running.server.active_channels)):
            running.within(lambda: running.server.maintenance(time() + 1000))  # while it is answered it is not idle
        assert running.held() == 0


def test_a_request_that_is_not_whole_in_time_is_dropped(run: Callable[..., Running]) -> None:
    """However often it says a byte: it was held as long as one came in two minutes."""
    running = run()
    begun = time()
    head = running.open(b"GET / HTTP/1.1\r\nX-")
    body = running.open(b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 9\r\n\r\nabc")
    quiet = running.open()
    assert running.ask("GET", "/")[0] == 200
    running.within(lambda: running.server.maintenance(begun + HEAD_S - 1))
    for one in (head, body):
        one.sendall(b"a")
    running.within(lambda: running.server.maintenance(time() + HEAD_S + 1))
    assert not is_open(head)
    assert not is_open(quiet)
    assert running.held() == 1
    running.within(lambda: running.server.maintenance(time() + WHOLE_S + 1))
    assert not is_open(body)
    for one in (head, body, quiet):
        one.close()


def test_what_watches_the_logger_is_answered_however_busy_the_pages_are(run: Callable[..., Running]) -> None:
    running = run()
    asked = [running.open(b"GET /slow HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n") for _ in range(20)]
    assert running.ask("GET", "/healthz")[0] == 200
    _ANSWERED.set()
    for one in asked:
        assert is_open(one)
        one.close()


def test_only_a_picture_may_be_large(run: Callable[..., Running]) -> None:
    running = run()
    assert running.ask("POST", "/_dash-update-component", b"x" * (MOST_BODY - 1))[0] == 200
    assert running.ask("POST", "/pictures/?shot=1", b"x" * (3 * MOST_BODY))[0] == 200
    for path, size in (("/_dash-update-component", MOST_BODY), ("/login", 10**9), ("/pictures/", 10**8)):
        with closing(
            running.open(b"POST %b HTTP/1.1\r\nHost: x\r\nContent-Length: %d\r\n\r\n" % (path.encode(), size))
        ) as one:
            assert one.recv(12) == b"HTTP/1.1 413"
    with closing(running.open(b"POST / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\n")) as one:
        with suppress(OSError):
            for _ in range(9):
                one.sendall(b"8000\r\n" + b"x" * 0x8000 + b"\r\n")
        assert not one.recv(15).startswith(b"HTTP/1.1 200")
    with closing(running.open(b"GET / HTTP/1.1\r\nX: " + b"x" * 40_000)) as one:
        assert one.recv(12) == b"HTTP/1.0 431"


def test_what_a_proxy_says_is_believed_of_a_configured_one_alone(run: Callable[..., Running]) -> None:
    said = {"X-Forwarded-For": "192.0.2.9", "X-Forwarded-Proto": "https", "X-Forwarded-Host": "press.example"}
    alone, behind, other = run(), run(WallSettings(proxy="127.0.0.1")), run(WallSettings(proxy="192.0.2.1"))
    assert alone.ask("GET", "/", headers=said)[1] == f"http 127.0.0.1 127.0.0.1:{alone.port} 0".encode()
    assert other.ask("GET", "/", headers=said)[1] == f"http 127.0.0.1 127.0.0.1:{other.port} 0".encode()
    assert behind.ask("GET", "/", headers=said)[1] == b"https 192.0.2.9 press.example 0"


def test_no_answer_tells_by_what_it_was_served(run: Callable[..., Running]) -> None:
    running = run()
    right = b"GET / HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
    for asked, status in ((right, b"200"), (b"nothing of the kind\r\n\r\n", b"400"), (right.lower(), b"400")):
        with closing(running.open(asked)) as one:
            whole = b"".join(iter(lambda: one.recv(4096), b"")).lower()
            assert whole[9:12] == status
            assert b"waitress" not in whole
            assert b"server: " not in whole


def test_what_is_no_request_is_answered_and_is_no_line_in_the_log(
    run: Callable[..., Running], caplog: pytest.LogCaptureFixture
) -> None:
    """Each was a line of 700 characters in the log, and not answered."""
    running = run()
    for said, status in (
        (b"GET / HTTP/1.1\r\nHost: a\0b\r\n\r\n", b"400"),
        (b"POST / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: \x0bchunked\r\n\r\n", b"400"),
        (b"GET / HTTP/x\r\nHost: x\r\n\r\n", b"400"),
        (b"GET http://[ HTTP/1.1\r\nHost: x\r\n\r\n", b"400"),
        (b"\xff\xfe\r\n\r\n", b"400"),
    ):
        with closing(running.open(said)) as one:
            assert one.recv(12)[9:12] == status, said
    assert not caplog.records


def test_a_mistake_of_ours_closes_the_connection_and_is_told_now_and_then(
    run: Callable[..., Running], caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    running = run()
    monkeypatch.setattr(type(running.server), "refusing", Refusing())
    monkeypatch.setattr(type(running.server.task_dispatcher), "add_task", lambda *_: {}["what nobody foresaw"])
    for _ in range(5):
        with closing(running.open(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")) as one:
            assert not is_open(one)
    (told,) = [record.getMessage() for record in caplog.records]
    assert told.startswith("the pages refused a connection by a mistake of ours (KeyError in <lambda>, test_connection")
    assert str(Path(__file__).parent) not in told
    monkeypatch.undo()
    assert running.ask("GET", "/")[0] == 200


def test_a_server_that_is_told_to_stop_is_there_for_as_long_as_anybody_wakes_it(
    run: Callable[..., Running], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Woken by another one first, it was gone before it was told to go: the pipe was closed, or another file's."""
    running = run()
    trigger = running.server.trigger
    wake = trigger._physical_pull

    def woken_by_another_first() -> None:
        wake()
        running.ended(within_s=0.05)
        wake()

    monkeypatch.setattr(trigger, "_physical_pull", woken_by_another_first)
    running.stop()
    assert running.ended()


def test_pages_are_served_over_tls(run: Callable[..., Running]) -> None:
    running = run(tls=sealing(_TLS / "pages.pem", _TLS / "pages.key"))
    trusting = ssl.create_default_context(cafile=str(_TLS / "pages.pem"))
    with closing(HTTPSConnection("127.0.0.1", running.port, timeout=30, context=trusting)) as asked:
        for size in (0, 1, 100_000, 3_000_000):
            asked.request("POST", "/pictures/", b"x" * size)
            answer = asked.getresponse()
            assert answer.read() == f"https 127.0.0.1 127.0.0.1:{running.port} {size}".encode()
        assert asked.sock.version() == "TLSv1.3"
    old = ssl.create_default_context(cafile=str(_TLS / "pages.pem"))
    old.maximum_version = ssl.TLSVersion.TLSv1_2
    with closing(HTTPSConnection("127.0.0.1", running.port, timeout=30, context=old)) as asked:
        asked.request("GET", "/")
        assert asked.getresponse().status == 200
    status, said = running.ask("GET", "/")
    assert (status, said) == (400, b"These pages are served over TLS: the address begins with https://\n")


def test_a_slow_hand_shake_keeps_nobody_out(run: Callable[..., Running]) -> None:
    running = run(tls=sealing(_TLS / "pages.pem", _TLS / "pages.key"))
    held = [running.open(b"\x16\x03\x01") for _ in range(60)]
    trusting = ssl.create_default_context(cafile=str(_TLS / "pages.pem"))
    with closing(HTTPSConnection("127.0.0.1", running.port, timeout=30, context=trusting)) as asked:
        asked.request("GET", "/healthz")
        assert asked.getresponse().status == 200
    running.within(lambda: running.server.maintenance(time() + HEAD_S + 1))
    assert not any(is_open(one) for one in held)
    for one in held:
        one.close()


@pytest.mark.parametrize(
    ("certificate", "key", "said"),
    [
        ("nowhere.pem", "pages.key", "dashboard.certificate: .*nowhere.pem cannot be read: No such file or directory"),
        ("pages.pem", "nowhere.key", "dashboard.key: .*nowhere.key cannot be read: No such file or directory"),
        ("pages.pem", "another.key", "dashboard.key: .*another.key is not the key of the certificate .*pages.pem"),
        ("pages.key", "pages.key", "are no certificate and key in PEM without a password"),
        ("pages.pem", "pages.pem", "are no certificate and key in PEM without a password"),
    ],
)
def test_files_that_do_not_serve_are_told_in_a_line(certificate: str, key: str, said: str) -> None:
    with pytest.raises(UsageError, match=said) as told:
        sealing(_TLS / certificate, _TLS / key)
    assert "\n" not in str(told.value)


def test_a_certificate_that_ends_is_told_before_and_after() -> None:
    file, end = _TLS / "pages.pem", ssl.cert_time_to_seconds("Nov  4 19:28:15 2126 GMT")
    until = end_of(file, sealing(file, _TLS / "pages.key"))
    assert term(file, until, time()) == ""
    assert term(file, until, end - 86_400).endswith(
        "ends on Nov  4 19:28:15 2126 GMT; put another in its place and start anew before"
    )
    assert "ended on Nov  4 19:28:15 2126 GMT: browsers warn" in term(file, until, end + 1)


def test_that_a_certificate_ends_is_told_each_day_while_the_pages_are_served(caplog: pytest.LogCaptureFixture) -> None:
    said, waited = iter(["", "it ends", "it ended"]), []

    def closed(seconds: float) -> bool:
        waited.append(seconds)
        return len(waited) > 3

    _tell_daily(lambda: next(said), closed)
    assert [record.getMessage() for record in caplog.records] == ["it ends", "it ended"]
    assert waited == [86_400.0] * 4
