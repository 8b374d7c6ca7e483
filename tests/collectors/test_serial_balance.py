"""A bench balance: its lines, one weighing a part, and the collector on a port played by a test."""

import tomllib
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
import serial
from hypothesis import given
from hypothesis import strategies as st

from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.collectors import balance_options
from shotlog.collectors.balance_lines import BalanceReading, Refused, read_line
from shotlog.collectors.serial_balance import (
    BalanceCycle,
    SerialBalance,
    SerialBalanceOptions,
)
from shotlog.errors import PressUnreachable, SettingsError
from shotlog.records import Fault, Weighing
from shotlog.settings import BalanceSettings, Section, load

KEYS = 'name = "balance-1"\nport = "played"\nweighs = "P25"\n'


def chosen(keys: str = "") -> SerialBalanceOptions:
    section = Section("trial.toml", "balance[1]", tomllib.loads(KEYS + keys))
    found = balance_options(BalanceSettings(section.text("name"), section.text("weighs"), section))
    assert isinstance(found, SerialBalanceOptions)
    return found


class Port:
    """A port that holds bytes; after them comes silence, or a loss where `lost` is set."""

    def __init__(self, data: bytes = b"") -> None:
        self.data, self.lost, self.closed = data, False, False

    @property
    def in_waiting(self) -> int:
        return len(self.data)

    def read(self, n: int) -> bytes:
        if not self.data and self.lost:
            raise serial.SerialException("unplugged")
        taken, self.data = self.data[:n], self.data[n:]
        return taken

    def close(self) -> None:
        self.closed = True


def on(port: Port, keys: str = "") -> tuple[SerialBalance, HandClock]:
    clock = HandClock()
    opener: Any = lambda settings, wait_s: port  # noqa: E731
    balance = SerialBalance("balance-1", clock, replace(chosen(keys), opener=opener))
    balance.open()
    return balance, clock


@pytest.mark.parametrize(
    ("line", "grams", "steady"),
    [
        ("W +10.203 g =", 10.203, True),
        ("W  10,21 g ~", 10.21, False),
        ("ST,+  10.203 g", 10.203, True),
        ("US,+  10.203 g", 10.203, False),
        ("S D     10.20 g", 10.20, False),
        ("    10.203", 10.203, None),
        ("10203 mg", 10.203, None),
        ("0,010203 kg", 10.203, None),
        ("51.015 ct =", 10.203, True),
        ("1 oz", 28.349523125, None),
        ("-   0.012 g =", -0.012, True),
        (".5g", 0.5, None),
        ("10.203 G\x03", 10.203, None),
    ],
)
def test_common_shapes_of_a_line_are_read(line: str, grams: float, steady: bool | None) -> None:
    said = read_line(line, "g")
    assert isinstance(said, BalanceReading)
    assert (said.grams, said.steady) == (pytest.approx(grams, abs=1e-9), steady)


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("W ---- g !", "overload"),
        ("ST,+OL", "overload"),
        ("OVERLOAD", "overload"),
        ("^^^^^^^", "overload"),
        ("W 10.2 lb =", "unit"),
        ("12 pcs", "unit"),
        ("99.5 %", "unit"),
        ("ready", "no weight"),
        ("10.2 g 11.3 g", "no weight"),
    ],
)
def test_what_is_no_weight_is_said_and_never_a_number(line: str, kind: str) -> None:
    said = read_line(line, "g")
    assert isinstance(said, Refused)
    assert said.kind == kind
    assert line.strip()[:4] in said.detail


def test_a_bare_number_is_in_the_unit_that_was_set() -> None:
    assert read_line("10203", "mg") == BalanceReading(10.203, None)
    assert read_line("", "mg") is None


@given(st.binary(max_size=40))
def test_any_bytes_give_a_finite_weight_or_a_word(raw: bytes) -> None:
    said = read_line(raw.decode("latin-1"), "g")
    assert said is None or isinstance(said, Refused) or abs(said.grams) < 1e12


