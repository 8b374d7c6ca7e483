"""A peer that floods, trickles, says nothing or hangs up: little is kept of it, and what is kept says how much came."""

import threading
import tomllib
import tracemalloc

import pytest

from shotlog.clock import SystemClock
from shotlog.collectors import Collector, options
from shotlog.cut_short import RAW_MOST, TEXT_MOST
from shotlog.errors import PressUnreachable
from shotlog.records import Fault
from shotlog.settings import PressSettings, Section
from tests.faults.flooding import flood, peer, say_nothing, trickle

MODBUS = """
kind = "modbus-tcp"
host = "127.0.0.1"
shot_counter = { address = 0, type = "uint16" }
timeout_s = 0.3
[channels]
cushion = { address = 2, type = "uint16", scale = 0.01, unit = "mm" }
"""
PRINTER = """
kind = "serial-line"
shot_counter = { field = 1 }
[channels]
cushion = { field = 2, unit = "mm" }
"""
FLOODS = (
    b"\x00",
    b"\xff",
    b"\x00\x01\x00\x00\x00\x05\x01\x03\x02\x00",
    b"\x00\x01\x00\x00\xff\xff\x01\x03",
    b"\x00\x02\x00\x00\x00\x03\x01\x83\x0b",
    b"GET / HTTP/1.1\r\n",
)


def collector(text: str, **keys: object) -> Collector:
    table = tomllib.loads(text) | keys
    section = Section("press.toml", "press[1].collector", table)
    return options(PressSettings("P25", table["kind"], section)).build("P25", SystemClock(), None)


def lost(press: Collector) -> str:
    """Poll until the line is lost; one of the patterns is a right answer to the first request."""
    for _ in range(3):
        try:
            assert press.poll() == []
        except PressUnreachable as error:
            return str(error)
    raise AssertionError("the flood was taken for answers")


@pytest.mark.parametrize("pattern", FLOODS)
def test_a_flooding_modbus_peer_leaves_little(pattern: bytes) -> None:
    """It left 11 MB in one row: all that came until the time-out."""
    with peer(flood(pattern)) as (port, _):
        press = collector(MODBUS, port=port)
        tracemalloc.start()
        for _ in range(3):
            press.open()
            assert len(lost(press)) < TEXT_MOST
            kept = press.close()
            assert all(isinstance(one, Fault) and len(one.raw) <= RAW_MOST for one in kept)
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
    assert most < 4_000_000


def test_a_line_without_an_end_is_one_fault() -> None:
    with peer(flood(b"x")) as (port, _):
        press = collector(PRINTER, port=f"socket://127.0.0.1:{port}")
        press.open()
        faults = [one for _ in range(60) for one in press.poll() if isinstance(one, Fault)]
        faults += [one for one in press.close() if isinstance(one, Fault)]
    assert [one.kind for one in faults] == ["too long"]
    assert all(len(one.raw) <= RAW_MOST for one in faults)


@pytest.mark.parametrize("text", [MODBUS, PRINTER])
def test_what_probe_shows_of_a_flood_is_short(text: str) -> None:
    with peer(flood(b"\xa5")) as (port, _):
        where: dict[str, object] = {"port": port if text is MODBUS else f"socket://127.0.0.1:{port}"}
        press = collector(text, timeout_s=0.3, **where)
        press.open()
        try:
            shown = [repr(one) for one in press.probe()]
        except PressUnreachable as error:
            shown = [str(error)]
        press.close()
    assert all(len(one) < 2 * TEXT_MOST for one in shown)


@pytest.mark.parametrize("act", [say_nothing, trickle(b"\x00\x00\x00\x05\x01\x03\x02\x00\x07", 0.25)])
def test_a_peer_that_answers_too_slowly_is_given_up_within_two_time_outs(act: object) -> None:
    with peer(act) as (port, _):  # type: ignore[arg-type]
        press = collector(MODBUS, port=port)
        press.open()
        done = threading.Event()

        def ask() -> None:
            with pytest.raises(PressUnreachable):
                press.poll()
            done.set()

        threading.Thread(target=ask, daemon=True).start()
        assert done.wait(20.0)
        press.close()
