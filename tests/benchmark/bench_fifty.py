"""What one process that logs many presses takes of one core, and how long a shot waits: 50 presses, a shot each 5 s.

The presses are simulated, on Modbus TCP, in a process on another core; the logger is what ``shotlog run`` runs, kept on
one core by the system, with its judging, journal and sign of life; its pages, where they are served, are on that core
as well. Run by itself it measures any number of presses, for as long as wanted, on a new log or on a long one:

    python -m tests.benchmark.bench_fifty --presses 10 50 --minutes 2 [--history 1000000] [--pages] [--dead 5]

A dead press takes the connection, and answers nothing. With pages, one viewer opens a page each second, as a browser
does. A shot counts where it was shown a second and more before the logger was told to stop: one that comes then is
read when it is started again. What it shows no longer when it is read, as a press that is asked late, is in a gap.
"""

import argparse
import json
import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, nullcontext
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from shotlog.cli.run import log_presses
from shotlog.own_python import own_environment, own_python
from shotlog.records import Shot, Verdict
from shotlog.settings import load
from shotlog.store.asked.state import gaps
from shotlog.store.log.log import open_log
from tests.benchmark.bench import Bench
from tests.benchmark.log_of_years import write
from tests.benchmark.row import Row

CYCLE_S, SPEED = 75.0, 15.0
"""The usual cycle of a simulated press, and how many times faster it is played: a shot each 5 s."""
_WARM_S = 15.0
_OPENED = ("/plant", "/press")
_ANSWER_S = 120.0


@dataclass(frozen=True)
class Measured:
    """What was seen of a run. `core`: the share of one core, by the processes of the logger; waits in seconds.

    `made`: shots on the wire; of these `stored` are in the log after the end, and `in_gaps` in a gap there. `opened`:
    how long each page took that was opened.
    """

    presses: int
    core: float
    pages: float
    threads: int
    memory_mb: float
    made: int
    stored: int
    in_gaps: int
    to_stored: list[float]
    to_judged: list[float]
    stopped_s: float
    opened: list[float]

    def said(self) -> str:
        """Return it as a line of a table."""
        waits = "  ".join(
            f"{statistics.median(one):6.3f} {sorted(one)[int(0.99 * len(one))]:6.3f} {max(one):6.3f}" if one else "-"
            for one in (self.to_stored, self.to_judged)
        )
        return (
            f"{self.presses:7} {self.core:7.1%} {self.pages:7.1%} {self.threads:7} {self.memory_mb:7.0f} "
            f"{self.made:7} {self.stored:7} {self.in_gaps:7}  {waits}  {self.stopped_s:5.1f}"
            + (f"  {statistics.median(self.opened):.3f}" if self.opened else "")
        )


