"""The bench: several presses with a folder each, one logger, faults drawn from a seed between shots."""

import random
import sqlite3
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from tests.faults import outside
from tests.faults.files.played import Fault, Place, Played, offered, texts
from tests.faults.soak.logger import Logger
from tests.faults.soak.truth import CHANNELS, TruePress

__all__ = ["BROKEN", "FAULTS", "HARM", "KINDS", "SPOILT", "Bench", "Kind"]


@dataclass(frozen=True, slots=True)
class Kind:
    """A press of the bench: its switches, where its counter begins and ends, and how many steps lie between shots."""

    ways: str
    first: int = 1
    last_count: int = 2**40
    every: int = 1
    keys: str = ""
    units: bool = False
    counter: str = ""


KINDS = {
    "APPEND": Kind("pieces=two,others=yes", keys="silence_s = 5\n  changes = true"),
    "WHOLE": Kind(
        "pieces=whole,ends=lower,deletes=before,processed=plain",
        first=9000,
        last_count=9999,
        keys="silence_s = 5",
        counter=", last_count = 9999",
    ),
    "FTP": Kind(
        "ftp=whole,pieces=two,line=lf,code-page=8859-1,info=equals", first=65000, last_count=65535, keys="silence_s = 5"
    ),
    "FTPAPP": Kind("ftp=append,session-id=no,header=again,info=space,slow-s=0.2", keys="silence_s = 5"),
    "PASSIVE": Kind("pieces=two,report=THEIRS.DAT", keys='passive = true\n  report = "THEIRS.DAT"', units=True),
    "REWRITE": Kind(
        "pieces=tail,report=THEIRS.DAT,mode=rewrite",
        every=8,
        keys='passive = true\n  report = "THEIRS.DAT"\n  mode = "rewrite"',
        units=True,
    ),
}
"""The presses, by name."""

SPOILT = ("half", "short", "long", "comma", "nul")
"""Faults that make a line unreadable; of `half` the next one too."""

HARM = ("emptied", "deleted", "older", "cut")
"""Faults that take from a file what may not have been read."""

LINE = {
    "half": 3, "split": 3, "short": 2, "long": 2, "comma": 2, "nul": 2, "garbage": 2, "lost": 3, "duplicate": 3,
    "header": 2, "rewritten": 3, "older": 2, "emptied": 2, "deleted": 2, "clock": 1,
}  # fmt: skip
LASTING = {"away": 3, "silent": 1, "restart": 2, "job-lost": 2, "busy": 1, "offline": 1}
MACHINE = {"presses killed": 1, "logger killed": 2, "new day": 1, "count anew": 2}

FAULTS = LINE | LASTING | MACHINE
"""What may happen between two steps, and how often one compared with another."""

BROKEN = ("?", "ERR", "", "99999999999999", "-", "1.2.3", "NaN", "inf", '"?"', "--.--")
"""What stands in a cell that the press could not fill."""

CONFIG = """
[[press]]
name = "{name}"
  [press.collector]
  kind = "euromap63"
  folder = {folder}
  poll_s = 0.05
  {keys}
  shot_counter = {{ token = "ActCntCyc"{counter} }}
    [press.collector.channels]
    cushion = {{ token = "ActStrCsh[1]"{mm} }}
    peak_pressure = {{ token = "ActPrsMachSpecMax"{bar} }}
    fill_time = {{ token = "ActTimFill[1]"{s} }}
    recovery_time = {{ token = "ActTimPlst[1]"{s} }}
"""


