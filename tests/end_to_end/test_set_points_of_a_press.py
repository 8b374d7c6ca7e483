"""A press at which somebody turns knobs, over the demo map and over printed lines: an entry at each, at its shot."""

import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from shotlog.clock import HandClock
from shotlog.collectors import Resume, options
from shotlog.collectors.line_reader import LineReader
from shotlog.collectors.lines import Line
from shotlog.collectors.modbus_shots import ModbusShots
from shotlog.collectors.register_map import read_register_map
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import PressSettings, Section
from shotlog.store.log.log import Log
from simulators.modbus_server import ModbusTcpFace
from simulators.press import PressRun, mould
from simulators.printout import DIALECTS, printed
from simulators.registers import words
from simulators.serial_line import SocketPrinterFace
from simulators.story import load
from tests.collectors.test_modbus_shots import Played

EDITS = {
    80: "hold pressure set 380 -> 410 bar",
    140: "switchover position set 9 -> 9.6 mm",
    220: "injection speed set 30 -> 25 mm/s",
    270: "cooling time set 45 -> 55 s",
    320: "barrel zone 4 set 285 -> 290 degC",
}


@pytest.fixture(scope="module")
def run() -> PressRun:
    scenario = load("set_point_edits")
    return mould(scenario.presses[0], scenario.shots, scenario.seed)


def collector_of(config: str) -> Section:
    return Section("press.toml", "press[1].collector", tomllib.loads(config)["press"]["collector"])


def over_registers(run: PressRun, missed: range = range(0)) -> Iterator[Shot | Gap | Fault]:
    """Read each shot of a run as it stands in the registers; of `missed` ones only the next shows that they were."""
    config = ModbusTcpFace().config(0.2, set_points=True)
    played, clock = Played({}), HandClock()
    press = ModbusShots("P", clock, Resume(0, 0), read_register_map(collector_of(config)), played)
    press.open()
    for index in range(len(run)):
        played.registers = dict(enumerate(words(run, index, index + 1, index + 1)))
        clock.advance(75.0)
        if index + 1 not in missed:
            yield from press.poll()


def entries(log: Log) -> dict[int, str]:
    return {each.at_shot: each.text for each in log.timeline("P").events if each.kind == "setup"}


def test_each_edit_is_an_entry_at_its_shot_over_registers(log: Log, run: PressRun) -> None:
    log.append(over_registers(run))
    assert entries(log) == EDITS
    assert len(list(log.logged("P"))) == len(run)


def test_an_edit_while_nobody_saw_the_shots_is_entered_at_the_next_that_is_seen(log: Log, run: PressRun) -> None:
    log.append(over_registers(run, missed=range(75, 95)))
    assert entries(log) == {95: f"{EDITS[80]} (between shots 74 and 95)"} | {
        shot: text for shot, text in EDITS.items() if shot > 95
    }


def test_each_edit_is_an_entry_at_its_shot_over_printed_lines(log: Log, run: PressRun) -> None:
    began = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)
    face = SocketPrinterFace(began, dialect="settings")
    chosen = options(PressSettings("P", "serial-line", collector_of(face.config(0.2))))
    reader = LineReader(chosen.form)  # type: ignore[attr-defined]
    clock, shots = HandClock(), list[Shot]()
    for index in range(len(run)):
        clock.advance(75.0)
        raw = printed(run, index, index + 1, DIALECTS["settings"], began).splitlines()[-1]
        line = reader.read(raw)
        assert isinstance(line, Line)
        shots.append(Shot("P", index + 1, line.counter, clock.now(), line.values, set_points=line.set_points))
    log.append(shots)
    assert entries(log) == {80: "hold bar 380 -> 410 bar", 270: "cooling s 45 -> 55 s"}