def running(*readings: tuple[float, bool | None]) -> list[float]:
    cycle, now = BalanceCycle(True, 0.2, 1000.0), HandClock().monotonic()
    said = [cycle.take(BalanceReading(grams, steady), now) for grams, steady in readings]
    return [one for one in said if isinstance(one, float)]


def test_a_part_left_lying_is_weighed_once() -> None:
    assert running((0.0, True), (4.1, False), (10.2, True), (10.2, True), (10.201, True)) == [10.2]


def test_the_next_part_counts_after_the_balance_was_empty() -> None:
    assert running((10.2, True), (0.004, False), (10.3, True)) == [10.2, 10.3]
    assert running((10.2, True), (5.0, False), (10.3, True)) == [10.2]


def test_a_drifting_zero_is_still_empty_and_a_lifted_tare_is_no_part() -> None:
    assert running((10.2, True), (0.03, True), (10.3, True)) == [10.2, 10.3]
    assert running((10.2, True), (-50.0, True), (10.3, True)) == [10.2]


def test_without_a_mark_three_lines_must_agree() -> None:
    assert running((0.0, None), (10.2, None), (10.2, None)) == []
    assert running((0.0, None), (6.0, None), (10.2, None), (10.201, None), (10.2, None), (10.2, None)) == [10.2]


def test_a_printed_line_is_a_weighing_of_its_own() -> None:
    cycle, clock = BalanceCycle(False, 0.2, 1000.0), HandClock()
    assert cycle.take(BalanceReading(10.2, None), clock.monotonic()) == 10.2
    clock.advance(1.0)
    twice = cycle.take(BalanceReading(10.2, True), clock.monotonic())
    assert isinstance(twice, Refused)
    assert twice.kind == "weighed twice"
    clock.advance(60.0)
    assert cycle.take(BalanceReading(10.2, None), clock.monotonic()) == 10.2


@pytest.mark.parametrize(
    ("grams", "steady", "kind"), [(10.2, False, "moving"), (0.0, True, "empty"), (2000.0, True, "no part")]
)
def test_a_printed_line_that_is_no_part_is_said(grams: float, steady: bool, kind: str) -> None:
    said = BalanceCycle(False, 0.2, 1000.0).take(BalanceReading(grams, steady), HandClock().monotonic())
    assert isinstance(said, Refused)
    assert said.kind == kind


def test_a_weighing_names_its_press_its_balance_and_its_bytes() -> None:
    balance, clock = on(Port(b"W +10.203 g =\r\n"), "screw_mm = 20\nmelt_density = 1.0\ndose_mm = 40\nafter_s = 90")
    (weighing,) = balance.poll()
    assert isinstance(weighing, Weighing)
    assert (weighing.press, weighing.balance, weighing.grams, weighing.time) == (
        "P25",
        "balance-1",
        10.203,
        clock.now(),
    )
    assert (weighing.after_s, weighing.dose_mm, weighing.raw) == (90.0, 40.0, b"W +10.203 g =")
    assert weighing.g_per_mm == pytest.approx(0.314159, abs=1e-6), "a screw of 20 mm moves 314 mm3 of melt a mm"


def test_a_line_cut_by_a_read_is_put_together() -> None:
    port = Port(b"W +10.2")
    balance, _ = on(port)
    assert balance.poll() == []
    port.data = b"03 g =\r\n"
    (weighing,) = balance.poll()
    assert isinstance(weighing, Weighing)
    assert weighing.grams == 10.203


def test_a_running_balance_is_joined_in_the_middle_of_a_line() -> None:
    """Half of ``110.203 g`` reads as 10.203 g."""
    balance, _ = on(Port(b"10.203 g =\r\nW +110.203 g =\r\n"), "running = true")
    assert [record.grams for record in balance.poll() if isinstance(record, Weighing)] == [110.203]


