"""Learning a press that prints: it is listened to and nothing is sent; what is ended early keeps what it has."""

import tomllib
from collections.abc import Iterable
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import options
from shotlog.collectors.serial_port import PortSettings
from shotlog.errors import PressUnreachable, UsageError
from shotlog.learning.by_lines import learn_lines
from shotlog.learning.learnt import Learnt, Wishes
from shotlog.learning.screen import ScreenShot, seen_in
from shotlog.settings import PressSettings, Section
from tests.contract.peers import Port
from tests.learning.played import made_shots

SHOTS = made_shots(12, 5)
HEAD = b"NR;CUSH mm;PMAX bar;FILL s\r\n"


class Printer(Port):
    """A port that prints a piece of the page each time it is read."""

    def __init__(self, clock: HandClock, pieces: Iterable[bytes]) -> None:
        super().__init__(self._forbidden)
        self.sent: list[bytes] = []
        self._clock, self._pieces = clock, iter(pieces)

    def _forbidden(self, data: bytes) -> None:
        self.sent.append(data)

    def read(self, size: int = 1) -> bytes:
        if not self.held:
            self._clock.advance(0.2)
            self.held = next(self._pieces, b"")
        return super().read(size)


def page() -> list[bytes]:
    lines = [
        f"{118 + n:06d};{s['cushion']:.2f};{s['peak_pressure']:.0f};{s['fill_time']:.2f}\r\n".encode()
        for n, s in enumerate(SHOTS)
    ]
    return [b"0117;5.1", b"2;815;0.84\r\n", HEAD, *(half for line in lines for half in (line[:9], line[9:]))]


def listen(
    pieces: Iterable[bytes], n_shots: int = 9, seen: Iterable[ScreenShot] = (), tell: Any = None, minutes: float = 5.0
) -> tuple[Learnt, Printer, list[str]]:
    clock, told = HandClock(), list[str]()
    printer = Printer(clock, pieces)
    press = PressSettings("P2", "serial-line", Section("c.toml", "press[1].collector", {"port": "played"}))
    wishes = Wishes(n_shots, minutes * 60.0, "", None, 10.0, list(seen), tell or told.append)

    def opened(settings: PortSettings, wait_s: float) -> Any:
        assert settings.port == "played"
        return printer

    return learn_lines(press, wishes, clock, opened), printer, told


def test_a_printed_page_becomes_a_map_and_nothing_is_sent() -> None:
    learnt, printer, told = listen(page())
    assert printer.sent == []
    assert told[0] == (
        "P2: listens at played at 9600 8N1 and sends nothing, until 9 shots were printed, 5 minutes at most. "
        "Ctrl-C ends it sooner and keeps what was found."
    )
    assert told[-1] == "shot 9 of 9: field 1 (NR) shows 126"
    assert learnt.map is not None
    keys = {**learnt.map.keys, "kind": "serial-line", "port": "played", "channels": learnt.map.channels}
    keys = {key: value for key, value in keys.items() if value is not None}
    described = options(PressSettings("P2", "serial-line", Section("c.toml", "x", keys))).describe()
    assert "cushion: field 2, mm" in described
    assert "with this map 9 of 10 lines are shots" in learnt.notes


def test_figures_off_the_screen_settle_a_page_without_headings() -> None:
    pieces = [piece for piece in page() if piece != HEAD]
    seen = [
        seen_in(f"shot={118 + n};cushion={s['cushion']:.2f};peak_pressure={s['peak_pressure']:.0f}".replace(".", ","))
        for n, s in enumerate(SHOTS)
        if n in (3, 7)
    ]
    learnt = listen(pieces, seen=seen)[0]
    assert {row.channel: row.sure for row in learnt.rows if row.sure == "settled"} == {
        "shot_counter": "settled", "cushion": "settled", "peak_pressure": "settled",
    }  # fmt: skip


def test_a_sitting_that_is_ended_early_keeps_what_was_found() -> None:
    told: list[str] = []

    def tell(line: str) -> None:
        told.append(line)
        if line.startswith("shot 6 of 9"):
            raise KeyboardInterrupt

    learnt = listen(page(), tell=tell)[0]
    assert told[-1] == "stopped: this is what was found until then"
    assert learnt.map is not None
    assert learnt.document["shots"] == list(range(118, 124))


def test_a_shot_over_several_lines_is_said_to_be_one() -> None:
    block = "SHOT {n}\r\nCUSHION {c:.2f} mm\r\nPEAK PRESSURE {p:.0f} bar\r\n\r\n"
    pieces = [block.format(n=118 + n, c=s["cushion"], p=s["peak_pressure"]).encode() for n, s in enumerate(SHOTS)]
    learnt = listen(pieces, minutes=1.0)[0]
    assert learnt.map is None
    assert learnt.notes[0].startswith("this press prints a shot over 3 lines, of which one counts; one line a shot")


def test_a_silent_port_says_so_and_ends_in_time() -> None:
    learnt, _, told = listen([], minutes=1.0)
    assert learnt.map is None
    assert told[1] == "nothing was printed yet: is the press in automatic mode, and does it print each shot?"
    garbled = listen([bytes([200 + n]) for n in range(40)], minutes=1.0)[2]
    assert garbled[1] == "bytes came and no end of a line: check baudrate, parity and bytesize"


def test_a_port_that_is_lost_is_said() -> None:
    printer_gone = page()[:6]

    def pieces() -> Iterable[bytes]:
        yield from printer_gone
        raise OSError("unplugged")

    with pytest.raises(PressUnreachable, match="serial port played at 9600 8N1 was lost: unplugged"):
        listen(pieces())


def test_registers_are_none_of_a_press_that_prints() -> None:
    press = PressSettings("P2", "serial-line", Section("c.toml", "x", tomllib.loads('port = "COM3"')))
    with pytest.raises(UsageError, match="P2 prints lines"):
        learn_lines(press, Wishes(9, 60.0, "0-9", None, 10.0, [], print), HandClock())
