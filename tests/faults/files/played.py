"""The process of the presses as the examination holds it, their folders, and what a shot of them is."""

import contextlib
import json
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from simulators.file_press_ftp import FtpHost
from tests.faults.soak.truth import Made, true_values

__all__ = ["TOKENS", "Place", "Played", "offered", "texts"]

TOKENS = {
    "cushion": ("ActStrCsh[1]", 2),
    "peak_pressure": ("ActPrsMachSpecMax", 1),
    "fill_time": ("ActTimFill[1]", 3),
    "recovery_time": ("ActTimPlst[1]", 1),
}
"""The token of each channel that is logged, and how many decimals the press gives."""

Fault = tuple[str, float]


def texts(made: Made, broken: str = "") -> dict[str, str]:
    """Return what a press gives of a shot, by token; `broken` stands for the channels that cannot be read."""
    true = true_values(made.n)
    shown = {
        token: broken if channel in made.unreadable else f"{true[channel]:.{decimals}f}"
        for channel, (token, decimals) in TOKENS.items()
    }
    return {"ActCntCyc": str(made.counter), **shown}


def offered(made: Made) -> dict[str, float]:
    """Return the values of a shot as its press wrote them: mm, bar, s, s."""
    shown = texts(made)
    return {channel: float(shown[token]) for channel, (token, _) in TOKENS.items() if channel not in made.unreadable}


@dataclass
class Place:
    """One press: its switches, its folder, and its diary beside all folders."""

    name: str
    ways: str
    root: Path
    host: FtpHost | None = None
    folder: Path = field(init=False)
    diary: Path = field(init=False)

    def __post_init__(self) -> None:
        self.folder = self.root / "shared" / self.name
        self.folder.mkdir(parents=True)
        self.diary = self.root / f"{self.name}.diary.jsonl"
        if "ftp=" in self.ways:
            self.host = FtpHost(self.folder)

    @property
    def passive(self) -> bool:
        """Whether somebody else ordered its report, and nobody may ask it anything."""
        return "report=" in self.ways

    def told(self) -> dict[str, Any]:
        """Return what the process of the presses needs to know."""
        at = self.host.address if self.host else None
        ftp = [at.port, at.user, at.password] if at else None
        return {
            "name": self.name,
            "ways": self.ways,
            "folder": str(self.folder),
            "diary": str(self.diary),
            "ftp": ftp,
        }

    def noted(self) -> list[dict[str, Any]]:
        """Return the diary; a press that was killed may have left half an entry."""
        entries = []
        for line in self.diary.read_text("utf-8").splitlines() if self.diary.exists() else ():
            try:
                entries.append(json.loads(line))
            except ValueError:
                continue
        return entries


class Played:
    """Presses in a process; killed and started again they go on in the same folders."""

    def __init__(self, places: Sequence[Place]) -> None:
        self.places = list(places)
        self.began = time.monotonic()
        self._process: subprocess.Popen[str] | None = None
        self.start()

    def start(self) -> None:
        """Start it, as presses are switched on."""
        command = [sys.executable, "-m", "tests.faults.files.press"]
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        self.do("open", [place.told() for place in self.places])

    def do(self, what: str, told: Any) -> None:
        """Tell it to do something and wait until it is done."""
        assert self._process is not None
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(json.dumps({what: told}) + "\n")
        self._process.stdin.flush()
        if not self._process.stdout.readline():
            raise RuntimeError(f"the presses ended at {what} {told}")

    def make(self, shots: Mapping[str, Sequence[tuple[Made, dict[str, str], Sequence[Fault]]]]) -> None:
        """Make shots, press by press: each with its texts and what goes wrong with its line."""
        at = time.monotonic() - self.began
        told = {name: [(made.n, at, shown, faults) for made, shown, faults in these] for name, these in shots.items()}
        self.do("make", told)

    def last(self, name: str, *faults: Fault) -> None:
        """Let these faults last at a press until told otherwise."""
        self.do("last", {name: faults})

    def kill(self) -> None:
        """Cut the power of all presses."""
        assert self._process is not None
        self._process.kill()
        self._end()

    def close(self) -> None:
        """End it, and the folders that are served."""
        if self._process is not None:
            self._end()
        for place in self.places:
            if place.host:
                place.host.close()

    def _end(self) -> None:
        process, self._process = self._process, None
        assert process is not None
        assert process.stdin is not None
        assert process.stdout is not None
        with contextlib.suppress(BrokenPipeError):
            process.stdin.close()
        process.wait(timeout=30)
        process.stdout.close()