@dataclass
class Bench:
    """One run of `shots` shots of all presses together. `every`: steps between two faults, about; `spoilt`: of every so
    many shots a value is broken; `pace_s`: from step to step.
    """

    root: Path
    seed: int
    shots: int
    every: int = 12
    spoilt: int = 25
    pace_s: float = 0.05
    kinds: dict[str, Kind] = field(default_factory=lambda: dict(KINDS))
    faults: dict[str, int] = field(default_factory=lambda: dict(FAULTS))
    done: Counter[str] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)
    broken: dict[tuple[str, int], str] = field(default_factory=dict)
    faulty: dict[tuple[str, int], str] = field(default_factory=dict)
    killed: list[float] = field(default_factory=list)
    back_s: dict[str, list[float]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.chance = random.Random(self.seed)
        self.truth = {name: TruePress(name, kind.first, kind.last_count) for name, kind in self.kinds.items()}
        self.places = {name: Place(name, kind.ways, self.root) for name, kind in self.kinds.items()}
        self.presses = Played(list(self.places.values()))
        config = self.root / "files.toml"
        config.write_text('[log]\nstore = "sqlite:///files.db"\n' + "".join(map(self._table, self.kinds)), "utf-8")
        self.log = self.root / "files.db"
        self._clock, self._off_s, self.record = self.root / "clock", 0.0, self.root / "record"
        environment = outside.recording(self.record, self.root / "shared") | outside.clock(self._clock)
        self.logger = Logger(config, pages=False, environment=environment if outside.shim() else {})
        self._step = 0

    def _table(self, name: str) -> str:
        kind, place = self.kinds[name], self.places[name]
        units = {unit: f', unit = "{unit}"' if kind.units else "" for unit in ("mm", "bar", "s")}
        return CONFIG.format(name=name, folder=f"'{place.folder}'", keys=kind.keys, counter=kind.counter, **units)

    def run(self) -> None:
        """Play it all, and end when the logger has had time to store the last shots."""
        try:
            self.logger.start()
            self._until_read(list(self.kinds), 60.0)
            self._play()
            for name in self.kinds:
                self.presses.last(name)
            self._until_read(list(self.kinds), 90.0, every=False)
            if self.logger.stop(30.0) is None:
                self.notes.append("the logger did not end when asked to")
        finally:
            self.logger.kill()
            self.presses.close()

    @property
    def made(self) -> int:
        """How many shots were made, all presses together."""
        return sum(truth.now.n for truth in self.truth.values())

    def _play(self) -> None:
        due = self._next()
        while self.made < self.shots:
            if not self.logger.alive:
                self.notes.append(f"ended by itself: {[said.line for said in self.logger.said[-3:]]}")
                return
            self._step += 1
            if self._step < due:
                self._shots(self._turn(), {})
            else:
                due = self._step + self._next()
                self._fault()
            time.sleep(self.pace_s)

    def _next(self) -> int:
        return self.chance.randint(self.every // 2, self.every * 3 // 2)

    def _turn(self) -> list[str]:
        return [name for name, kind in self.kinds.items() if self._step % kind.every == 0]

    def _shots(self, names: list[str], faults: dict[str, list[Fault]], sound: bool = False) -> None:
        """Make a shot at each of these presses; a value of some is broken, unless they have to be sound."""
        told = {}
        for name in names:
            broken = not sound and self.chance.random() < 1.0 / self.spoilt
            made = self.truth[name].make((self.chance.choice(CHANNELS),) if broken else ())
            if broken:
                self.broken[name, made.n] = self.chance.choice(BROKEN)
            here = faults.get(name, [])
            for kind, _ in here:
                self.faulty[name, made.n] = kind
            told[name] = [(made, texts(made, self.broken.get((name, made.n), "")), here)]
        self.presses.make(told)

    def _fault(self) -> None:
        (kind,) = self.chance.choices([*self.faults], [*self.faults.values()])
        name = self.chance.choice([*self.kinds])
        if kind in LASTING and "report=" in self.kinds[name].ways and kind not in ("away", "restart", "job-lost"):
            kind = "half"  # nobody asks it anything
        if kind == "half" and self.chance.random() < 0.3 and "ftp=" in self.kinds[name].ways:
            kind = "cut"
        self.done[kind] += 1
        if kind in LINE or kind == "cut":
            seconds = 3600.0 * self.chance.choice((1, -1, 24)) if kind == "clock" else self.chance.uniform(0.05, 0.4)
            self._shots([name], {name: [(kind, seconds)]})
            if kind == "emptied" and self.kinds[name].units:
                self._without_names(name)
        elif kind in LASTING:
            self._last(name, kind)
        elif kind == "count anew":
            self.truth[name].reset()
        elif kind == "new day":
            self._off_s += 86400.0
            outside.put_clock(self._clock, self._off_s)
            self._until_read([one for one, k in self.kinds.items() if not k.units], 60.0)
        elif kind == "logger killed":
            self.logger.kill()
            self.killed.append(time.monotonic())
            for _ in range(self.chance.randint(0, 6)):
                self._shots(self._turn(), {})
            if self.chance.random() < 0.3:
                self.truth[name].reset()
                self.done["count anew while it was away"] += 1
            self.logger.start()
            self._until_read([*self.kinds], 60.0)
        else:
            self.presses.kill()
            time.sleep(self.chance.uniform(0.0, 1.0))
            self.presses.start()
            self._until_read([*self.kinds], 120.0)

    def _without_names(self, name: str) -> None:
        """Nobody but who ordered a report knows its columns without the header: it comes again some shots later."""
        for _ in range(self.chance.randint(2, 10)):
            self._shots([name], {name: [("no header", 0.0)]})
            time.sleep(self.pace_s)
        self._shots([name], {name: [("deleted", 0.0)]})

    def _last(self, name: str, kind: str) -> None:
        self.presses.last(name, (kind, 0.0))
        for _ in range(self.chance.randint(2, 20)):
            self._shots([name], {})
            time.sleep(self.pace_s)
        self.presses.last(name)
        self._until_read([name], 120.0)

    def _until_read(self, names: list[str], wait_s: float, every: bool = True) -> None:
        """Make sound shots until the log has one of each of these presses; how long that took is noted.

        Where not `every`, until the log has the newest.
        """
        began, first = time.monotonic(), {name: self.truth[name].now.n for name in names}
        waiting = list(names)
        while waiting and time.monotonic() < began + wait_s and self.logger.alive:
            self._step += 1
            if every or self._step % 20 == 1:
                self._shots(waiting, {}, sound=True)
            time.sleep(max(0.15, self.pace_s))
            for name in list(waiting):
                if self._stored_since(name, first[name] if every else self.truth[name].now.n - 1):
                    self.back_s.setdefault(name, []).append(time.monotonic() - began)
                    waiting.remove(name)
        self.notes += [
            f"{name} shot {first[name]}: nothing stored of what was made for {wait_s:g} s" for name in waiting
        ]

    def _stored_since(self, name: str, n: int) -> bool:
        """Say whether a shot made after the n-th is in the log, by its counter and its cushion."""
        if not self.log.exists():
            return False
        wanted = {(made.counter, offered(made).get("cushion")) for made in self.truth[name].ledger[n:]}
        try:
            with closing(sqlite3.connect(f"file:{self.log.as_posix()}?mode=ro", uri=True, timeout=5)) as log:
                rows = log.execute(
                    "SELECT counter, cushion FROM shots WHERE press_id = (SELECT id FROM presses WHERE name = ?) "
                    "ORDER BY id DESC LIMIT 20",
                    (name,),
                ).fetchall()
        except sqlite3.OperationalError:
            return False
        return any(row in wanted for row in rows)
