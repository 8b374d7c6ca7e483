"""The bench: one press on OPC UA, the relay, the logger, faults drawn from a seed between shots."""

import random
import signal
import sqlite3
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.faults.opc.cases import Case
from tests.faults.opc.cases import config as cases_config
from tests.faults.opc.played import Played, cycle, offered
from tests.faults.opc.relay import Relay
from tests.faults.soak.logger import Logger
from tests.faults.soak.truth import Made, TruePress

__all__ = ["FAULTS", "NAME", "Bench"]

NAME = "OPC"
LOST, CUT, FREEZE, RESTART, KILL, JOB, BURST, TWICE, OTHER, THAW, SET = (
    "events lost",
    "connection cut",
    "press frozen, then restarted",
    "press restarted",
    "logger killed and started",
    "new job",
    "burst",
    "event twice",
    "another event",
    "press frozen, then thawed",
    "set-point changed",
)
FAULTS = {LOST: 6, CUT: 3, FREEZE: 1, RESTART: 1, KILL: 1, JOB: 2, BURST: 3, TWICE: 3, OTHER: 2, THAW: 1, SET: 2}
"""What may happen between two shots, and how often one compared with another."""

BROKEN: tuple[Any, ...] = (None, {"bad": "BadSensorFailure"}, float("nan"), float("inf"), "----", [1.0, 2.0], True)
"""What stands in a field that the press could not fill."""

CONFIG = """
[log]
store = "sqlite:///opc.db"
[[press]]
name = "{name}"
  [press.collector]
  kind = "opcua-40077"
  url = "opc.tcp://127.0.0.1:{port}"
  shot_counter = {{ name = "{counter}" }}
  keep_alive_s = 1.0
    [press.collector.channels]
    cushion = {{ name = "CushionStroke" }}
    peak_pressure = {{ name = "SpecificPressureMaximum" }}
    fill_time = {{ name = "InjectionTime" }}
    recovery_time = {{ name = "DosingTime" }}
    [press.collector.setpoints]
    hold = {{ name = "SetHoldPressure", unit = "bar" }}
"""


