"""The collector of a ``[[balance]]``: a bench balance on a serial line, which weighs what a press moulded.

A balance says nothing of shots. It gives one weighing for each time that something is put on it and taken off again;
which shot a weighing belongs to is decided later, where shots and weighings meet, and can be corrected.

A reading counts when it is steady: the line says so, or, where a running balance gives no mark, when three lines in a
row agree. After a weighing nothing counts until the balance was back at zero: a part left lying is weighed once.
"""

from dataclasses import dataclass
from datetime import datetime
from math import pi

import serial

from shotlog.clock import Clock
from shotlog.collectors.balance_lines import BalanceReading, Refused, read_line
from shotlog.collectors.base import Collector, Reading, Resume
from shotlog.collectors.lines import LineSplitter
from shotlog.collectors.serial_port import PORT_ERRORS, Opener, PortSettings, open_port, read_port, read_waiting
from shotlog.errors import PressUnreachable
from shotlog.records import Fault, Weighing
from shotlog.settings import Section

__all__ = ["BalanceCycle", "SerialBalance", "SerialBalanceOptions", "options"]

Records = list[Fault | Weighing]

_ALIKE = 3
"""Lines without a mark that must agree before a running balance counts as steady."""
_ALIKE_G = 0.0015
_WAIT_S = 0.05


@dataclass(frozen=True, slots=True)
class SerialBalanceOptions:
    """The checked keys of a ``[[balance]]``.

    `weighs`: the press whose parts it weighs. `unit`: of a line that gives none. `running`: it sends lines all the
    time, not one a key press. `least_g`, `most_g`: what is taken for a part, in g; below `least_g` either way the
    balance is empty. `after_s`: longest time from a shot to its weighing, in s. `g_per_mm`, `dose_mm`: see
    `records.Weighing`.
    """

    port: PortSettings
    weighs: str
    unit: str
    running: bool
    least_g: float
    most_g: float
    after_s: float
    g_per_mm: float | None
    dose_mm: float | None
    poll_s: float
    timeout_s: float
    opener: Opener = open_port

    def describe(self) -> list[str]:
        how = "lines all the time" if self.running else "a line a key press"
        lines = [
            f"balance on {self.port}, {how}, weighs what {self.weighs} moulds, up to {self.after_s:g} s after a shot"
        ]
        lines.append(f"taken for a part: {self.least_g:g} to {self.most_g:g} g")
        if self.g_per_mm is not None:
            lines.append(
                f"mass balance: {self.g_per_mm:.3f} g of melt per mm of screw, dose {self.dose_mm or 0.0:g} mm"
            )
        return lines

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        return SerialBalance(press, clock, self)


class BalanceCycle:
    """Turns readings into weighings: one each time something is put on and taken off. Pure."""

    def __init__(self, running: bool, least_g: float, most_g: float) -> None:
        self._running, self._least_g, self._most_g = running, least_g, most_g
        self._empty = True
        self._alike: list[float] = []
        self._printed: tuple[float, float] | None = None

    def take(self, reading: BalanceReading, at: float) -> float | Refused | None:
        """Return the grams of a weighing, why a steady weight is not taken, or None where nothing is to be said.

        `at`: in seconds, by a clock that nobody sets.
        """
        grams = reading.grams
        if not self._running:
            return self._print(reading, at)
        self._alike = [*[seen for seen in self._alike if abs(seen - grams) <= _ALIKE_G], grams][-_ALIKE:]
        if abs(grams) < self._least_g:
            self._empty = True
            return None
        steady = len(self._alike) == _ALIKE if reading.steady is None else reading.steady
        if not steady or not self._empty or grams < 0:
            return None
        self._empty = False
        return self._within(grams)

    def _print(self, reading: BalanceReading, at: float) -> float | Refused | None:
        grams = reading.grams
        if reading.steady is False:
            return Refused("moving", f"{grams:g} g was printed while the balance moved: weigh again")
        if grams < self._least_g:
            return Refused("empty", f"{grams:g} g was printed: the balance was empty or the tare is off")
        before, self._printed = self._printed, (grams, at)
        if before is not None and before[0] == grams and at - before[1] < _TWICE_S:
            return Refused("weighed twice", f"{grams:g} g was printed twice at once; kept the first")
        return self._within(grams)

    def _within(self, grams: float) -> float | Refused:
        if grams > self._most_g:
            return Refused("no part", f"{grams:g} g is more than {self._most_g:g} g: no part")
        return grams


_TWICE_S = 5.0
"""The same weight printed again so soon is a key pressed twice (judgement)."""