def test_an_overload_that_lasts_is_one_fault() -> None:
    balance, _ = on(Port(b"W 0.0 g =\r\n" + b"W ---- g !\r\n" * 5 + b"W 0.0 g =\r\nW ---- g !\r\n"), "running = true")
    kinds = [record.kind for record in balance.poll() if isinstance(record, Fault)]
    assert kinds == ["overload", "overload"]


def test_a_fault_keeps_the_bytes_and_the_name_of_the_balance() -> None:
    balance, _ = on(Port(b"W 10.2 lb =\r\n"))
    (fault,) = balance.poll()
    assert isinstance(fault, Fault)
    assert (fault.press, fault.kind, fault.raw) == ("balance-1", "unit", b"W 10.2 lb =")


def test_a_balance_that_goes_away_is_said_and_comes_back() -> None:
    port = Port(b"W 10.2 g =\r\n")
    balance, clock = on(port)
    assert len(balance.poll()) == 1
    port.lost = True
    with pytest.raises(PressUnreachable, match="unplugged"):
        balance.poll()
    assert balance.close() == []
    assert balance.close() == []
    assert port.closed
    with pytest.raises(PressUnreachable, match="is not open"):
        balance.poll()
    port.lost, port.data = False, b"W 10.4 g =\r\n"
    clock.advance(timedelta(minutes=1).total_seconds())
    balance.open()
    assert [record.grams for record in balance.poll() if isinstance(record, Weighing)] == [10.4]


def test_probe_shows_the_line_and_what_it_was_taken_for() -> None:
    balance, _ = on(Port(b"W 10.2 g ~\r\n"))
    (row,) = balance.probe()
    assert (row.raw, row.value, row.unit, row.remark) == ("W 10.2 g ~", 10.2, "g", "moving")
    silent, _ = on(Port(), "timeout_s = 0.1")
    assert silent.probe()[0].remark == "no line came in 0.1 s"


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ('unit = "lb"', 'unit: given "lb", allowed: g | mg | kg | oz | ct'),
        ("least_g = 5\nmost_g = 4", "most_g: given 4, allowed: more than least_g, 5"),
        ("dose_mm = 40", "screw_mm: given nothing"),
        ("screw_mm = 20", "melt_density: given nothing"),
        ("weights = 1", "an unknown key"),
    ],
)
def test_a_wrong_key_is_one_line(keys: str, said: str) -> None:
    with pytest.raises(SettingsError) as caught:
        chosen(keys)
    assert said in str(caught.value)


def test_check_says_what_would_be_read() -> None:
    text = "\n".join(chosen("screw_mm = 20\nmelt_density = 1.0").describe())
    assert "weighs what P25 moulds" in text
    assert "0.314 g of melt per mm" in text


def test_check_warns_of_a_balance_that_weighs_for_no_press(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Not refused: the press may be in another configuration that logs to the same log."""
    written = (
        '[log]\nstore = "sqlite:///t.db"\n[[press]]\nname = "P25"\ncollector = { kind = "recording" }\n'
        "[[balance]]\n" + KEYS
    )
    (tmp_path / "c.toml").write_text(written, encoding="utf-8")
    assert main(["check", str(tmp_path / "c.toml")]) == 0
    assert "WARNING" not in capsys.readouterr().out
    (tmp_path / "c.toml").write_text(written.replace('weighs = "P25"', 'weighs = "P52"'), encoding="utf-8")
    assert main(["check", str(tmp_path / "c.toml")]) == 0
    said = capsys.readouterr().out
    assert "WARNING: balance balance-1 weighs for 'P52', and no press here has that name (presses: P25)" in said


def test_a_balance_cannot_weigh_what_a_balance_moulds(tmp_path: Path) -> None:
    text = '[log]\nstore = "sqlite:///t.db"\n[[balance]]\n' + KEYS.replace("P25", "balance-1")
    (tmp_path / "c.toml").write_text(text, encoding="utf-8")
    (line,) = load(tmp_path / "c.toml").cautions
    assert "(presses: none)" in line
