"""How long `shotlog run` takes from the start of its process to the first read of a register, as a ratio.

Beside it, in the same run: how long Python takes to load a database, the serial and the Modbus library alone. A log of
this release is made new, or one that exists is copied (`--log trial.db`); `--cold` has the system forget the files of
Python and its packages before each start. Nothing is asserted. Run by `make bench`.
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
from pathlib import Path

from shotlog.own_python import own_environment

BARE = "import sqlite3, serial, pymodbus.client"
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


def first_poll_s(folder: Path, python: str, fresh: bool) -> float:
    """Start a logger against a press that only listens; return the seconds until it is asked for registers."""
    with socket.create_server(("127.0.0.1", 0)) as press:
        press.settimeout(60)
        config = folder / "trial.toml"
        config.write_text(CONFIG.format(port=press.getsockname()[1]))
        if fresh:
            for file in folder.glob("*trial.db*"):
                file.unlink()
        command = [python, "-P", "-m", "shotlog", "run", str(config), "--no-dashboard"]
        began = time.perf_counter()
        with subprocess.Popen(command, stderr=subprocess.DEVNULL, env=own_environment()) as logger:
            try:
                wire, _ = press.accept()
                with wire:
                    wire.settimeout(60)
                    wire.recv(12)
                    return time.perf_counter() - began
            finally:
                logger.terminate()


def bare_s(python: str) -> float:
    began = time.perf_counter()
    subprocess.run([python, "-c", BARE], check=True)
    return time.perf_counter() - began


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--python", default=sys.executable, help="the Python whose packages are tried")
    parser.add_argument("--log", type=Path, help="an SQLite log to go on with, copied (default: a new one each time)")
    parser.add_argument("--cold", action="store_true", help="with the files of Python and packages forgotten")
    parser.add_argument("--runs", type=int, default=5)
    arguments = parser.parse_args()
    seconds: dict[str, list[float]] = {"bare": [], "run": []}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if arguments.log:
            shutil.copy(arguments.log, folder / "trial.db")
        first_poll_s(folder, arguments.python, not arguments.log)  # compiles what Python keeps, and warms the caches
        for _ in range(arguments.runs):
            for name, measure in (
                ("bare", lambda: bare_s(arguments.python)),
                ("run", lambda: first_poll_s(folder, arguments.python, not arguments.log)),
            ):
                if arguments.cold:
                    forget(arguments.python)
                seconds[name].append(measure())
    bare, run = (statistics.median(one) for one in seconds.values())
    print(
        f"{'cold' if arguments.cold else 'warm'}, {arguments.log or 'a new log'}: bare libraries {bare:.2f} s, "
        f"first poll of run {run:.2f} s ({min(seconds['run']):.2f} to {max(seconds['run']):.2f}), {run / bare:.1f} x"
    )


if __name__ == "__main__":
    main()
