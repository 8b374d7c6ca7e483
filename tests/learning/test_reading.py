"""Reading a range gently: what is asked for, what is refused, how fast, and that nothing is ever written."""

import socket
import threading
import tomllib
from collections.abc import Iterator

import pytest

from shotlog.clock import HandClock
from shotlog.collectors.registers import Block
from shotlog.errors import PressUnreachable, UsageError
from shotlog.learning.by_registers import learn_registers
from shotlog.learning.history import WordHistory
from shotlog.learning.learnt import Learnt, Wishes
from shotlog.learning.reading import RegisterReader, passed_over_said, pieces, ranges_in
from shotlog.learning.screen import ScreenShot, seen_in
from shotlog.learning.session import Session
from shotlog.settings import PressSettings, Section
from tests.contract.peers import TcpPeer
from tests.learning.played import PlayedPress, Word, made_shots


def reader_of(press: PlayedPress, text: str, pace: float = 10.0) -> RegisterReader:
    return RegisterReader(press, press.clock, ranges_in(text), threading.Event(), pace)


def press(**given: object) -> PlayedPress:
    return PlayedPress(
        HandClock(), [Word(3, "counter"), Word(150, "cushion", "int16", 0.01)], made_shots(4, 1), **given
    )  # type: ignore[arg-type]


def test_a_range_is_asked_for_in_pieces_that_a_request_may_have() -> None:
    played = press()
    reader = reader_of(played, "0-199,300")
    reader.find()
    assert played.asked == [Block(0, 125), Block(125, 75), Block(300, 1)]
    assert pieces(ranges_in("5-9,0-6")) == [Block(0, 10)]


@pytest.mark.parametrize("text", ["", "5-", "9-3", "x", "0-65536", "-4"])
def test_what_is_no_range_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="--registers: given"):
        ranges_in(text)


def test_addresses_that_the_press_refuses_are_left_out_and_the_rest_is_read() -> None:
    played = press(illegal=frozenset([40, 41, 160]))
    reader = reader_of(played, "0-199")
    reader.find()
    assert sorted(reader.refused) == [40, 41, 160]
    read = {a for block in reader.blocks for a in range(block.address, block.last + 1)}
    assert read == set(range(200)) - {40, 41, 160}
    assert len(reader.blocks) <= 5
    asked = len(played.asked)
    reader.round(WordHistory())
    assert played.asked[asked:] == reader.blocks


def test_a_range_of_which_most_is_refused_is_looked_through_quickly() -> None:
    """It was halved down to single registers, twice as many requests as registers, and nothing was said meanwhile."""
    played = press(illegal=frozenset(range(40, 1200)))
    told: list[str] = []
    reader = RegisterReader(played, played.clock, ranges_in("0-1199"), threading.Event(), 10.0, told.append)
    reader.find()
    assert {a for block in reader.blocks for a in range(block.address, block.last + 1)} == set(range(40))
    assert len(played.asked) < 420
    assert set(range(40, 1200)) == set(reader.refused)
    assert told[0].startswith("looking through the range: at register ")
    asked = {block.address for block in played.asked if block.words == 1}
    assert reader.unasked == set(range(105, 1200)) - asked
    said = passed_over_said(reader.unasked)
    assert said.startswith(f"among registers {min(reader.unasked)} to 1199 only every 4th was asked for")


def test_each_register_is_asked_for_under_the_ranges_that_are_named() -> None:
    played = press(illegal=frozenset({*range(10, 400)} - {333}))
    reader = reader_of(played, "0-399")
    reader.find()
    assert 333 in reader.unasked
    again = reader_of(played, "0-9," + passed_over_said(reader.unasked).rpartition(" at most: ")[2])
    again.find()
    assert not again.unasked
    assert {a for block in again.blocks for a in range(block.address, block.last + 1)} == {*range(10), 333}


def test_an_island_among_refused_registers_is_found() -> None:
    islands = {*range(0, 10), *range(150, 154), *range(180, 200)}
    played = press(illegal=frozenset(set(range(200)) - islands))
    reader = reader_of(played, "0-199")
    reader.find()
    assert {a for block in reader.blocks for a in range(block.address, block.last + 1)} == islands
    assert len(reader.blocks) <= 4


def test_a_press_that_takes_short_requests_only_gets_short_ones() -> None:
    played = press(most=20)
    reader = reader_of(played, "0-99")
    reader.find()
    assert reader.refused == []
    assert all(block.words <= 20 for block in reader.blocks)


