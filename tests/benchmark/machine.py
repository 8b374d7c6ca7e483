"""The machine that figures are of: what it is made of, how fast its disk is, and whether it had other work."""

import ctypes.util
import os
import platform
import shutil
import sqlite3
import statistics
import subprocess
import time
from importlib import metadata
from pathlib import Path

from tests.benchmark.row import figure

__all__ = ["Load", "described"]

_SYNCS = 200
_QUIET = 0.1
"""The machine is called quiet while other work takes less of it than this."""


def described(folder: Path, postgres: str) -> dict[str, str]:
    """Return what the machine is, by name. `folder`: where it is written to. `postgres`: its version, or why none."""
    libraries = ("numpy", "numba", "sqlalchemy", "psycopg", "pymodbus", "dash")
    load = f", load {os.getloadavg()[0]:.2f}" if hasattr(os, "getloadavg") else ""
    others = Load().over(1.0)
    return {
        "processor": f"{_processor()}, {os.cpu_count()} cores, {_memory()}",
        "disk": f"{_file_system(folder)}, 4 kB written and synchronised in {_sync(folder)} (median of {_SYNCS})",
        "system": f"{platform.system()} {platform.release()}, Python {platform.python_version()}",
        "libraries": f"SQLite {sqlite3.sqlite_version}, " + ", ".join(f"{name} {_version(name)}" for name in libraries),
        "peers": f"PostgreSQL: {postgres}; libmodbus: {_libmodbus()}",
        "at the start": f"other work takes {_share(others)}{load}",
    }


def _processor() -> str:
    for line in _lines("/proc/cpuinfo"):
        if line.startswith("model name"):
            return line.partition(":")[2].strip()
    return platform.processor() or platform.machine()


def _memory() -> str:
    for line in _lines("/proc/meminfo"):
        if line.startswith("MemTotal"):
            return f"{int(line.split()[1]) / 2**20:.0f} GiB"
    return "memory not known"


def _file_system(folder: Path) -> str:
    mounted = [line.split() for line in _lines("/proc/mounts")]
    holding = [one for one in mounted if folder.resolve().is_relative_to(one[1])]
    if not holding:
        return "disk not known"
    device, _, kind, *_ = max(holding, key=lambda one: len(one[1]))
    return f"{kind} on {device}" + (", which is memory: nothing here waits for a disk" if kind == "tmpfs" else "")


def _sync(folder: Path) -> str:
    sync = getattr(os, "fdatasync", os.fsync)
    took = []
    with (folder / "synced").open("wb", buffering=0) as file:
        for _ in range(_SYNCS):
            began = time.perf_counter()
            file.write(b"x" * 4096)
            sync(file.fileno())
            took.append(time.perf_counter() - began)
    (folder / "synced").unlink()
    return figure(statistics.median(took), "s")


def _version(name: str) -> str:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return "missing"


def _libmodbus() -> str:
    if shutil.which("pkg-config"):
        asked = subprocess.run(["pkg-config", "--modversion", "libmodbus"], capture_output=True, text=True)
        if asked.returncode == 0:
            return asked.stdout.strip()
    return "there, without its headers" if ctypes.util.find_library("modbus") else "missing"


def _lines(name: str) -> list[str]:
    file = Path(name)
    return file.read_text(encoding="utf-8", errors="replace").splitlines() if file.exists() else []


def _share(others: float | None) -> str:
    if others is None:
        return "a share of the machine that this system does not tell"
    return f"{others:.0%} of the machine ({'quiet' if others < _QUIET else 'NOT QUIET'})"


class Load:
    """How much of the machine others take from now on: all its work, less that of this process and what it started."""

    def __init__(self) -> None:
        self._began = time.perf_counter(), _busy_s(), _own_s()

    def others(self) -> float | None:
        """Return the share of all cores that others took since the beginning; None where the system does not tell."""
        began, busy, own = self._began
        now = _busy_s()
        if busy is None or now is None:
            return None
        whole = (time.perf_counter() - began) * (os.cpu_count() or 1)
        return max(0.0, (now - busy - (_own_s() - own)) / whole)

    def over(self, seconds: float) -> float | None:
        """Wait, and return the share that others took meanwhile."""
        time.sleep(seconds)
        return self.others()

    def told(self) -> str:
        """Return it in words."""
        return _share(self.others())


def _busy_s() -> float | None:
    first = _lines("/proc/stat")[:1]
    if not first or not hasattr(os, "sysconf"):
        return None
    user, nice, system, _, _, irq, softirq, *_ = (int(one) for one in first[0].split()[1:])
    return (user + nice + system + irq + softirq) / os.sysconf("SC_CLK_TCK")


def _own_s() -> float:
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system
