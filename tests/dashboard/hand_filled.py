"""A log filled by hand, with a clock driven by hand."""

from collections.abc import Mapping
from math import exp
from pathlib import Path
from random import Random
from typing import Any

from shotlog.clock import HandClock, iso_utc
from shotlog.recorder.judge import Judge
from shotlog.records import Baseline, Link, Shot, Verdict
from shotlog.settings import Settings, load
from shotlog.store.asked.presence import touch
from shotlog.store.inserts import entries
from shotlog.store.log import judgements
from shotlog.store.log.log import Log, open_log

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[[press]]
name = "P15"
  [press.collector]
  kind = "recording"
[design.cap-r2.limits]
cushion = { low = 4.2 }
"""

BALANCE = """
[[balance]]
name = "balance"
port = "loop://"
weighs = "P25"
"""


class Trial:
    """A log with a hand-driven clock; shots come every 75 s, settle over the first few and have seeded noise."""

    def __init__(self, folder: Path, config: str = CONFIG) -> None:
        (folder / "trial.toml").write_text(config, encoding="utf-8")
        self.file = folder / "trial.toml"
        self.settings: Settings = load(self.file)
        self.clock = HandClock()
        self._log: Log | None = None
        self._judges: dict[str, Judge] = {}
        self._random = Random(20261125)
        self.next_shot = {"P25": 1, "P15": 1}
        self.warm_from = 0

    @property
    def log(self) -> Log:
        """The log, made when first asked for."""
        if self._log is None:
            self._log = open_log(self.settings.store, read_only=False)
        return self._log

    def mount(self, serial: str, half: str = "moving", press: str = "P25", **options: Any) -> None:
        entries.mount(self.log, press, serial, self.clock.now(), half=half, design="cap-r2", **options)

    def note(self, kind: str, text: str, press: str = "P25", at_shot: int | None = None) -> None:
        entries.note(self.log, press, kind, text, self.clock.now(), at_shot=at_shot)

    def link(self, state: str, detail: str = "", press: str = "P25") -> None:
        self.log.append([Link(press, self.clock.now(), state, detail)])

    def alive(self) -> None:
        """Let the logger say that it is at work."""
        touch(self.log, "run", "2 presses", self.clock.now())

    def shots(
        self,
        n: int,
        press: str = "P25",
        *,
        fall: float = 0.0,
        values: Mapping[str, float] | None = None,
        fresh: Mapping[str, float] | None = None,
    ) -> None:
        """Log and judge `n` shots; the cushion falls by `fall` mm a shot, and all channels lie off by `fresh`."""
        for k in range(n):
            self.clock.advance(75)
            shot = self.next_shot[press]
            made = values if values is not None else self._values(shot - self.warm_from, fall * (k + 1))
            off = {name: round(value + (fresh or {}).get(name, 0.0), 3) for name, value in made.items()}
            self.log.append([Shot(press, shot, shot, self.clock.now(), off)])
            self.next_shot[press] = shot + 1
        self.judge(press)
        self.alive()

    def _values(self, shot: int, fallen: float) -> dict[str, float]:
        noise = self._random.gauss
        return {
            "cushion": round(4.94 + 0.2 * exp(-shot / 5) - fallen + noise(0, 0.03), 2),
            "peak_pressure": round(542 + 30 * exp(-shot / 7) + noise(0, 3), 1),
            "fill_time": round(0.72 + noise(0, 0.003), 3),
        }

    def judge(self, press: str = "P25") -> None:
        if press not in self._judges:
            self._judges[press] = Judge(self.log, press, self.settings.designs, self.clock)
        self._judges[press].catch_up()

    def say(self, verdict: Verdict, *levels: Baseline) -> None:
        """Put a verdict into the log as if the press's judge had come to it; nothing is judged after that."""
        with self.log.transaction() as work:
            press_id = work.press_id(verdict.press, iso_utc(self.clock.now()))
            number = judgements.open_judging(
                work, press_id, verdict.shot, "by hand", "a test", iso_utc(self.clock.now())
            )
            judgements.record(work, press_id, number, [*levels, verdict])

    def close(self) -> None:
        if self._log is not None:
            self._log.close()
