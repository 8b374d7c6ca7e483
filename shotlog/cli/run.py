"""``shotlog run``: log and judge every press of the configuration until stopped. Leave it running beside the press."""

import argparse
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.cli.opening import Subparsers, add_command, opened
from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import UsageError
from shotlog.records import ClockStep, Fault, Gap, Link, Shot, Verdict, Weighing
from shotlog.settings import Settings
from shotlog.wording.numbers import plain, some
from shotlog.wording.verdicts import announced

if TYPE_CHECKING:
    from shotlog.recorder import Listener

__all__ = ["add", "log_presses", "pages", "stop_on_signals"]


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    parser = add_command(
        subparsers, "run", "log and judge every press until Ctrl-C; leave running beside the press", _run
    )
    parser.add_argument("--shots", type=int, metavar="N", help="end after N shots are stored, all presses together")
    parser.add_argument("--no-dashboard", action="store_true", help="log only, serve no pages")


def _run(arguments: argparse.Namespace) -> int:
    if arguments.shots is not None and arguments.shots < 1:
        raise UsageError(f"--shots: given {arguments.shots}, allowed: 1 or more")
    with stop_on_signals() as stop:
        n = log_presses(arguments.config, stop, arguments.shots, with_pages=not arguments.no_dashboard)
    print(f"shotlog run: ended; {some(n, 'shot')} stored", file=sys.stderr)
    return 0


@contextmanager
def stop_on_signals() -> Iterator[threading.Event]:
    """Return an event that Ctrl-C and a request to terminate set."""
    stop = threading.Event()
    names = [name for name in ("SIGINT", "SIGTERM", "SIGBREAK") if hasattr(signal, name)]
    before = {name: signal.signal(getattr(signal, name), lambda *_: stop.set()) for name in names}
    try:
        yield stop
    finally:
        for name, handler in before.items():
            signal.signal(getattr(signal, name), handler)


def log_presses(
    config: Path, stop: threading.Event, n_shots: int | None, with_pages: bool, listeners: tuple["Listener", ...] = ()
) -> int:
    """Log every press of a configuration until `stop` or `n_shots`; return how many shots were stored."""
    from shotlog.collectors import balance_options, options
    from shotlog.recorder import Recorder
    from shotlog.recorder.rehearsal import rehearse

    with opened(config, read_only=False) as (settings, log):
        checked = {press.name: options(press) for press in settings.presses if press.kind != "recording"}
        balances = {balance.name: balance_options(balance) for balance in settings.balances}
        if not checked and not balances:
            raise UsageError(f"{config}: every press is of kind recording; use shotlog replay")
        for line in settings.cautions:
            print(f"WARNING: {line}", file=sys.stderr)
        clock = SystemClock()
        if settings.trial is not None:
            trial = settings.trial
            log.use_trial(trial.name, trial.part, trial.resin, iso_utc(clock.now()))
        print(f"logging {', '.join([*checked, *balances])} to {settings.store_shown}; Ctrl-C ends", file=sys.stderr)
        with pages(settings, with_pages):
            recorder = Recorder(log, settings, checked, clock, (Narrator(), *listeners), balances, rehearse)
            return recorder.run(stop, n_shots)


@contextmanager
def pages(settings: Settings, wanted: bool) -> Iterator[None]:
    """Serve the pages from a process of their own for the length of the block: a busy page must not delay a poll."""
    if not wanted:
        yield
        return
    process = subprocess.Popen([sys.executable, "-m", "dashboard", str(settings.file)])
    try:
        yield
    finally:
        process.terminate()
        process.wait()


class Narrator:
    """Says on stderr, a line each, what comes in and what is made of it."""

    def __init__(self) -> None:
        self._said: dict[str, tuple[str, str]] = {}
        self._shots: dict[str, str] = {}

    def __call__(self, record: object) -> None:
        """Say a record, if it is worth a line."""
        match record:
            case Shot():
                no_part = f"  NO PART: {record.no_part}" if record.no_part else ""
                self._say(record.press, f"shot {record.shot}  {_values(record)}{no_part}")
            case Weighing():
                self._say(record.press, f"weighed {record.grams:.3f} g on {record.balance}")
            case Gap():
                self._say(record.press, f"MISSED shots {record.first} to {record.last} ({record.reason})")
            case Fault():
                self._say(record.press, f"fault, {record.kind}: {record.detail}")
            case Link():
                self._say(record.press, f"{record.state}: {record.detail}")
            case ClockStep():
                self._say("CLOCK", record.detail)
            case Verdict():
                now = (record.verdict, record.insert)
                if self._said.get(record.press, ("keep", record.insert)) != now:
                    self._say(record.press, announced(record))
                self._said[record.press] = now

    def _say(self, press: str, text: str) -> None:
        print(f"{SystemClock().now().astimezone():%H:%M:%S} {press}: {text}", file=sys.stderr, flush=True)


def _values(shot: Shot) -> str:
    parts = []
    for name in ALWAYS_CHARTED:
        channel = CHANNELS[name]
        value = plain(name, shot.values[name]) if name in shot.values else "not measured"
        parts.append(f"{channel.label.lower()} {value} {channel.unit}")
    return "  ".join(parts)
