"""A made-up shop: a day of shots taken in from a recording, and commands typed on it by a clock driven by hand.

Everything goes through the command line, as a person would do it; nothing of the program is looked at from inside.
"""

import csv
import json
import shutil
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from io import StringIO
from math import exp
from pathlib import Path
from random import Random
from typing import Any

import pytest

from shotlog.cli.main import main
from shotlog.clock import SystemClock
from shotlog.records import Link
from shotlog.settings import load
from shotlog.store.asked.presence import touch
from shotlog.store.log.log import open_log

__all__ = ["CONFIG", "CYCLE_S", "MORNING", "Row", "Said", "Shop", "command", "sound_day", "write_day"]

MORNING = datetime(2026, 3, 2, 6, tzinfo=UTC)
CYCLE_S = 75

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P1"
  [press.collector]
  kind = "recording"
[[press]]
name = "P2"
  [press.collector]
  kind = "recording"
[design.cap-r2.tolerance]
wall = { low = 1.1, high = 1.3 }
[design.plate-r1.tolerance]
wall = { low = 1.1, high = 1.3 }
[design.pair-r1]
cavities = 2
"""


@dataclass
class Row:
    """One row of a recording (design.md, section 5)."""

    shot: int
    values: dict[str, float]
    fixed: str = "A-07"
    moving: str = "B-11"
    core: str = ""
    design: str = "cap-r2"
    event: str = ""
    single_use: str = ""
    print_batch: str = ""
    press: str = "P1"
    late_s: float = 0.0


@dataclass
class Said:
    """What a command answered."""

    status: int
    out: str
    err: str

    @property
    def all(self) -> str:
        return self.out + self.err


def command(*words: object) -> Said:
    """Type a command, in this process: what starts Python and loads the program is held by the end-to-end tests."""
    out, err = StringIO(), StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status = main(list(map(str, words)))
        except SystemExit as ended:
            status = ended.code if isinstance(ended.code, int) else 2 if ended.code else 0
    return Said(status, out.getvalue(), err.getvalue())


def sound_values(shot: int, noise: Random, mounted: int = 1) -> dict[str, float]:
    """Return what a sound press shows: warming up since `mounted`, then level with a little noise."""
    k = shot - mounted + 1
    return {
        "cushion": round(4.94 + 0.2 * exp(-k / 5) + noise.gauss(0, 0.03), 2),
        "peak_pressure": round(542 + 30 * exp(-k / 7) + noise.gauss(0, 3), 1),
        "fill_time": round(0.72 + noise.gauss(0, 0.003), 3),
    }


def sound_day(n: int = 80, seed: int = 14, **same: Any) -> list[Row]:
    """Return a day of `n` shots on which nothing moves."""
    noise = Random(seed)
    return [Row(shot, sound_values(shot, noise), **same) for shot in range(1, n + 1)]


def write_day(file: Path, rows: list[Row]) -> None:
    """Write rows as a recording: one shot every 75 s since the morning."""
    with file.open("w", encoding="utf-8", newline="") as out:
        put = csv.writer(out)
        channels = list(rows[0].values)
        put.writerow(
            [
                "press",
                "shot",
                "time",
                "fixed",
                "moving",
                "core",
                "design",
                "event",
                "single_use",
                "print_batch",
                *channels,
            ]
        )
        for row in rows:
            time = MORNING + timedelta(seconds=CYCLE_S * row.shot + row.late_s)
            put.writerow(
                [row.press, row.shot, time.isoformat(), row.fixed, row.moving, row.core, row.design, row.event,
                 row.single_use, row.print_batch, *(row.values[name] for name in channels)]
            )  # fmt: skip


@dataclass
class Shop:
    """A folder with a configuration and a log; `now` is what every command takes for the time."""

    folder: Path
    patch: pytest.MonkeyPatch
    now: datetime = MORNING + timedelta(hours=12)
    typed: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.patch.setattr(SystemClock, "now", lambda _: self.now)
        if not self.config.exists():
            self.config.write_text(CONFIG, encoding="utf-8")

    @property
    def config(self) -> Path:
        return self.folder / "shop.toml"

    @classmethod
    def after(cls, made: Path, folder: Path, patch: pytest.MonkeyPatch) -> "Shop":
        """Open a copy of a shop that was made before."""
        shutil.copytree(made, folder, dirs_exist_ok=True)
        return cls(folder, patch)

    def wait(self, hours: float) -> None:
        """Let time go by; less than nothing sets the clock back."""
        self.now += timedelta(hours=hours)

    def ask(self, name: str, *words: object) -> Said:
        """Type a command, whatever comes of it."""
        self.typed.append(" ".join(map(str, (name, *words))))
        return command(name, self.config, *words)

    def do(self, command: str, *words: object) -> str:
        """Type a command that must succeed; returns what it printed."""
        said = self.ask(command, *words)
        assert said.status == 0, f"{self.typed[-1]}: {said.all}"
        return said.out

    def refused(self, command: str, *words: object) -> str:
        """Type a command that must be refused in one line; returns the line."""
        said = self.ask(command, *words)
        assert said.status != 0, f"taken: {self.typed[-1]}: {said.out}"
        assert "Traceback" not in said.err
        return said.err

    def asked(self, command: str, *words: object) -> Any:
        return json.loads(self.do(command, *words, "--json"))

    def take(self, rows: list[Row], name: str = "day.csv") -> None:
        """Take a recording in."""
        write_day(self.folder / name, rows)
        self.do("import", self.folder / name)

    def alive(self, press: str = "P1") -> None:
        """Let the logger say that it is connected and at work, as it does beside a press."""
        with open_log(load(self.config).store, read_only=False) as log:
            log.append([Link(press, self.now, "connected", "")])
            touch(log, "run", "1 press", self.now)

    def parts(self, press: str = "P1") -> dict[int, str]:
        """Return the state of each part by its shot, of a mould with one cavity."""
        return {row["shot"]: row["state"] for row in self.asked("parts", press)["parts"]}

    def held(self, press: str = "P1") -> set[int]:
        """Return the shots whose parts are held."""
        return {row["shot"] for row in self.asked("parts", press)["parts"] if row["state"] == "held"}

    def stands(self, press: str = "P1") -> dict[str, Any]:
        """Return how a press stands, as `status` says it."""
        (found,) = [one for one in self.asked("status")["presses"] if one["press"] == press]
        return dict(found)

    def verdict(self, press: str = "P1") -> str:
        """Return what stands at a press, by its values and by what people found."""
        return str(self.stands(press)["stands"])
