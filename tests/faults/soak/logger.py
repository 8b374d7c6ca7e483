"""The logger as a process: started, killed, frozen, watched from outside; what it said, and when."""

import contextlib
import os
import re
import signal
import subprocess
import sys
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path

__all__ = ["Logger", "Said", "Sample", "told"]

_SHOT = re.compile(r"^(?:\d\d:\d\d:\d\d )?([^\s:]+): (?:([^:]*): )?shot (\d+)\b")


def told(line: str) -> tuple[str, int, str] | None:
    """Return press and shot of a line, and how it stands: `logged`, `waiting` (safe, not in the log yet) or neither
    (empty); None where it tells of none.
    """
    match = _SHOT.match(line)
    if match is None:
        return None
    return match[1], int(match[3]), "logged" if not match[2] else "waiting" if "wait" in match[2].lower() else ""


@dataclass(frozen=True, slots=True)
class Said:
    """One line of the logger."""

    at: float
    line: str


@dataclass(frozen=True, slots=True)
class Sample:
    """The logger at one time: memory MB, open files, threads, and how many processes with all it started."""

    at: float
    process: int
    rss_mb: float
    files: int
    threads: int
    processes: int


@dataclass
class Logger:
    """``shotlog run`` on one configuration, started as often as it takes. `deaf` set: nobody reads what it says."""

    config: Path
    pages: bool = True
    environment: dict[str, str] = field(default_factory=dict)
    said: list[Said] = field(default_factory=list)
    acknowledged: list[tuple[str, int]] = field(default_factory=list)
    waiting: list[tuple[str, int]] = field(default_factory=list)
    samples: list[Sample] = field(default_factory=list)
    restart_s: list[float] = field(default_factory=list)
    stop_s: list[float] = field(default_factory=list)
    deaf: threading.Event = field(default_factory=threading.Event)
    process: "subprocess.Popen[bytes] | None" = None
    _started: float = 0.0
    _logged: bool = True

    def start(self) -> None:
        """Start it; how long it takes to the first shot is noted."""
        command = [sys.executable, "-m", "shotlog", "run", str(self.config)]
        command += [] if self.pages else ["--no-dashboard"]
        self._started, self._logged = time.monotonic(), False
        self.process = subprocess.Popen(
            command,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            cwd=self.config.parent,
            env=os.environ | self.environment,
        )
        threading.Thread(target=self._hear, args=(self.process,), daemon=True).start()

    def _hear(self, process: "subprocess.Popen[bytes]") -> None:
        assert process.stderr is not None
        for raw in process.stderr:
            line = raw.decode("utf-8", "replace").rstrip()
            self.said.append(Said(time.monotonic(), line))
            shot = told(line)
            if shot is not None and shot[2] == "waiting":
                self.waiting.append(shot[:2])
            elif shot is not None and shot[2] == "logged":
                self.acknowledged.append(shot[:2])
                if not self._logged:
                    self._logged = True
                    self.restart_s.append(time.monotonic() - self._started)
            while self.deaf.is_set():
                time.sleep(0.05)
        process.stderr.close()

    @property
    def alive(self) -> bool:
        return self.process is not None and self.process.poll() is None

    def signal(self, how: signal.Signals) -> None:
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(how)

    def kill(self) -> None:
        """End it as a power failure does; what it started has to see that by itself."""
        self.signal(signal.SIGKILL)
        if self.process is not None:
            self.process.wait()

    def stop(self, wait_s: float) -> int | None:
        """Ask it to end; return its status, None where it did not end in time (it is killed then)."""
        began = time.monotonic()
        self.signal(signal.SIGTERM)
        assert self.process is not None
        try:
            status = self.process.wait(timeout=wait_s)
        except subprocess.TimeoutExpired:
            self.kill()
            return None
        self.stop_s.append(time.monotonic() - began)
        return status

    def children(self) -> list[int]:
        """Return what it started and still runs (Linux only)."""
        return _children(self.process.pid) if self.process is not None else []

    def sample(self) -> None:
        """Look at its memory, files and threads (Linux only)."""
        if not self.alive or not Path("/proc/self/status").exists():
            return
        assert self.process is not None
        rss, files, threads = 0.0, 0, 0
        family = [self.process.pid, *self.children()]
        with contextlib.suppress(OSError, ValueError):
            status = Path(f"/proc/{family[0]}/status").read_text(encoding="ascii", errors="replace")
            rss = int(re.findall(r"VmRSS:\s+(\d+)", status)[0]) / 1024 if "VmRSS" in status else 0.0
            threads = int(re.findall(r"Threads:\s+(\d+)", status)[0])
            files = len(list(Path(f"/proc/{family[0]}/fd").iterdir()))
            self.samples.append(Sample(time.monotonic(), family[0], rss, files, threads, len(family)))

    def said_since(self, at: float, *words: str) -> list[str]:
        """Return the lines since then that hold one of the words."""
        return [said.line for said in list(self.said) if said.at >= at and any(w in said.line.lower() for w in words)]


def _children(pid: int) -> list[int]:
    found: list[int] = []
    with contextlib.suppress(OSError):
        for task in Path(f"/proc/{pid}/task").iterdir():
            for child in (task / "children").read_text(encoding="ascii").split():
                found += [int(child), *_children(int(child))]
    return found
