"""Bad answers on a real socket: none may become a value, a hang or a crash, and every one is said.

The server here is a few lines that answer exactly what a test tells them to.
"""

import socket
import socketserver
import struct
import threading
import tomllib
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import Collector, Resume, options
from shotlog.errors import PressRefused, PressUnreachable
from shotlog.records import Fault, Shot
from shotlog.settings import PressSettings, Section

KEYS = """
kind = "modbus-tcp"
host = "127.0.0.1"
port = {port}
unit = 7
timeout_s = {timeout}
shot_counter = {{ address = 0, type = "uint16" }}
[channels]
cushion = {{ address = 10, type = "uint16", scale = 0.01, unit = "mm" }}
peak_pressure = {{ address = 11, type = "uint16", scale = 0.1, unit = "bar" }}
"""

REGISTERS = {0: 7, 10: 497, 11: 5340}

Answer = Callable[[bytes, bytes], list[bytes]]
"""Takes the header (transaction, protocol, length, unit) and the request, gives what to send, piece by piece."""


class _Handler(socketserver.BaseRequestHandler):
    def handle(self) -> None:
        server = self.server
        assert isinstance(server, Press)
        self.request.settimeout(5)
        with server.noting(self.request):
            while header := self._exactly(7):
                request = self._exactly(int.from_bytes(header[4:6], "big") - 1)
                server.requests.append(header + request)
                for piece in server.answer(header, request):
                    if piece == b"RST":
                        self.request.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
                        return
                    if piece == b"FIN":
                        return
                    self.request.sendall(piece)

    def _exactly(self, count: int) -> bytes:
        data = b""
        while len(data) < count:
            try:
                chunk = self.request.recv(count - len(data))
            except OSError:
                return b""
            if not chunk:
                return b""
            data += chunk
        return data


class Press(socketserver.ThreadingTCPServer):
    """Answers every request by `answer`."""

    allow_reuse_address = True

    def __init__(self, port: int = 0) -> None:
        super().__init__(("127.0.0.1", port), _Handler)
        self.requests: list[bytes] = []
        self.answer: Answer = good
        self._open: set[socket.socket] = set()

    @property
    def port(self) -> int:
        return int(self.server_address[1])

    @contextmanager
    def noting(self, connection: socket.socket) -> Iterator[None]:
        self._open.add(connection)
        try:
            yield
        finally:
            self._open.discard(connection)

    def hang_up(self) -> None:
        for connection in list(self._open):
            try:
                connection.shutdown(socket.SHUT_RDWR)
            except OSError:
                continue  # the other side was faster

    def server_close(self) -> None:
        self.hang_up()
        super().server_close()


def asked(request: bytes) -> tuple[int, int, int]:
    function, address, count = struct.unpack(">BHH", request)
    return function, address, count


def framed(header: bytes, pdu: bytes) -> bytes:
    return header[:4] + (len(pdu) + 1).to_bytes(2, "big") + header[6:7] + pdu


def read_answer(request: bytes, registers: dict[int, int] = REGISTERS, short: int = 0) -> bytes:
    function, address, count = asked(request)
    words = b"".join(registers[address + n].to_bytes(2, "big") for n in range(count - short))
    return bytes([function, len(words)]) + words


def good(header: bytes, request: bytes) -> list[bytes]:
    return [framed(header, read_answer(request))]


