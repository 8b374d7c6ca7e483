"""Presses that give their shots as files, each variant of the sheet and lines broken in each way, read by one real
logger: a fault with its raw text, nothing lost, no zero; only words that read are asked, and in passive mode none.
"""

import contextlib
import sqlite3
import sys
import time

import pytest

from tests.faults import outside
from tests.faults.files.cases import CASES, MELT, SHOTS, config, heard, judge
from tests.faults.files.played import Place, Played, texts
from tests.faults.files.watch import asked, written
from tests.faults.soak.logger import Logger
from tests.faults.soak.truth import TruePress

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="records what is written, as Linux can")
DEADLINE_S = 60.0
READ = [case for case in CASES if not case.from_start]


class Examination:
    """Every case as a press of one logger; all make their shots side by side."""

    def __init__(self, root):
        self.places = {case.name: Place(case.name, case.ways, root) for case in CASES}
        self.truth = {case.name: TruePress(case.name, case.first, case.last_count) for case in CASES}
        self.before = {}
        self.presses = Played(list(self.places.values()))
        file = root / "files.toml"
        tables = "".join(config(case, self.places[case.name].folder) for case in CASES)
        file.write_text(f'[log]\nstore = "sqlite:///files.db"\n{tables}', encoding="utf-8")
        self.log, self.record = root / "files.db", root / "record"
        kept = outside.recording(self.record, root / "shared") if outside.shim() else {}
        self.logger = Logger(file, pages=False, environment=kept)

    def run(self):
        for case in CASES:
            if case.from_start:
                self.presses.last(case.name, (case.from_start, 0.0))
        self.logger.start()
        self.until(lambda case: any("connected" in line for line in self.said(case)))
        self.until(lambda case: self.stored(case), make=True)
        for case in READ:
            truth = self.truth[case.name]
            skipped = case.last_count - 3 - truth.now.counter if case.counter else 0
            truth.leap(skipped)
            self.before[case.name] = truth.now.n + skipped
        for shot in range(1, SHOTS + 1):
            self.make(READ, shot)
            time.sleep(0.25)  # longer than a poll: where each shot replaces the one before, some are seen
        self.until(lambda case: self.truth[case.name].now.counter == self.stored(case), make=True)
        self.until(lambda case: all(heard(one, self.said(case)) for one in case.said), of=CASES)
        self.status = self.logger.stop(20.0)

    def make(self, cases, shot=0):
        told = {}
        for case in cases:
            if shot and shot == case.counts_anew:
                self.truth[case.name].reset()
            made = self.truth[case.name].make(("cushion",) if shot in case.broken else ())
            shown = texts(made, case.broken.get(shot, "")) | {"ActTmpBrlZn[1,4]": str(MELT)}
            told[case.name] = [(made, shown, [case.at[shot]] if shot in case.at else [])]
        self.presses.make(told)

    def until(self, so, make=False, of=READ):
        """Wait until something is so of each case; where it is not, its press makes sound shots."""
        end, waiting = time.monotonic() + DEADLINE_S, list(of)
        while waiting:
            assert self.logger.alive, self.logger.said[-5:]
            assert time.monotonic() < end, [(case.name, self.said(case)) for case in waiting]
            if make:
                self.make(waiting)
            time.sleep(0.3)
            waiting = [case for case in waiting if not so(case)]

    def stored(self, case):
        """The counter of the newest shot in the log."""
        with contextlib.closing(sqlite3.connect(f"file:{self.log}?mode=ro", uri=True, timeout=20)) as log:
            query = "SELECT max(id), counter FROM shots WHERE press_id = (SELECT id FROM presses WHERE name = ?)"
            return log.execute(query, (case.name,)).fetchone()[1]

    def said(self, case):
        return [one.line for one in self.logger.said if f"{case.name}: " in one.line and ": shot " not in one.line]

    def close(self):
        self.logger.kill()
        self.presses.close()


@pytest.mark.file  # the referee reads the file, by nothing of ours
def test_nothing_lost_no_zero_and_only_words_that_read(tmp_path):
    """One test, so that the logger is started once wherever tests are shared out."""
    played = Examination(tmp_path)
    try:
        played.run()
    finally:
        played.close()
    wrong = []
    for case in CASES:
        ledger = played.truth[case.name].ledger[1:]  # the first was made before anybody was there
        wrong += judge(case, ledger, played.before.get(case.name, 0), played.log, played.said(case))
    wrong += [f"{place.name}: {line}" for place in played.places.values() for line in asked(place)]
    wrong += written(played.record, list(played.places.values()))
    assert wrong == []
    assert played.status == 0
    if outside.shim():
        record = outside.read_record(played.record, played.places["cells"].folder.parent)
        assert any(one.file.startswith("cells/S01") for one in record)
