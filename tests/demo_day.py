"""The whole day of the demo as a log, without waiting for it: its shots and what its people do, in order of time."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from shotlog.channels import CHANNELS
from shotlog.cli.demo import configuration
from shotlog.cli.demo_operator import enter
from shotlog.clock import HandClock
from shotlog.recorder.judge import Judge
from shotlog.records import Shot
from shotlog.settings import Settings, load
from shotlog.store.log.log import Log, open_log
from simulators.operator import acts
from simulators.press import PressRun
from simulators.recording import runs
from simulators.story import load as scenario
from tests.review.made_up_press import START


@dataclass(frozen=True, slots=True)
class DemoDay:
    """The settings of the demo, what was said of each act of its people, and when the day was over."""

    settings: Settings
    said: list[str]
    over: datetime


def demo_day(folder: Path, shots: dict[str, int], *, judged: bool) -> DemoDay:
    """Fill a log in a folder with the first so many `shots` of each press; `judged`: as the monitor would have."""
    serving = {name: {"config": '  [press.collector]\n  kind = "recording"\n'} for name in shots}
    (folder / "demo.toml").write_text(configuration(serving, 1.0), encoding="utf-8")
    settings, said, over = load(folder / "demo.toml"), [], START
    with open_log(settings.store, read_only=False) as log:
        for run in runs(scenario("demo")):
            said += _day(log, settings, run, shots[run.press.name])
            over = max(over, START + timedelta(seconds=float(run.seconds[-1])))
            if judged:
                Judge(log, run.press.name, settings.designs, HandClock(over)).catch_up()
    return DemoDay(settings, said, over)


def _day(log: Log, settings: Settings, run: PressRun, n_shots: int) -> Iterator[str]:
    press, waiting = run.press, acts(run.press, n_shots)
    columns = {name: values for name, values in run.channels.items() if name in CHANNELS}
    for shot, second in enumerate(run.seconds.tolist()[:n_shots], 1):
        now = START + timedelta(seconds=second)
        while waiting and waiting[0][0] <= shot:
            yield f"{press.name} {shot}: {enter(log, settings, waiting.pop(0)[1], now)}"
        values = {name: float(column[shot - 1]) for name, column in columns.items()}
        log.append([Shot(press.name, shot, shot, now, {k: v for k, v in values.items() if v == v})])
