"""``python -m tests.faults.cuts``: thousands of power cuts, by the model of `power_cut`, of a run that also had to keep
shots in its journal; from some of them a real logger goes on.
"""

import argparse
import contextlib
import sqlite3
import sys
import tempfile
import time
from pathlib import Path
from random import Random

from tests.faults import outside
from tests.faults.outside import Write, read_record
from tests.faults.power_cut import Disk, cut_points, told_before
from tests.faults.soak.referee import rows_of
from tests.faults.table.bed import Bed
from tests.faults.test_power_cut import lay, missing


def record_with_a_journal(folder: Path, shots: int) -> list[Write]:
    """Run a logger whose log is held by another process for a while, and return what it did to its files."""
    place = folder / "place"
    place.mkdir()
    with Bed(place, "TCP", environment=outside.recording(folder / "record", place)) as bed:
        bed.start()
        bed.make(shots, 0.1)
        with contextlib.closing(sqlite3.connect(bed.database, isolation_level=None)) as other:
            other.execute("BEGIN EXCLUSIVE")
            bed.make(shots, 0.1)
            time.sleep(12.0)
            bed.make(shots, 0.1)
            time.sleep(2.0)
            other.execute("ROLLBACK")
        bed.make(shots, 0.1)
        bed.caught_up()
        bed.logger.stop(20)
    return read_record(folder / "record")


def goes_on(folder: Path, files: dict[str, bytes], told: list[tuple[str, int]]) -> str:
    """Let a real logger start on what a cut left; return what is not as it should be."""
    folder.mkdir()
    highest = max((shot for _, shot in told), default=1)
    with Bed(folder, "TCP", first=highest + 5) as bed:
        for name, content in files.items():
            if name != bed.config.name:
                (folder / name).write_bytes(content)
        bed.start()
        bed.make(2)
        if bed.caught_up(30.0) is None:
            return f"the newest shot never came: {[said.line for said in bed.logger.said[-4:]]}"
        bed.until(lambda: not set(told) - {(s.press, s.shot) for s in rows_of(bed.database)[0]}, "drained", wait_s=10)
        bed.logger.stop(20)
        stored = [(one.press, one.shot) for one in rows_of(bed.database)[0]]
        lost = sorted(set(told) - set(stored))
        if lost or len(stored) != len(set(stored)):
            return f"lost {lost}, doubled {len(stored) - len(set(stored))}; files {sorted(files)}"
        verified = bed.verify()
        return "" if verified.returncode == 0 else f"verify: {verified.stdout}{verified.stderr}"


def main() -> int:
    """Cut, look, count; return 1 where something was lost."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cuts", type=int, default=1000, help="instants; at each, three states of the disk")
    parser.add_argument("--go-on", type=int, default=25, help="from how many a real logger goes on")
    parser.add_argument("--seed", type=int, default=20261128)
    options = parser.parse_args()
    if outside.shim() is None:
        print("power cuts: not played, needs a C compiler on Linux")
        return 0
    chance, bad, states, waiting = Random(options.seed), 0, 0, 0
    with tempfile.TemporaryDirectory(prefix="cuts-", ignore_cleanup_errors=True) as name:
        folder = Path(name)
        writes = record_with_a_journal(folder, 25)
        points = cut_points(writes, options.cuts, chance)
        on = set(chance.sample(points, min(options.go_on, len(points))))
        disk, done = Disk(), 0
        for point in points:
            for one in writes[done : point + 1]:
                disk.do(one)
            done, told = point + 1, told_before(writes[: point + 1], waiting=True)
            for turn, files in enumerate((disk.left(None, False), disk.left(None, True), disk.left(chance, False))):
                states += 1
                lay(files, folder / "cut")
                gone = missing(folder / "cut", told)
                waiting += bool(gone)
                if (point in on and turn == 2) or (gone and waiting % 40 == 1):
                    wrong = goes_on(folder / f"on-{point}-{turn}", files, told)
                    if wrong:
                        bad += 1
                        print(
                            f"cut after {point} of {len(writes)} ({writes[point].what} {writes[point].file}): {wrong}"
                        )
        syncs = sum(one.what == "S" for one in writes)
        print(
            f"power cuts: after {len(points)} of {len(writes)} writes and {syncs} synchronisations, {states} states of "
            f"the disk, {len(on)} gone on from; in {waiting} some told shots were in the journal alone; wrong {bad}"
        )
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
