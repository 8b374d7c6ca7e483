"""What a review of one day costs on a log of years, against the same day alone in its log; and the rest of the log.

Each command runs in a process of its own, whose processor time and most memory are taken; nothing is asserted. Run by
`make bench`; run by itself it reviews the whole of a long log, which takes minutes.
"""

import argparse
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

from tests.benchmark.bench import END, Bench
from tests.benchmark.log_of_years import CYCLE_S, PRESSES
from tests.benchmark.row import Row

ALLOWED_MB = 250
_DAY = timedelta(days=1)
_ROUNDS = 3
_ASKED = """
import resource, subprocess, sys, time
began = time.perf_counter()
code = subprocess.call(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
spent = resource.getrusage(resource.RUSAGE_CHILDREN)
print(code, time.perf_counter() - began, spent.ru_utime + spent.ru_stime, spent.ru_maxrss * 1024)
"""


@dataclass(frozen=True)
class Cost:
    """What a command took: seconds by the clock and of the processor, and the most memory in bytes."""

    wall_s: float
    cpu_s: float
    most_bytes: float


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what the review of a day costs where there are years of others."""
    day = bench.years(len(PRESSES) * int(_DAY.total_seconds() / CYCLE_S))
    long = bench.years()
    asked = ["--since", (END - _DAY).isoformat(), "--out", str(bench.folder / "review.html")]
    turns = [(cost("review", long, *asked), cost("review", day, *asked)) for _ in range(_ROUNDS)]
    within, alone = zip(*turns, strict=True)
    what = f"review of a day among {bench.shots} shots"
    than = "the same day alone in its log"
    yield Row(what, "s", [one.cpu_s for one in within], [one.cpu_s for one in alone], than, "", goal=1.5)
    most = [one.most_bytes for one in within]
    yield Row(f"{what}: memory", "B", most, [ALLOWED_MB * 1e6], "what is allowed", "", goal=1.0)
    both = [(cost("status", long).cpu_s, cost("status", day).cpu_s) for _ in range(_ROUNDS)]
    here, beside = ([turn[at] for turn in both] for at in (0, 1))
    yield Row(f"status of {len(PRESSES)} presses, {bench.shots} shots", "s", here, beside, than, "")


def cost(command: str, settings: Path, *rest: str) -> Cost:
    """Run a command of shotlog on a log in a process of its own; one that fails ends the bench."""
    asked = [sys.executable, "-c", _ASKED, sys.executable, "-m", "shotlog", command, str(settings), *rest]
    code, *took = subprocess.run(asked, check=True, capture_output=True, text=True).stdout.split()
    if code != "0":
        raise SystemExit(f"shotlog {command}: ended with {code}")
    return Cost(*(float(one) for one in took))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description="what the review of the whole of a long log costs")
    parser.add_argument("--shots", type=int, default=300_000)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        bench = Bench(Path(scratch), shots=options.shots)
        for command in (
            ["review", "--out", str(bench.folder / "whole.html")],
            ["parts", PRESSES[0], "100-160"],
            ["inserts"],
        ):
            took = cost(command[0], bench.years(), *command[1:])
            figures = f"{took.wall_s:>8.1f} s{took.cpu_s:>8.1f} s of CPU{took.most_bytes / 1e6:>7.0f} MB"
            print(f"{' '.join(command):<44}{figures}")
