"""A balance beside a press: from weighing to the shot that is judged with its weight, live as replayed."""

import threading
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from shotlog.clock import Clock, HandClock
from shotlog.collectors.base import Collector, Reading, Resume
from shotlog.recorder import Recorder
from shotlog.records import Fault, Gap, SetPointChange, Shot, Verdict, Weighing
from shotlog.settings import load
from shotlog.store.asked.state import verdicts
from shotlog.store.log.log import open_log
from shotlog.store.parts.weights import weighings

Record = Shot | Gap | Fault | Weighing | SetPointChange


@dataclass(frozen=True)
class Told:
    """A collector that hands over what it was told, all at once, when `after` is set; then it waits for `stop`."""

    records: tuple[Record, ...]
    after: threading.Event
    stop: threading.Event
    poll_s: float = 0.0

    def describe(self) -> list[str]:
        return []

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        return _Told(self)


class _Told:
    def __init__(self, told: Told) -> None:
        self._told, self._left = told, list(told.records)

    def open(self) -> None:
        """Be open."""

    def poll(self) -> Sequence[Record]:
        (self._told.after if self._left else self._told.stop).wait()
        given, self._left = self._left, []
        return given

    def probe(self) -> list[Reading]:
        return []

    def close(self) -> Sequence[Record]:
        return []


def test_a_weight_that_comes_after_its_shot_reaches_the_judged_shot(tmp_path: Path) -> None:
    (tmp_path / "c.toml").write_text(
        '[log]\nstore = "sqlite:///t.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
        '[[balance]]\nname = "balance-1"\nport = "loop://"\nweighs = "P25"\n',
        encoding="utf-8",
    )
    settings = load(tmp_path / "c.toml")
    clock = HandClock()
    start = clock.now()
    stop, shots_in = threading.Event(), threading.Event()
    shots = tuple(Shot("P25", n, n, start + timedelta(minutes=n), {"cushion": 5.0}) for n in range(1, 4))
    weights = tuple(
        Weighing("P25", "balance-1", 10.0 + n, start + timedelta(minutes=n, seconds=20), 50.0, b"", 0.3, 40.0)
        for n in (1, 3)
    )
    at_once = threading.Event()
    at_once.set()
    press, balance = {"P25": Told(shots, at_once, stop)}, {"balance-1": Told(weights, shots_in, stop)}

    def watch(record: object) -> None:
        if isinstance(record, Verdict) and record.shot == 3:
            shots_in.set()
        if isinstance(record, Weighing) and record.grams == 13.0:
            stop.set()

    with open_log(settings.store, read_only=False) as log:
        Recorder(log, settings, press, clock, (watch,), balance).run(stop)
        assert [(one.grams, one.shot) for one in weighings(log, "P25")] == [(11.0, 1), (13.0, 3)]
        logged = {shot.shot: shot.values for shot in log.logged("P25")}
        assert logged[1]["part_weight"] == 11.0
        assert "part_weight" not in logged[2]
        assert logged[3]["mass_balance"] == 0.3 * (40.0 - 5.0) - 13.0
        assert [verdict.shot for verdict in verdicts(log, "P25")] == [1, 2, 3], "judged again, each once in force"
        log.verify()
