"""What a recording costs to write and to read, against the bare driver and Python's own csv; nothing is asserted.

Of processor time, by turns within one run. Run by `make bench`.
"""

import csv
import sqlite3
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
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
    store = load(bench.years(_SHOTS)).store
    with open_log(store) as log, closing(sqlite3.connect(store.removeprefix("sqlite:///"))) as bare:
        exported(log, ours)
        works: dict[str, Callable[[], object]] = {
            "exported": lambda: exported(log, ours),
            "written": lambda: written(plain, bare),
            "replayed": lambda: each(recording.read(ours)),
            "read": lambda: read(ours),
        }
        took = by_turns(works, _ROUNDS, time.process_time, _SHOTS)
    why = "who was mounted, what was noted, weights of a balance; and no cell is a formula to a spreadsheet"
    yield Row(
        "a shot exported as CSV",
        "s",
        took["exported"],
        took["written"],
        "rows of sqlite3 into csv.writer",
        why,
        goal=3.0,
    )
    why = "every cell held against what is allowed there, with its line where it is not"
    yield Row("a shot read from a recording", "s", took["replayed"], took["read"], "csv.DictReader", why, goal=3.0)


def exported(log: Log, out: Path) -> None:
    """Write all shots as `shotlog export` does."""
    channels = log.channels_present(log.presses())
    blocks = (block for press in log.presses() for block in log.recorded(press, channels=channels))
    recording.write(out, blocks, channels, True)


def written(out: Path, bare: sqlite3.Connection) -> None:
    """Write the rows of all shots as they lie."""
    asked = (
        f"SELECT name, shot, shots.time, {', '.join(ALWAYS_CHARTED)} FROM shots JOIN presses ON presses.id = press_id"
    )
    with out.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(bare.execute(asked))


def read(file: Path) -> None:
    """Read the rows as they stand, one by one as `replay` does."""
    with file.open(encoding="utf-8", newline="") as opened:
        each(csv.DictReader(opened))


def each(rows: Iterable[object]) -> None:
    """Take one row after the other and keep none.

    Who keeps all waits for Python's collector besides, which looks through the whole process now and then.
    """
    deque(rows, maxlen=0)