def test_a_press_that_is_busy_or_hangs_up_now_and_then_is_asked_again() -> None:
    played, n = press(illegal=frozenset([40])), 0
    reads = played.read

    def busy(block: Block) -> tuple[int, ...]:
        nonlocal n
        n += 1
        if n % 3 == 0:
            raise PressUnreachable("exception 6 (device busy)")
        return reads(block)

    played.read = busy  # type: ignore[method-assign]
    reader = reader_of(played, "0-79")
    reader.find()
    assert reader.refused == [40]
    assert {a for block in reader.blocks for a in range(block.address, block.last + 1)} == set(range(80)) - {40}


def test_it_asks_no_faster_than_its_pace() -> None:
    played = press(answer_s=0.001)
    reader = reader_of(played, "0-199", pace=5.0)
    reader.find()
    history, began = WordHistory(), played.clock.monotonic()
    for _ in range(10):
        reader.round(history)
    assert played.clock.monotonic() - began >= 19 / 5.0


def test_a_press_that_is_away_is_waited_for_and_then_given_up() -> None:
    played = press()
    reader = reader_of(played, "0-9")
    reader.find()

    def away(block: Block) -> tuple[int, ...]:
        raise PressUnreachable("no answer")

    reads, played.read = played.read, away  # type: ignore[method-assign]
    history = WordHistory()
    reader.round(history)
    played.read = reads  # type: ignore[method-assign]
    reader.round(history)
    assert history.addresses == list(range(10))
    played.read = away  # type: ignore[method-assign]
    began = played.clock.monotonic()
    while played.clock.monotonic() - began < 60.0:
        reader.round(history)
    with pytest.raises(PressUnreachable, match="no answer for 60 s"):
        reader.round(history)


class OnTheWire:
    """A played press behind a socket: it notes the function codes that came, and a request takes it on a little."""

    def __init__(self, played: PlayedPress) -> None:
        self.played, self.functions, self.forbidden = played, set[int](), list[bytes]()

    def answer(self, request: bytes) -> bytes:
        self.functions.add(request[0])
        if request[0] != 3:
            return bytes([request[0] | 0x80, 1])
        address, count = (int.from_bytes(request[n : n + 2], "big") for n in (1, 3))
        words = self.played.words(self.played.clock.monotonic())
        self.played.clock.advance(0.25)
        data = b"".join(words.get(a, 0).to_bytes(2, "big") for a in range(address, address + count))
        return bytes([3, len(data)]) + data


@pytest.fixture
def wire() -> Iterator[tuple[OnTheWire, int]]:
    rows = [
        Word(8, "counter"),
        Word(20, "cushion", "int16", 0.01),
        Word(21, "peak_pressure"),
        Word(22, "fill_time", "float32"),
    ]
    on_the_wire = OnTheWire(PlayedPress(HandClock(), rows, made_shots(40, 2)))
    with TcpPeer() as server:
        server.registers = on_the_wire  # type: ignore[assignment]
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield on_the_wire, server.server_address[1]
        finally:
            server.shutdown()
            thread.join()


def learn(port: int, seen: list[ScreenShot], told: list[str], table: str | None = None) -> Learnt:
    keys = tomllib.loads(f'kind = "modbus-tcp"\nhost = "127.0.0.1"\nport = {port}\ntimeout_s = 5.0')
    press = PressSettings("P1", "modbus-tcp", Section("c.toml", "press[1].collector", keys))
    wishes = Wishes(8, 3600.0, "0-99", table, 4.0, seen, told.append)
    return learn_registers(press, wishes, HandClock())


def test_nothing_but_reading_goes_over_the_wire(wire: tuple[OnTheWire, int]) -> None:
    on_the_wire, port = wire
    shot = on_the_wire.played.on_screen(1041)
    seen = [seen_in(f"shot=1041,cushion={shot['cushion']:.2f},peak_pressure={shot['peak_pressure']:.0f}")]
    told: list[str] = []
    learnt = learn(port, seen, told)
    assert on_the_wire.functions == {3}
    assert learnt.map is not None
    assert learnt.map.channels["cushion"] == {"address": 20, "type": "int16", "scale": 0.01, "unit": "mm"}
    assert learnt.map.keys["shot_counter"] == {"address": 8, "type": "uint16"}
    assert told[0].startswith("P1: reads holding registers 0 to 99 (function 3) and nothing else; it cannot write.")
    assert "100 registers in 1 request, over and over, 4 requests a second at most, until 8 shots" in told[0]
    assert "shot 8 of 8: register 8 shows 1046" in told