@dataclass
class Bench:
    """One run. `shots`: from when the logger has come on; `spoilt`: a value of every so many shots is broken; `every`:
    shots between two faults, about; `pace_s`: from shot to shot.
    """

    folder: Path
    seed: int
    shots: int
    counter: str = "MachineCycleCounter"
    every: int = 60
    spoilt: int = 25
    pace_s: float = 0.004
    faults: dict[str, int] = field(default_factory=lambda: dict(FAULTS))
    done: Counter[str] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)
    broken: dict[int, Any] = field(default_factory=dict)
    back_s: list[float] = field(default_factory=list)
    changed: dict[str, int] = field(default_factory=dict)
    job_after: int = 0
    set_to: list[tuple[int, float]] = field(default_factory=list)
    cases: tuple[Case, ...] = ()

    def __post_init__(self) -> None:
        self.chance = random.Random(self.seed)
        self.truth = TruePress(NAME, 1, 2**40)
        switches = {case.name: case.switches for case in self.cases}
        self.press = Played({NAME: "job-counter" if self.counter == "JobCycleCounter" else "", **switches})
        self.relay = Relay(self.press.ports[NAME])
        config = self.folder / "opc.toml"
        text = CONFIG.format(name=NAME, port=self.relay.port, counter=self.counter)
        ports = {name: port for name, port in self.press.ports.items() if name != NAME}
        config.write_text(text + cases_config(ports), encoding="utf-8")
        self.log = self.folder / "opc.db"
        self.logger = Logger(config, pages=False)

    def run(self) -> None:
        """Play it all, and end when the logger has had time to store the last shots."""
        try:
            self._set_hold(380.0)
            self.logger.start()
            self._until_read(60.0)
            self._play_cases()
            self._play()
            self._until_read(60.0)
            self._last_read(30.0)
            if self.logger.stop(30.0) is None:
                self.notes.append("the logger did not end when asked to")
            self.changed = self.press.done()
        finally:
            self.logger.kill()
            self.relay.close()
            self.press.close()

    def _play_cases(self) -> None:
        """Send what the cases are, once their presses are listened to."""
        wanted, until = {case.name for case in self.cases}, time.monotonic() + 60.0
        while not wanted <= set(self.press.do("subscribed", {})):
            if time.monotonic() > until:
                self.notes.append(f"not listened to: {wanted - set(self.press.do('subscribed', {}))}")
                break
            time.sleep(0.05)
        for case in self.cases:
            for one in case.cycles():
                self.press.send(case.name, one)
        until = time.monotonic() + 60.0
        while any(self._newest(case.name) < len(case.sent) + 2 for case in self.cases) and time.monotonic() < until:
            time.sleep(0.1)

    def _play(self) -> None:
        last = self.truth.now.n + self.shots
        due = self.truth.now.n + self._next()
        while self.truth.now.n < last:
            if self.truth.now.n >= due:
                (kind,) = self.chance.choices([*self.faults], [*self.faults.values()])
                self._fault(kind)
                self.done[kind] += 1
                due = self.truth.now.n + self._next()
                continue
            self._send(self._make())
            time.sleep(self.pace_s)

    def _next(self) -> int:
        return self.chance.randint(self.every // 2, self.every * 3 // 2)

    def _make(self) -> Made:
        """Make a shot; a value of some of them is broken, and later ones before the last of the channels may be."""
        unreadable: tuple[str, ...] = ()
        broken = None
        if self.spoilt and self.chance.random() < 1.0 / self.spoilt:
            unreadable = (self.chance.choice(["cushion", "peak_pressure", "fill_time", "recovery_time"]),)
            broken = self.chance.choice(BROKEN)
        made = self.truth.make(unreadable)
        if unreadable:
            self.broken[made.n] = broken
        return made

    def _send(self, *shots: Made) -> None:
        self.press.send(NAME, *[self._cycle(made) for made in shots])

    def _cycle(self, made: Made) -> dict[str, Any]:
        job = made.n - self.job_after if self.counter == "MachineCycleCounter" else 0
        return cycle(made, self.broken.get(made.n), job)

    def _fault(self, kind: str) -> None:
        few = self.chance.randint(1, 5)
        if kind == LOST:
            for _ in range(few):
                self._make()
        elif kind == CUT:
            self.relay.cut()
        elif kind == FREEZE:
            self.press.freeze()
            self._missed(few, self.chance.uniform(0.5, 3.0))
            self._restart()
        elif kind == RESTART:
            self._restart()
            self._missed(few, 0.0)
        elif kind == THAW:
            self.press.freeze()
            time.sleep(self.chance.uniform(0.2, 4.0))
            self.press.thaw()
        elif kind == KILL:
            self.logger.signal(signal.SIGKILL)
            self._missed(few, 0.0)
            self.logger.kill()
            self.logger.start()
        elif kind == JOB:
            self.job_after = self.truth.now.n
            if self.counter == "JobCycleCounter":
                self.truth.reset()
        elif kind == BURST:
            self._send(*[self._make() for _ in range(50)])
        elif kind == TWICE:
            made = self._make()
            self._send(made, made)
        elif kind == SET:
            self._until_read(60.0)
            self._last_read(20.0)  # with what was set for it
            self._set_hold(380.0 + len(self.set_to))
        elif kind == OTHER:
            self.press.do("tell", {NAME: "heating zone 2 below limit"})
        if kind in (CUT, FREEZE, RESTART, KILL, THAW):
            self._until_read(60.0)

    def _restart(self) -> None:
        self.press.restart(self.chance.uniform(0.0, 2.0))
        self.relay.target = self.press.ports[NAME]
        self.press.do("set", {NAME: {"SetHoldPressure": self.set_to[-1][1]}})

    def _set_hold(self, bar: float) -> None:
        """Set the hold pressure, from the next shot on."""
        self.set_to.append((self.truth.now.n + 1, bar))
        self.press.do("set", {NAME: {"SetHoldPressure": bar}})

    def _missed(self, shots: int, over_s: float) -> None:
        """Make shots that nobody can hear."""
        for _ in range(shots):
            self._make()
            time.sleep(over_s / shots)

    def _until_read(self, wait_s: float) -> None:
        """Make shots until the log has one of them; how long that took is noted."""
        began, first = time.monotonic(), self.truth.now.n
        while time.monotonic() < began + wait_s:
            self._send(self.truth.make())
            time.sleep(0.1)
            if self._stored_since(first):
                self.back_s.append(time.monotonic() - began)
                return
        self.notes.append(f"shot {first}: nothing was stored of what was sent for {wait_s:g} s")

    def _last_read(self, wait_s: float) -> None:
        """Wait until the log has the shot made last."""
        until = time.monotonic() + wait_s
        while not self._stored_since(self.truth.now.n - 1):
            if time.monotonic() > until:
                self.notes.append(f"shot {self.truth.now.n}: not stored within {wait_s:g} s")
                return
            time.sleep(0.05)

    def _stored_since(self, n: int) -> bool:
        """Say whether a shot made after the n-th is in the log, by its counter and its cushion."""
        wanted = {(made.counter, offered(made)["cushion"]) for made in self.truth.ledger[n:]}
        return any(row in wanted for row in self._last_rows(NAME))

    def _newest(self, name: str) -> int:
        """Return the counter of the newest shot of a press in the log, 0 for none."""
        return max((counter for counter, _ in self._last_rows(name)), default=0)

    def _last_rows(self, name: str) -> list[tuple[int, float]]:
        """Return counter and cushion of the newest shots of a press."""
        if not self.log.exists():
            return []
        query = "SELECT counter, cushion FROM shots WHERE press_id = (SELECT id FROM presses WHERE name = ?)"
        try:
            with closing(sqlite3.connect(f"file:{self.log.as_posix()}?mode=ro", uri=True, timeout=5)) as log:
                return log.execute(f"{query} ORDER BY id DESC LIMIT 20", (name,)).fetchall()
        except sqlite3.OperationalError:
            return []
