"""What every kind of collector promises, found from the table and tried against a played press (`peers`)."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pint
import pytest

from shotlog.channels import CHANNELS
from shotlog.clock import HandClock
from shotlog.collectors import COLLECTORS, Collector, Options, Resume, options
from shotlog.errors import PressUnreachable, SettingsError, UsageError
from shotlog.records import Fault, Gap, SetPointChange, Shot, Weighing
from shotlog.settings import PressSettings, Section
from tests.contract.peers import PEERS, WITHOUT_A_WIRE, Peer

KINDS = [kind for kind in COLLECTORS if kind in PEERS]
UNITS = {name: CHANNELS[name].unit for name in ("cushion", "peak_pressure", "fill_time")}
REGISTRY = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)

Record = Shot | Gap | Fault | Weighing | SetPointChange


def checked(keys: dict[str, Any]) -> Options:
    return options(PressSettings("P25", str(keys["kind"]), Section("trial.toml", "press[1].collector", keys)))


@dataclass
class Wire:
    """A collector and the press it reads; a shot's values differ from one to the next, as on a real press."""

    peer: Peer
    units: dict[str, str]

    def collector(self, resume: Resume | None = None) -> Collector:
        return self.peer.wired(checked(self.peer.keys(self.units))).build("P25", HandClock(), resume)

    def make(self, counter: int, **values: float) -> dict[str, float]:
        shown = {"cushion": 5.0 + counter / 64, "peak_pressure": 540.0 + counter, "fill_time": 0.75 + counter / 1024}
        shown |= values
        self.peer.show(counter, shown)
        return shown


@pytest.fixture(params=KINDS)
def wire(request: pytest.FixtureRequest) -> Iterator[Wire]:
    with PEERS[request.param]() as peer:
        yield Wire(peer, UNITS)
        assert peer.forbidden == [], "something other than a reading was sent to the press"


def polled(collector: Collector) -> list[Record]:
    """What comes in some polls: a collector may look twice before it believes a shot."""
    return [record for _ in range(4) for record in collector.poll()]


def shots(records: list[Record]) -> list[tuple[int, dict[str, float]]]:
    return [(record.shot, dict(record.values)) for record in records if isinstance(record, Shot)]


def test_every_kind_has_a_press_to_be_tried_against() -> None:
    missing = sorted(set(COLLECTORS) - set(PEERS) - set(WITHOUT_A_WIRE))
    assert not missing, f"no played press for {', '.join(missing)}: add a line to PEERS in tests/contract/peers.py"
    assert set(PEERS) | set(WITHOUT_A_WIRE) == set(COLLECTORS), "a played press for a kind that is no more"


@pytest.mark.parametrize("kind", WITHOUT_A_WIRE)
def test_a_kind_without_a_wire_refuses_to_connect(kind: str) -> None:
    with pytest.raises(UsageError, match="press P25 is only replayed"):
        checked({"kind": kind}).build("P25", HandClock(), None)


@pytest.mark.parametrize("kind", [*KINDS, *WITHOUT_A_WIRE])
def test_an_unknown_key_is_refused_with_what_is_allowed(kind: str) -> None:
    keys: dict[str, Any] = {"kind": kind}
    if kind in PEERS:
        with PEERS[kind]() as peer:
            keys = peer.keys(UNITS)
    with pytest.raises(SettingsError) as caught:
        checked(keys | {"colour": "red"})
    error = caught.value
    assert (error.file, error.key, error.given) == ("trial.toml", "press[1].collector.colour", "an unknown key")
    assert set(keys) <= set(error.allowed.split(" (")[0].split(", "))


def test_each_key_given_as_something_else_is_named_with_what_is_allowed(wire: Wire) -> None:
    keys = wire.peer.keys(UNITS)
    for name in keys.keys() - {"kind"}:
        with pytest.raises(SettingsError) as caught:
            checked(keys | {name: [1, 2]})
        assert (caught.value.file, caught.value.key) == ("trial.toml", f"press[1].collector.{name}")
        assert caught.value.given == "[1, 2]"
        assert caught.value.allowed


def test_it_describes_itself_and_says_how_often_it_asks(wire: Wire) -> None:
    chosen = checked(wire.peer.keys(UNITS))
    assert chosen.poll_s > 0.0
    said = chosen.describe()
    assert all(line and "\n" not in line for line in said)
    for name, unit in UNITS.items():
        assert any(line.startswith(f"{name}: ") and line.endswith(unit) for line in said), name


def test_the_first_shot_met_is_taken_under_the_presss_own_number(wire: Wire) -> None:
    collector = wire.collector()
    collector.open()
    made = wire.make(118)
    assert shots(polled(collector)) == [(118, made)]
    collector.close()


def test_nothing_new_is_nothing(wire: Wire) -> None:
    collector = wire.collector()
    collector.open()
    wire.make(118)
    polled(collector)
    assert polled(collector) == []
    collector.close()


def test_shots_come_in_order_each_once_with_no_gap_between_them(wire: Wire) -> None:
    collector = wire.collector()
    collector.open()
    records, made = [], []
    for counter in range(7, 12):
        made.append((counter, wire.make(counter)))
        records += polled(collector)
    assert shots(records) == made
    assert not any(isinstance(record, Gap) for record in records)
    assert collector.close() == []