HEAD = (
    "presses    core   pages threads  memory    made  stored in gaps  to stored: median, 99 %, worst; to judged"
    "      stopped  a page\n"
    "                                     MB                               s                      s             "
    "          s       s"
)


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what 50 presses take of a core, and how long a shot waits until it is stored and judged."""
    if not hasattr(os, "sched_setaffinity") or (os.cpu_count() or 1) < 2:
        yield Row.without("50 presses on one core", "a process cannot be kept on one core here")
        return
    folder = bench.folder / "fifty"
    folder.mkdir()
    found = measure(folder, 50, seconds=40.0)
    why = f"{found.stored} of {found.made} shots stored; {found.threads} threads, {found.memory_mb:.0f} MB"
    yield Row("50 presses, a shot each 5 s: a second", "s", [found.core], [1.0], "all of one core", why, goal=0.7)
    than = "half a poll of 0.2 s: what asking costs"
    yield Row("50 presses: from a shot to stored", "s", found.to_stored, [0.1], than, "read twice, and synchronised")
    yield Row("50 presses: from a shot to judged", "s", found.to_judged, [0.1], than, "a transaction of its own")
    seen = bench.folder / "fifty-seen"
    seen.mkdir()
    found = measure(seen, 50, seconds=40.0, pages=True)
    why = (
        f"{found.pages:.2f} s of it the pages, one opened each second ({', '.join(_OPENED)} by turns), there after "
        f"{statistics.median(found.opened) * 1e3:.0f} ms; {found.stored} of {found.made} shots stored"
    )
    used = [found.core + found.pages]
    yield Row("50 presses, looked at: a second", "s", used, [1.0], "all of the core that both have", why, goal=0.7)


def measure(folder: Path, n: int, seconds: float, history: int = 0, pages: bool = False, dead: int = 0) -> Measured:
    """Log `n` presses for some seconds after all of them answered, and `dead` more that never do."""
    with _presses(folder, n) as (config, shown, go), ExitStack() as until:
        for number in range(1, dead + 1):
            silent = until.enter_context(socket.create_server(("127.0.0.1", 0)))
            _add_press(config, f"dead-{number}", silent.getsockname()[1])
        if history:
            with open_log(load(config).store, read_only=False) as log:
                write(log, history, datetime.now(UTC))
        told, opened, port = folder / "told.json", list[float](), 0
        if pages:
            port = _free_port()
            config.write_text(f"{config.read_text(encoding='utf-8')}\n[dashboard]\nport = {port}\n", encoding="utf-8")
        with _logger(config, told, n, pages) as (logger, finish):
            with _viewer(port, opened) if pages else nullcontext():
                go()
                time.sleep(_WARM_S)
                began, used, beside = time.monotonic(), _used_s(logger.pid), _children_s(logger.pid)
                time.sleep(seconds)
                over = time.monotonic() - began
                core, pages_core = (_used_s(logger.pid) - used) / over, (_children_s(logger.pid) - beside) / over
                threads, memory_mb = _of_process(logger.pid)
            told_to = time.time()
            stopped_s = finish()
        made = dict(shown)
    in_gaps = _in_gaps(load(config).store)
    stamps = json.loads(told.read_text(encoding="utf-8"))
    stored, judged = ({(press, shot): at for press, shot, at in stamps[name]} for name in ("stored", "judged"))
    last = told_to - 1.0
    due = {key: at for key, at in made.items() if at <= last and key[1] > 1}
    return Measured(
        n, core, pages_core, threads, memory_mb, len(due), sum(key in stored for key in due), len(due.keys() & in_gaps),
        [stored[key] - at for key, at in due.items() if key in stored and at > last - seconds],
        [judged[key] - at for key, at in due.items() if key in judged and at > last - seconds],
        stopped_s, opened,
    )  # fmt: skip


def _in_gaps(store: str) -> set[tuple[str, int]]:
    """Return the shots, by press and number, that the log says were made and not read."""
    with open_log(store) as log:
        return {
            (press, shot)
            for press in log.presses()
            for gap in gaps(log, press)
            for shot in range(gap.first, gap.last + 1)
        }


@contextmanager
def _viewer(port: int, opened: list[float]) -> Iterator[None]:
    """Let somebody look at the pages for the length of the block; then it is known how long each took, in seconds."""
    command = [*own_python(), "-m", "tests.benchmark.page_asker", str(port), *_OPENED]
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=own_environment(),
        preexec_fn=lambda: _keep_on(1),
    ) as process:
        assert process.stdout is not None
        process.stdout.readline()  # the pages are served once the presses are read
        try:
            yield
        finally:
            said, _ = process.communicate("")
            opened += json.loads(said or "[]")


@contextmanager
def _presses(folder: Path, n: int) -> Iterator[tuple[Path, dict[tuple[str, int], float], Callable[[], None]]]:
    """Serve `n` presses; yield the configuration that reads them, when each shot was shown, and what begins."""
    names = [f"P{number:03}" for number in range(1, n + 1)]
    press = '[[press]]\nname = "{}"\nmount = [{{ at_shot = 1, half = "moving", serial = "B-{}", design = "cap-r2" }}]\n'
    scenario = folder / "many.toml"
    story = "title = 'many'\nshots = 2000\nseed = 5\n" + "".join(press.format(name, name) for name in names)
    scenario.write_text(story, encoding="utf-8")
    command = [*own_python(), "-m", "simulators", "serve", str(scenario), "--speed", str(SPEED), "--wait"]
    shown: dict[tuple[str, int], float] = {}
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=own_environment(),
        preexec_fn=lambda: _keep_on(1),
    ) as process:
        assert process.stdout is not None
        serving = json.loads(process.stdout.readline())["serving"]
        config = folder / "many.config.toml"
        tables = [f'[[press]]\nname = "{name}"\n{serving[name]["config"]}' for name in names]
        config.write_text('[log]\nstore = "sqlite:///many.db"\n' + "\n".join(tables), encoding="utf-8")

        def listen() -> None:
            for line in process.stdout or ():
                event = json.loads(line)
                if "shot" in event:
                    shown[event["press"], event["shot"]] = time.time()

        listening = threading.Thread(target=listen, daemon=True)
        listening.start()

        def go() -> None:
            assert process.stdin is not None
            process.stdin.write("go\n")
            process.stdin.flush()

        try:
            yield config, shown, go
        finally:
            process.terminate()
            listening.join()


def _add_press(config: Path, name: str, port: int) -> None:
    """Add a press as the last one of a configuration is, at another port."""
    text = config.read_text(encoding="utf-8")
    last = text[text.rindex("[[press]]") :]
    last = re.sub(r"(?m)^name = .*$", f'name = "{name}"', last)
    config.write_text(f"{text}\n" + re.sub(r"(?m)^( *port = )\d+$", rf"\g<1>{port}", last), encoding="utf-8")


@contextmanager
def _logger(
    config: Path, told: Path, n: int, pages: bool
) -> Iterator[tuple[subprocess.Popen[str], Callable[[], float]]]:
    """Start a logger on core 0; yield it once it logs, and what ends it, which says how long that took in seconds."""
    command = [*own_python(), "-m", "tests.benchmark.bench_fifty", "--log", str(config), "--told", str(told)]
    with (config.parent / "said").open("w", encoding="utf-8") as said:
        process = subprocess.Popen(
            [*command, *(["--pages"] if pages else [])],
            stderr=said,
            text=True,
            env=own_environment(),
            preexec_fn=lambda: _keep_on(0),
        )
    until = time.monotonic() + _ANSWER_S
    while (config.parent / "said").read_text(encoding="utf-8").count("connected") < n and time.monotonic() < until:
        time.sleep(0.2)

    def finish() -> float:
        began = time.monotonic()
        process.terminate()
        process.wait(60.0)
        return time.monotonic() - began

    try:
        yield process, finish
    finally:
        if process.poll() is None:
            process.kill()
            process.wait()


def _log(config: Path, told: Path, pages: bool) -> None:
    """Log as ``shotlog run`` does, and keep when each shot was stored and judged."""
    from shotlog.cli.run import stop_on_signals

    stamps: dict[str, list[tuple[str, int, float]]] = {"stored": [], "judged": []}

    def listen(record: object) -> None:
        if isinstance(record, Shot | Verdict):
            stamps["stored" if isinstance(record, Shot) else "judged"].append((record.press, record.shot, time.time()))

    with stop_on_signals() as stop:
        log_presses(config, stop, None, with_pages=pages, listeners=(listen,))
    told.write_text(json.dumps(stamps), encoding="utf-8")


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        return int(taken.getsockname()[1])


def _keep_on(core: int) -> None:
    os.sched_setaffinity(0, {core})


def _used_s(pid: int) -> float:
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def _children_s(pid: int) -> float:
    # each is a child of the thread that started it
    started = Path(f"/proc/{pid}/task").glob("*/children")
    found = [one for thread in started for one in thread.read_text(encoding="utf-8").split()]
    return sum(_used_s(int(one)) + _children_s(int(one)) for one in found)


def _of_process(pid: int) -> tuple[int, float]:
    """Return how many threads a process has, and its memory in MB."""
    said = dict(
        line.partition(":")[::2] for line in Path(f"/proc/{pid}/status").read_text(encoding="utf-8").splitlines()
    )
    return int(said["Threads"]), int(said["VmRSS"].split()[0]) / 1e3


def main() -> None:
    parser = argparse.ArgumentParser(description="what many presses in one process take of one core")
    parser.add_argument("--presses", type=int, nargs="+", default=[50], metavar="N")
    parser.add_argument("--minutes", type=float, default=1.0, metavar="M")
    parser.add_argument("--history", type=int, default=0, metavar="N", help="shots that the log has before")
    parser.add_argument("--pages", action="store_true", help="serve the pages as well")
    parser.add_argument("--dead", type=int, default=0, metavar="N", help="presses besides that never answer")
    parser.add_argument("--log", type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--told", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.log:
        _log(options.log, options.told, options.pages)
        return
    print(HEAD, flush=True)
    for n in options.presses:
        with tempfile.TemporaryDirectory() as folder:
            found = measure(Path(folder), n, 60.0 * options.minutes, options.history, options.pages, options.dead)
            print(found.said(), flush=True)


if __name__ == "__main__":
    sys.exit(main())
