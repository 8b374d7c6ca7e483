"""How long `shotlog run` takes from the start of its process to the first read of a register, as a ratio.

Beside it, in the same run: how long Python takes to load a database, the serial and the Modbus library alone, and these
with the two libraries that the log and arrays need. A log of this release is made new, or one that exists is copied
(`--log trial.db`); `--cold` has the system forget the files of Python and its packages before each start. Processor
time is told beside the clock's, which other work on the machine stretches. Nothing is asserted. Run by `make bench`,
and by itself for another Python, another log or a cold start.
"""

import argparse
import os
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from shotlog.own_python import own_environment
from tests.benchmark.bench import Bench
from tests.benchmark.row import Row, turns

BARE = "import sqlite3, serial, pymodbus.client"
LIBRARIES = f"{BARE}, sqlalchemy, numpy"
CONFIG = """\
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  port = {port}
  shot_counter = {{ address = 0, type = "uint16" }}
    [press.collector.channels]
    cushion = {{ address = 2, type = "uint16", scale = 0.01, unit = "mm" }}
"""


def forget(python: str) -> None:
    """Let the system drop what it holds of Python's own files and the packages, as after a boot."""
    if not hasattr(os, "posix_fadvise"):
        sys.exit("--cold: this system has no way to forget files")
    asked = "import sysconfig; print(*{sysconfig.get_path(one) for one in ('stdlib', 'purelib', 'platlib')}, sep='\\n')"
    folders = subprocess.run([python, "-c", asked], capture_output=True, text=True, check=True).stdout.splitlines()
    for folder in folders:
        for file in Path(folder).rglob("*"):
            if file.is_file():
                descriptor = os.open(file, os.O_RDONLY)
                os.posix_fadvise(descriptor, 0, 0, os.POSIX_FADV_DONTNEED)
                os.close(descriptor)


def first_poll_s(folder: Path, python: str, fresh: bool) -> tuple[float, float]:
    """Start a logger against a press that only listens; return the seconds until it is asked for registers, by the
    clock and of processor time.
    """
    with socket.create_server(("127.0.0.1", 0)) as press:
        press.settimeout(60)
        config = folder / "trial.toml"
        config.write_text(CONFIG.format(port=press.getsockname()[1]))
        if fresh:
            for file in folder.glob("*trial.db*"):
                file.unlink()
        command = [python, "-P", "-m", "shotlog", "run", str(config), "--no-dashboard"]
        began = time.perf_counter()
        # another Python has its own packages, and is not to find ours
        environment = own_environment() if python == sys.executable else os.environ
        with subprocess.Popen(command, stderr=subprocess.DEVNULL, env=environment) as logger:
            try:
                wire, _ = press.accept()
                with wire:
                    wire.settimeout(60)
                    wire.recv(12)
                    took = time.perf_counter() - began
            finally:
                before = processor_s()
                logger.kill()
                logger.wait()
        return took, processor_s() - before


def bare_s(python: str, libraries: str) -> tuple[float, float]:
    began, before = time.perf_counter(), processor_s()
    subprocess.run([python, "-c", libraries], check=True)
    return time.perf_counter() - began, processor_s() - before


def processor_s() -> float:
    """Return the processor time of all processes that were started here and have ended."""
    times = os.times()
    return times.children_user + times.children_system


def rows(bench: Bench) -> Iterator[Row]:
    """Yield how long a logger takes to its first poll, on a log that is there."""
    folder = bench.folder / "start"
    folder.mkdir()
    took = by_turns_s(folder, 5, fresh=False)
    why = "the log opened and looked at, every room of the logger"
    for how, kind in enumerate(("by the clock", "of the processor")):
        run, bare, libraries = ([one[how] for one in took[name]] for name in ("run", "bare", "libraries"))
        what = f"start to the first poll, {kind}"
        yield Row(what, "s", run, libraries, f"Python and {LIBRARIES}", why if how else "", goal=2.0)
        yield Row(
            what, "s", run, bare, f"Python and {BARE}", "a log for SQLite and PostgreSQL alike, arrays" if how else ""
        )


def by_turns_s(
    folder: Path, rounds: int, python: str = sys.executable, fresh: bool = True, cold: bool = False
) -> dict[str, list[tuple[float, float]]]:
    """Return what the bare libraries and a start took, by turns: seconds by the clock and of processor time.

    `fresh`: with a new log each time; `cold`: with the files of Python and packages forgotten.
    """

    def measured(measure: Callable[[], tuple[float, float]]) -> tuple[float, float]:
        if cold:
            forget(python)
        return measure()

    works = {
        "bare": lambda: measured(lambda: bare_s(python, BARE)),
        "libraries": lambda: measured(lambda: bare_s(python, LIBRARIES)),
        "run": lambda: measured(lambda: first_poll_s(folder, python, fresh)),
    }
    return turns(works, rounds)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--python", default=sys.executable, help="the Python whose packages are tried")
    parser.add_argument("--log", type=Path, help="an SQLite log to go on with, copied (default: a new one each time)")
    parser.add_argument("--cold", action="store_true", help="with the files of Python and packages forgotten")
    parser.add_argument("--runs", type=int, default=5)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if given.log:
            shutil.copy(given.log, folder / "trial.db")
        seconds = by_turns_s(folder, given.runs, given.python, not given.log, given.cold)
    print(f"{'cold' if given.cold else 'warm'}, {given.log or 'a new log'}, medians of {given.runs}:")
    for how, kind in enumerate(("by the clock", "processor time")):
        bare, run = ([one[how] for one in seconds[name]] for name in ("bare", "run"))
        middle, beside = statistics.median(run), statistics.median(bare)
        print(
            f"  {kind}: bare libraries {beside:.2f} s, first poll of run {middle:.2f} s "
            f"({min(run):.2f} to {max(run):.2f}), {middle / beside:.1f} x"
        )


if __name__ == "__main__":
    main()