@pytest.fixture
def played() -> Iterator[Press]:
    with Press() as press:
        thread = threading.Thread(target=press.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        yield press
        press.shutdown()
        thread.join()


def collector(port: int, timeout: float = 2.0, resume: Resume | None = None) -> Collector:
    table = tomllib.loads(KEYS.format(port=port, timeout=timeout))
    section = Section("press.toml", "press[1].collector", table)
    return options(PressSettings("p", "modbus-tcp", section)).build("p", HandClock(), resume)


def taken(press: Collector) -> list[Shot]:
    return [record for record in press.poll() if isinstance(record, Shot)]


def test_the_played_press_is_read(played: Press) -> None:
    with opened(collector(played.port)) as press:
        assert [shot.values for shot in taken(press)] == [{"cushion": 4.97, "peak_pressure": 534.0}]


@contextmanager
def opened(press: Collector) -> Iterator[Collector]:
    press.open()
    try:
        yield press
    finally:
        press.close()


def one_register_short(header: bytes, request: bytes) -> list[bytes]:
    return [framed(header, read_answer(request, short=1))] if asked(request)[2] > 1 else good(header, request)


def other_function(header: bytes, request: bytes) -> list[bytes]:
    return [framed(header, b"\x04" + read_answer(request)[1:])]


def exception_of_another_function(header: bytes, request: bytes) -> list[bytes]:
    return [framed(header, b"\x84\x02")]


def other_unit(header: bytes, request: bytes) -> list[bytes]:
    return [framed(header[:6] + b"\x63", read_answer(request))]


def other_transaction(header: bytes, request: bytes) -> list[bytes]:
    return [framed(b"\x7f\x7f" + header[2:], read_answer(request))]


def garbage(header: bytes, request: bytes) -> list[bytes]:
    return [bytes(range(200))]


def a_write_confirmed(header: bytes, request: bytes) -> list[bytes]:
    return [framed(header, b"\x06\x00\x00\x00\x07")]


def half_an_answer(header: bytes, request: bytes) -> list[bytes]:
    return [good(header, request)[0][:-1], b"FIN"]


@pytest.mark.parametrize(
    "answer",
    [
        one_register_short,
        other_function,
        exception_of_another_function,
        other_unit,
        other_transaction,
        garbage,
        a_write_confirmed,
        half_an_answer,
    ],
)
def test_a_wrong_answer_is_kept_as_a_fault_and_never_becomes_a_value(played: Press, answer: Answer) -> None:
    """The library takes the first two for good: 29 of 30 registers, and an answer to another function."""
    press = collector(played.port, timeout=1.0)
    played.answer = answer
    with opened(press):
        with pytest.raises(PressUnreachable, match=rf"127\.0\.0\.1:{played.port} unit 7: "):
            press.poll()
        (fault,) = press.close()
        assert isinstance(fault, Fault)
        assert fault.kind == "bad answer"
        assert fault.raw
        assert press.close() == []
        played.answer = good
        press.open()
        assert [shot.shot for shot in taken(press)] == [7]


@pytest.mark.parametrize("ending", [b"RST", b"FIN"])
def test_a_connection_closed_by_the_press_is_unreachable(played: Press, ending: bytes) -> None:
    played.answer = lambda header, request: [ending]
    with (
        opened(collector(played.port)) as press,
        pytest.raises(PressUnreachable, match="no usable answer for register 0"),
    ):
        press.poll()


def test_silence_is_unreachable(played: Press) -> None:
    played.answer = lambda header, request: []
    with opened(collector(played.port, timeout=0.1)) as press:
        with pytest.raises(PressUnreachable, match=r"register 0: the press does not answer$"):
            press.poll()
        with pytest.raises(PressUnreachable, match="is not connected"):
            press.poll()


def test_an_answer_that_trickles_in_is_taken(played: Press) -> None:
    played.answer = lambda header, request: [bytes([byte]) for byte in good(header, request)[0]]
    with opened(collector(played.port)) as press:
        assert [shot.values["cushion"] for shot in taken(press)] == [4.97]


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (1, r"1 \(illegal function\): check table"),
        (2, r"2 \(illegal data address\): check the addresses"),
        (3, r"3 \(illegal data value\): check"),
    ],
)
def test_a_refusal_says_unit_function_registers_and_what_to_check(played: Press, code: int, words: str) -> None:
    played.answer = lambda header, request: [framed(header, bytes([0x83, code]))]
    said = rf"127\.0\.0\.1:{played.port} unit 7 answers function 3, register 0, with exception {words}"
    with opened(collector(played.port)) as press, pytest.raises(PressRefused, match=said):
        press.poll()


@pytest.mark.parametrize(
    ("code", "name"),
    [(4, "device failure"), (5, "still working"), (6, "busy"), (10, "gateway path"), (11, "target"), (77, "standard")],
)
def test_a_press_that_cannot_answer_now_is_unreachable(played: Press, code: int, name: str) -> None:
    played.answer = lambda header, request: [framed(header, bytes([0x83, code]))]
    with opened(collector(played.port)) as press, pytest.raises(PressUnreachable, match=name):
        press.poll()


def test_nobody_listening_is_unreachable_and_says_where() -> None:
    with closing(socket.socket()) as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
        press = collector(port)
        with pytest.raises(PressUnreachable, match=rf"no connection to 127\.0\.0\.1:{port}: .*refused"):
            press.open()
        assert press.close() == []


@pytest.mark.parametrize("host", ["no-such-host.invalid", "x" * 80, "a..b"])
def test_a_host_that_has_no_address_is_unreachable(host: str) -> None:
    table = tomllib.loads(KEYS.format(port=502, timeout=1.0)) | {"host": host}
    press = options(PressSettings("p", "modbus-tcp", Section("f", "c", table))).build("p", HandClock(), None)
    with pytest.raises(PressUnreachable, match="no connection to"):
        press.open()


def test_a_half_open_connection_is_given_up_and_a_new_one_works(played: Press) -> None:
    """The peer accepts and then never answers; the library would keep its socket for ever."""
    played.answer = lambda header, request: []
    press = collector(played.port, timeout=0.5)
    for _ in range(3):
        with opened(press), pytest.raises(PressUnreachable):
            press.poll()
    played.answer = good
    with opened(press):
        assert [shot.shot for shot in taken(press)] == [7]


def test_a_press_that_hangs_up_between_polls_is_unreachable_and_back_after_opening(played: Press) -> None:
    press = collector(played.port)
    with opened(press):
        assert [shot.shot for shot in taken(press)] == [7]
        played.hang_up()
        with pytest.raises(PressUnreachable):
            press.poll()
        press.close()
        press.open()
        assert press.poll() == []


def test_only_functions_3_and_4_ever_go_out(played: Press) -> None:
    """Everything the collector can do is done, with every kind of answer, and every request is looked at."""
    answers: list[Answer] = [good, one_register_short, other_function, garbage, half_an_answer, a_write_confirmed]
    answers += [
        lambda header, request, code=code: [framed(header, bytes([0x83, code]))] for code in (1, 2, 3, 4, 6, 11)
    ]
    for answer in answers:
        played.answer = answer
        for act in ("poll", "probe"):
            press = collector(played.port, timeout=0.1)
            with opened(press):
                try:
                    getattr(press, act)()
                    getattr(press, act)()
                except (PressUnreachable, PressRefused):
                    continue
    assert len(played.requests) > 40
    assert {request[7] for request in played.requests} <= {3, 4}
    assert all(len(request) == 12 for request in played.requests)
    assert {asked(request[7:])[1:] for request in played.requests} <= {(0, 1), (10, 2), (10, 1), (11, 1)}