def test_a_sitting_that_is_ended_early_keeps_the_map_found_so_far(wire: tuple[OnTheWire, int]) -> None:
    class Told(list[str]):
        def append(self, line: str) -> None:
            super().append(line)
            if line.startswith("shot 6 of 8"):
                raise KeyboardInterrupt

    told = Told()
    learnt = learn(wire[1], [seen_in(text) for text in figures(wire[0], 1039, 1041)], told)
    assert told[-1] == "stopped: this is what was found until then"
    assert learnt.map is not None
    assert learnt.map.channels["cushion"]["address"] == 20


def figures(wire: OnTheWire, *counts: int) -> list[str]:
    shots = {count: wire.played.on_screen(count) for count in counts}
    return [f"shot={n},cushion={s['cushion']:.2f},peak_pressure={s['peak_pressure']:.0f}" for n, s in shots.items()]


def test_a_clock_that_runs_on_evenly_ends_no_sitting() -> None:
    """A running cycle in hundredths, read every tenth, went up by ten each time and was taken for ten cavities."""
    rows = [
        Word(4, lambda now, shot: int(now * 100) % 60_000),
        Word(8, "counter"),
        Word(20, "cushion", "int16", 0.01),
        Word(21, "peak_pressure"),
        *(Word(30 + n, lambda now, shot, n=n: 2000 + int(7 * now + n) % 5) for n in range(4)),
    ]
    played = PlayedPress(HandClock(), rows, made_shots(14, 2), answer_s=0.0)
    reader = RegisterReader(played, played.clock, ranges_in("0-40"), threading.Event(), 4.0)
    session = Session(reader, played.clock, 6, 3600.0, lambda line: None)
    reader.find()
    session.gather()
    counter = session.proposal().counter
    assert counter is not None
    assert counter.counting.cell.span.address == 8


@pytest.mark.parametrize("held", ["quiet", "keep_on"])
def test_a_sitting_goes_on_while_somebody_is_asked(held: str) -> None:
    """It ended after its shots while the question stood, and the shot that was answered for had not been watched."""

    class Asked(PlayedPress):
        def read(self, block: Block) -> tuple[int, ...]:
            if self.index(self.clock.monotonic()) >= 14:
                setattr(session, held, False)
            return super().read(block)

    rows = [Word(8, "counter"), Word(20, "cushion", "int16", 0.01), Word(21, "peak_pressure")]
    played = Asked(HandClock(), rows, made_shots(40, 2))
    reader = RegisterReader(played, played.clock, ranges_in("0-30"), threading.Event(), 4.0)
    session = Session(reader, played.clock, 8, 3600.0, lambda line: None)
    setattr(session, held, True)
    session.seen.append(seen_in(f"shot=1051,cushion={played.on_screen(1051)['cushion']:.2f}"))
    reader.find()
    session.gather()
    assert 14 <= session.n_counted <= 15
    assert session.shown[0][-1] == 1038 + session.n_counted
    assert not session.proposal().unseen


def test_a_press_that_counts_no_shots_is_not_watched_for_an_hour() -> None:
    rows = [Word(8, lambda now, shot: 2 * (700 + shot)), Word(20, "cushion", "int16", 0.01), Word(21, "peak_pressure")]
    played = PlayedPress(HandClock(), rows, made_shots(40, 2))
    told: list[str] = []
    reader = RegisterReader(played, played.clock, ranges_in("0-30"), threading.Event(), 4.0)
    session = Session(reader, played.clock, 8, 3600.0, told.append)
    reader.find()
    session.gather()
    assert played.clock.monotonic() < 10 * 20.0
    why = "none of them counts shots yet: register 8 goes up by 2 each time: parts of 2 cavities, not shots"
    assert any(why in line for line in told)
    proposal = session.proposal()
    assert proposal.counter is None
    assert [one.cell.span.address for one in proposal.refused] == [8]


def test_a_table_that_is_not_there_is_said(wire: tuple[OnTheWire, int]) -> None:
    with pytest.raises(Exception, match=r"exception 1 \(illegal function\): check table"):
        learn(wire[1], [], [], "input")
    assert wire[0].functions == {4}


def test_a_press_that_is_not_there_is_said() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        port = taken.getsockname()[1]
    with pytest.raises(PressUnreachable, match="no connection"):
        learn(port, [], [])
