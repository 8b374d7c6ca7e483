"""``shotlog demo``: simulated presses on real wires, an operator who enters what happens, logging and pages; no set-up.

Everything is the real thing but the presses: they run in a process of their own and are read over a real Modbus TCP
socket and a real serial line. The day after P15's 48 shots follows at once, and the night in the bath is told in the
time of 24 shots; the times in the log are those of the clock. Each demo gets a new log under ``demo/`` in the folder it
is started from, and a configuration beside it, so that every other command can be tried on it meanwhile.
"""

import argparse
import json
import queue
import socket
import subprocess
import sys
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

from shotlog.cli.demo_operator import operate
from shotlog.cli.narrator import ended_said
from shotlog.cli.opening import Subparsers
from shotlog.cli.run import log_presses, stop_on_signals
from shotlog.clock import SystemClock
from shotlog.errors import ShotlogError, UsageError
from shotlog.outputs import written_aside
from shotlog.own_python import own_environment, own_python
from shotlog.records import Link

__all__ = ["add", "configuration"]

_READY_S = 30.0

_DESIGNS = """
[design.pawl-b-r1]
resin_family = "high-temperature photopolymer"
settling_shots = 25
baseline_shots = 15
  [design.pawl-b-r1.limits]
  cushion = {{ low = 4.5 }}
  [design.pawl-b-r1.cost]
  part = 2.1
  insert = 18.0
  changeover = 11.0
  late_find = 7.0

[design.pawl-a-r1]
resin_family = "ceramic-filled photopolymer"
settling_shots = 25
baseline_shots = 15
  [design.pawl-a-r1.cost]
  part = 2.1
  insert = 31.0
  changeover = 13.0
  late_find = 7.0

[design.manifold-simple-r1]
resin_family = "ceramic-filled photopolymer"
settling_shots = 12
baseline_shots = 12

# The soluble half takes 26 h in 1 mol/l caustic at 40 degC. The demo does not
# wait that long: it tells them in {told_s:.0f} s.
[design.manifold-soluble-r1]
resin_family = "soluble acrylate"
dissolve_h = {told_h:.4f}
  [design.manifold-soluble-r1.tolerance]
  bore = {{ low = 1.15, high = 1.25 }}
"""

_NIGHT_H = 1.0
"""Hours of the press in which the demo tells the 26 h in the bath: 24 shots of P15, so that the day after is seen."""


def add(subparsers: Subparsers) -> None:
    """Add the command."""
    text = "simulated presses, logging and pages together; nothing to set up"
    parser = subparsers.add_parser("demo", help=text, description=text)
    parser.add_argument("--shots", type=int, metavar="N", help="end after N shots are stored, all presses together")
    parser.add_argument("--speed", type=float, default=100.0, metavar="X", help="times faster than real (default: 100)")
    parser.add_argument("--no-dashboard", action="store_true", help="serve no pages")
    parser.set_defaults(run=_run, stays=True)


def _run(arguments: argparse.Namespace) -> int:
    if arguments.shots is not None and arguments.shots < 1:
        raise UsageError(f"--shots: given {arguments.shots}, allowed: 1 or more")
    if not 1.0 <= arguments.speed <= 1000.0:
        raise UsageError(f"--speed: given {arguments.speed:g}, allowed: 1 to 1000")
    folder = Path("demo").resolve()
    folder.mkdir(exist_ok=True)
    with stop_on_signals() as stop, _presses(arguments.speed) as (process, lines, serving):
        config = folder / "demo.toml"
        with written_aside(config) as aside:
            aside.write_text(configuration(serving, arguments.speed), encoding="utf-8")
        print(f"demo: simulated presses {', '.join(serving)} at {arguments.speed:g} times real speed", file=sys.stderr)
        print(
            f"demo: the 26 h of the bath are told in {3600.0 * _NIGHT_H / arguments.speed:.0f} s; "
            "the shots of P15 from 49 on are the next day's",
            file=sys.stderr,
        )
        print(f"demo: try in another terminal:  shotlog status {config}", file=sys.stderr)
        operator = threading.Thread(target=operate, args=(config, lines, stop), name="operator")
        with running(operator, stop):
            starter = _Starter(process, set(serving))
            ended = log_presses(config, stop, arguments.shots, not arguments.no_dashboard, (starter,))
    print(f"demo: ended; {ended_said(ended)}; the log stays in {folder}", file=sys.stderr)
    return 1 if ended.lost else 0


class _Starter:
    """Lets the presses begin once every one of them is connected, so that no shot is made unseen."""

    def __init__(self, process: "subprocess.Popen[str]", presses: set[str]) -> None:
        self._process, self._awaited = process, presses

    def __call__(self, record: object) -> None:
        """Take a record; the last press to connect starts them all."""
        if isinstance(record, Link) and record.state == "connected" and record.press in self._awaited:
            self._awaited.remove(record.press)
            if not self._awaited and self._process.stdin is not None:
                self._process.stdin.write("go\n")
                self._process.stdin.flush()


@contextmanager
def running(thread: threading.Thread, stop: threading.Event) -> Iterator[None]:
    """Run a thread for the length of the block, then stop it: also when the block fails."""
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join()


@contextmanager
def _presses(speed: float) -> Iterator[tuple["subprocess.Popen[str]", "queue.Queue[str]", Mapping[str, Any]]]:
    """Run the simulated presses in a process of their own; yields it, its lines, and where each press is served."""
    command = own_python("-m", "simulators", "serve", "demo", "--speed", str(speed), "--wait")
    process = subprocess.Popen(  # noqa: S603  (our own Python, its arguments ours; no shell)
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8", env=own_environment()
    )
    lines: queue.Queue[str] = queue.Queue()
    reader = threading.Thread(target=_read, args=(process.stdout, lines), name="simulator", daemon=True)
    reader.start()
    try:
        yield process, lines, _serving(lines)
    finally:
        process.terminate()
        process.wait()
        reader.join()
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                stream.close()


def _serving(lines: "queue.Queue[str]") -> Mapping[str, Any]:
    try:
        first = json.loads(lines.get(timeout=_READY_S) or "{}")
        return dict(first["serving"])
    except (queue.Empty, ValueError, KeyError) as error:
        raise ShotlogError("the simulated presses did not start; run: python -m simulators serve demo") from error


def _read(stream: IO[str] | None, lines: "queue.Queue[str]") -> None:
    for line in stream or ():
        lines.put(line)
    lines.put("")


def configuration(serving: Mapping[str, Any], speed: float) -> str:
    """Return the configuration of a demo whose presses are served as given, `speed` times faster than life."""
    stamp = f"{SystemClock().now():%Y%m%d-%H%M%S-%f}"
    designs = _DESIGNS.format(told_h=_NIGHT_H / speed, told_s=3600.0 * _NIGHT_H / speed)
    presses = "\n".join(f'[[press]]\nname = "{name}"\n{place["config"]}' for name, place in serving.items())
    return (
        f'[log]\nstore = "sqlite:///demo-{stamp}.db"\n\n'
        f'[trial]\nname = "demo {stamp}"\npart = "latch pawl and rinse manifold"\n\n'
        f"[dashboard]\nport = {_free_port()}\n\n{presses}{designs}"
    )


def _free_port() -> int:
    """Return the usual port of the pages, or another free one when it is taken."""
    for port in (8050, 0):
        with socket.socket() as probe:
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
            return int(probe.getsockname()[1])
    return 0
