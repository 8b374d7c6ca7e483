"""What a review of one day costs on a log of years, against the same day alone in its log; and the rest of the log.

Each command runs in a process of its own. Printed are its seconds, of CPU too, and the most memory it held, with the
ratio of the day in the long log to the day alone; nothing is asserted. Run by `make bench`; `--whole` adds the review
of the whole log, which takes minutes.
"""

import argparse
import subprocess
import sys
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

from shotlog.settings import load
from shotlog.store.log.log import open_log
from tests.benchmark.log_of_years import CYCLE_S, PRESSES, config, write

ALLOWED_RATIO, ALLOWED_MB = 1.5, 250
END = datetime(2026, 11, 25, tzinfo=UTC)
_DAY = timedelta(days=1)
_ASKED = """
import resource, subprocess, sys, time
began = time.perf_counter()
code = subprocess.call(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
spent = resource.getrusage(resource.RUSAGE_CHILDREN)
print(code, time.perf_counter() - began, spent.ru_utime + spent.ru_stime, spent.ru_maxrss / 1024)
"""


def made(folder: Path, n_shots: int) -> Path:
    """Write a log that ends at `END`, unless it is there; return its configuration."""
    folder.mkdir(exist_ok=True)
    settings = folder / "years.toml"
    settings.write_text(config(), encoding="utf-8")
    if not (folder / "years.db").exists():
        with open_log(load(settings).store, read_only=False) as log:
            write(log, n_shots, END)
    return settings


def cost(label: str, *command: str) -> float:
    """Run a command of shotlog, print what it cost and return its seconds of CPU."""
    asked = [sys.executable, "-c", _ASKED, sys.executable, "-m", "shotlog", *command]
    code, wall, cpu, most = subprocess.run(asked, check=True, capture_output=True, text=True).stdout.split()
    over = "" if float(most) <= ALLOWED_MB else f"  over {ALLOWED_MB} MB"
    print(f"{label:<44}{float(wall):>8.1f} s{float(cpu):>8.1f} s of CPU{float(most):>7.0f} MB{over}", flush=True)
    if code != "0":
        print(f"  ended with {code}")
    return float(cpu)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--shots", type=int, default=300_000)
    parser.add_argument("--folder", help="keep the logs here, and use those that are there")
    parser.add_argument("--whole", action="store_true", help="review the whole of the long log too")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(options.folder or scratch)
        day = made(folder / "day", len(PRESSES) * int(_DAY.total_seconds() / CYCLE_S))
        long = made(folder / "long", options.shots)
        since = ["--since", (END - _DAY).isoformat(), "--out", str(folder / "review.html")]
        alone = cost("review of a day, alone in its log", "review", str(day), *since)
        within = cost(f"the same in a log of {options.shots} shots", "review", str(long), *since)
        print(f"  ratio {within / alone:.2f} of CPU (allowed {ALLOWED_RATIO:g})")
        cost(f"parts 100-160 of {options.shots} shots", "parts", str(long), PRESSES[0], "100-160")
        cost(f"inserts of {options.shots} shots", "inserts", str(long))
        if options.whole:
            cost("review of the whole log", "review", str(long), "--out", str(folder / "whole.html"))