def test_a_counter_that_jumped_is_a_gap_of_its_size(wire: Wire) -> None:
    collector = wire.collector()
    collector.open()
    records = []
    for counter in (7, 11, 12):
        wire.make(counter)
        records += polled(collector)
    collector.close()
    assert [record for record in records if isinstance(record, Fault)] == []
    (gap,) = (record for record in records if isinstance(record, Gap))
    assert (gap.press, gap.first, gap.last, gap.n_shots) == ("P25", 8, 10, 3)
    assert [number for number, _ in shots(records)] == [7, 11, 12]
    assert records.index(gap) < [isinstance(one, Shot) and one.shot == 11 for one in records].index(True)


def test_what_was_logged_before_the_start_is_not_taken_again(wire: Wire) -> None:
    collector = wire.collector(Resume(1007, 7))
    collector.open()
    wire.make(7)
    assert shots(polled(collector)) == []
    made = wire.make(8)
    assert shots(polled(collector)) == [(1008, made)]
    collector.close()


def test_closing_twice_is_fine_and_opening_again_keeps_the_count(wire: Wire) -> None:
    collector = wire.collector()
    assert collector.close() == []
    collector.open()
    wire.make(7)
    records = polled(collector)
    assert collector.close() == []
    assert collector.close() == []
    collector.open()
    wire.make(8)
    records += polled(collector)
    assert [number for number, _ in shots(records)] == [7, 8]
    collector.close()


def test_a_press_that_is_gone_is_said_to_be_and_found_again(wire: Wire) -> None:
    collector = wire.collector()
    collector.open()
    wire.make(7)
    records = polled(collector)
    wire.peer.vanish()
    with pytest.raises(PressUnreachable) as caught:
        polled(collector)
    assert "\n" not in str(caught.value)
    collector.close()
    wire.peer.come_back()
    collector.open()
    wire.make(8)
    records += polled(collector)
    assert [number for number, _ in shots(records)] == [7, 8]
    collector.close()


@pytest.mark.parametrize("absurd", [9.9e8, -9.9e8])
def test_a_value_that_cannot_be_is_a_fault_with_its_bytes_and_no_value(wire: Wire, absurd: float) -> None:
    collector = wire.collector()
    collector.open()
    wire.make(7)
    polled(collector)
    made = wire.make(8, cushion=absurd)
    records = polled(collector)
    (fault,) = (record for record in records if isinstance(record, Fault))
    assert fault.press == "P25"
    assert fault.raw
    assert "cushion" in fault.detail
    del made["cushion"]
    assert shots(records) == [(8, made)]
    made = wire.make(9)
    assert shots(polled(collector)) == [(9, made)]
    collector.close()


def test_garbage_on_the_wire_is_a_fault_with_its_bytes_and_no_shot(wire: Wire) -> None:
    """The collector may give the line up for it; what came is kept either way, and the next shot is read."""
    collector = wire.collector()
    collector.open()
    wire.make(7)
    polled(collector)
    wire.peer.garble()
    records: list[Record] = []
    try:
        records += polled(collector)
    except PressUnreachable:
        records += collector.close()
        collector.open()
    made = wire.make(8)
    records += polled(collector)
    (fault,) = (record for record in records if isinstance(record, Fault))
    assert fault.raw
    assert fault.detail
    assert shots(records) == [(8, made)]
    collector.close()


def test_probe_shows_every_channel_with_what_came_and_counts_nothing(wire: Wire) -> None:
    collector = wire.collector()
    collector.open()
    made = wire.make(7)
    rows = {row.name: row for row in collector.probe()}
    for name, unit in UNITS.items():
        assert (rows[name].value, rows[name].unit) == (made[name], unit)
        assert rows[name].raw
        assert rows[name].where
    made = wire.make(8)
    assert shots(polled(collector))[-1] == (8, made)
    collector.close()


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", CHANNELS)
def test_a_channel_comes_in_another_unit_of_its_dimension(kind: str, name: str) -> None:
    value = CHANNELS[name].low / 4 + CHANNELS[name].high / 4
    given = REGISTRY.Quantity(value, CHANNELS[name].unit).to_base_units()
    unit = f"{given.units}" if given.units != REGISTRY.Unit(CHANNELS[name].unit) else f"milli{given.units}"
    with PEERS[kind]() as peer:
        wire = Wire(peer, {name: unit})
        collector = wire.collector()
        collector.open()
        peer.show(7, {name: given.to(unit).magnitude})
        ((_, values),) = shots(polled(collector))
        collector.close()
        assert values == {name: pytest.approx(value, rel=1e-9)}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", CHANNELS)
def test_a_channel_in_a_unit_of_another_dimension_is_refused(kind: str, name: str) -> None:
    with PEERS[kind]() as peer, pytest.raises(SettingsError) as caught:
        checked(peer.keys({name: "kg" if CHANNELS[name].unit == "s" else "s"}))
    assert caught.value.key == f"press[1].collector.channels.{name}.unit"
    assert CHANNELS[name].unit in caught.value.allowed