class SerialBalance:
    """A collector over the lines of a balance (see `collectors.base.Collector`)."""

    def __init__(self, name: str, clock: Clock, chosen: SerialBalanceOptions) -> None:
        self._name, self._clock, self._chosen = name, clock, chosen
        self._port: serial.Serial | None = None
        self._splitter = LineSplitter()
        self._cycle = BalanceCycle(chosen.running, chosen.least_g, chosen.most_g)
        self._refused = ""
        self._cut = False

    def open(self) -> None:
        if self._port is None:
            self._port = self._chosen.opener(self._chosen.port, _WAIT_S)
            # A running balance is always in the middle of a line, and half a number is a number.
            self._cut = self._chosen.running

    def close(self) -> Records:
        port, self._port = self._port, None
        self._splitter.rest()
        if port is not None:
            port.close()
        return []

    def poll(self) -> Records:
        came = self._read()
        # after the wait for it: a weight must not seem to be from before the shot that was logged meanwhile
        now = self._clock.now()
        records: Records = []
        for piece in self._splitter.feed(came):
            if not self._cut:
                records += self._records(piece.raw, now)
            self._cut = False
        return records

    def probe(self) -> list[Reading]:
        quiet = 0
        splitter = LineSplitter()
        while quiet * _WAIT_S < self._chosen.timeout_s:
            chunk = self._read()
            quiet += not chunk
            for piece in splitter.feed(chunk):
                text = piece.raw.decode("latin-1")
                said = read_line(text, self._chosen.unit)
                if isinstance(said, BalanceReading):
                    mark = {True: "steady", False: "moving", None: "no mark"}[said.steady]
                    return [Reading("part_weight", "line", text.strip(), said.grams, "g", mark)]
                if said is not None:
                    return [Reading("part_weight", "line", text.strip(), None, "g", said.detail)]
        return [Reading("part_weight", "line", "", None, "g", f"no line came in {self._chosen.timeout_s:g} s")]

    def _records(self, raw: bytes, now: datetime) -> Records:
        said: BalanceReading | Refused | float | None = read_line(raw.decode("latin-1"), self._chosen.unit)
        if isinstance(said, BalanceReading):
            said = self._cycle.take(said, self._clock.monotonic())
            if said is None:
                self._refused = ""
        if isinstance(said, Refused):
            # A running balance says the same ten times a second: once is enough.
            kind, self._refused = self._refused, said.kind
            again = self._chosen.running and kind == said.kind
            return [] if again else [Fault(self._name, now, said.kind, said.detail, raw)]
        if said is None:
            return []
        self._refused = ""
        chosen = self._chosen
        return [Weighing(chosen.weighs, self._name, said, now, chosen.after_s, raw, chosen.g_per_mm, chosen.dose_mm)]

    def _read(self) -> bytes:
        port = self._port
        if port is None:
            raise PressUnreachable(f"serial port {self._chosen.port} is not open")
        data = bytearray()
        try:
            read_waiting(port, data)
        except PORT_ERRORS as error:
            if not data:
                raise PressUnreachable(f"serial port {self._chosen.port} was lost: {error}") from error
        return bytes(data)


def options(section: Section) -> SerialBalanceOptions:
    """Read and check the keys.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    """
    least_g = section.number("least_g", 0.001, 1e4, 0.2)
    most_g = section.number("most_g", 0.001, 1e6, 1000.0)
    if most_g <= least_g:
        raise section.wrong("most_g", f"more than least_g, {least_g:g}")
    g_per_mm = None
    if section.has("screw_mm"):
        area_mm2 = pi / 4.0 * section.number("screw_mm", 5.0, 120.0) ** 2
        g_per_mm = area_mm2 * section.number("melt_density", 0.3, 5.0) / 1000.0
    elif section.has("melt_density") or section.has("dose_mm"):
        raise section.wrong("screw_mm", "the screw diameter in mm, for the mass balance")
    return SerialBalanceOptions(
        read_port(section, 9600, "N"),
        section.text("weighs"),
        section.choice("unit", ("g", "mg", "kg", "oz", "ct"), "g"),
        section.flag("running", False),
        least_g,
        most_g,
        section.number("after_s", 1.0, 86400.0, 120.0),
        g_per_mm,
        section.number("dose_mm", 0.0, 1000.0) if section.has("dose_mm") else None,
        section.number("poll_s", 0.01, 60.0, 0.1),
        section.number("timeout_s", 0.1, 600.0, 10.0),
    )
