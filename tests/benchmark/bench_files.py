"""What a recording costs to write and to read, against Python's own csv on the same cells; nothing is asserted.

Of processor time, by turns within one run. Run by `make bench`.
"""

import csv
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from shotlog import recording
from shotlog.channels import ALWAYS_CHARTED
from shotlog.settings import load
from shotlog.store.log.log import Log, open_log
from tests.benchmark.bench import Bench
from tests.benchmark.row import Row, by_turns

_SHOTS, _ROUNDS = 20_000, 5


def rows(bench: Bench) -> Iterator[Row]:
    """Yield what a shot costs to export, and to read as `replay` does."""
    ours, plain = bench.folder / "ours.csv", bench.folder / "plain.csv"
    with open_log(load(bench.years(_SHOTS)).store) as log:
        exported(log, ours)
        with ours.open(encoding="utf-8", newline="") as file:
            cells = list(csv.reader(file))
        works: dict[str, Callable[[], object]] = {
            "exported": lambda: exported(log, ours),
            "written": lambda: written(plain, cells),
            "replayed": lambda: list(recording.read(ours)),
            "read": lambda: read(plain),
        }
        took = by_turns(works, _ROUNDS, time.process_time, _SHOTS)
    why = "read from the log, with who was mounted and what was noted; no cell is a formula to a spreadsheet"
    yield Row("a shot exported as CSV", "s", took["exported"], took["written"], "csv.writer, cells made before", why)
    why = "every cell held against what is allowed there, with its line where it is not"
    yield Row("a shot read from a recording", "s", took["replayed"], took["read"], "csv.DictReader", why)


def exported(log: Log, out: Path) -> None:
    """Write all shots as `shotlog export` does."""
    recording.write(out, (shot for press in log.presses() for shot in log.logged(press)), ALWAYS_CHARTED, True)


def written(out: Path, cells: list[list[str]]) -> None:
    """Write cells."""
    with out.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(cells)


def read(file: Path) -> list[dict[str, str]]:
    """Read the rows as they stand."""
    with file.open(encoding="utf-8", newline="") as opened:
        return list(csv.DictReader(opened))
