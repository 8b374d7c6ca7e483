"""The referee of presses with files finds what was lost, doubled, changed, left unsaid or written where nothing may
be written; it reads the log, the diaries and the folders alone.
"""

import json
import re
import sqlite3
from contextlib import closing
from types import SimpleNamespace

import pytest

from tests.faults.files.bench import Kind
from tests.faults.files.count import figures
from tests.faults.files.played import Place, offered
from tests.faults.soak.truth import CHANNELS, TruePress

TABLES = """
CREATE TABLE presses (id INTEGER PRIMARY KEY, name TEXT);
CREATE TABLE verdicts (press_id INTEGER, shot INTEGER);
CREATE TABLE shots (id INTEGER PRIMARY KEY, press_id INTEGER, shot INTEGER, counter INTEGER,
    cushion REAL, peak_pressure REAL, fill_time REAL, recovery_time REAL);
CREATE TABLE gaps (id INTEGER PRIMARY KEY, press_id INTEGER, first INTEGER, last INTEGER, reason TEXT,
    least INTEGER, most INTEGER);
CREATE TABLE faults (id INTEGER PRIMARY KEY, press_id INTEGER, kind TEXT, detail TEXT, raw BLOB, more INTEGER);
INSERT INTO presses VALUES (1, 'P');
"""


@pytest.fixture
def played(tmp_path):
    """A run of 40 shots, of which 11 to 13 were never written and lie in a gap, and shot 20 has `?` for its cushion."""
    truth, place = TruePress("P", 1, 2**40), Place("P", "others=yes", tmp_path)
    for n in range(2, 41):
        truth.make(("cushion",) if n == 20 else ())
    for name in ("OLD01.DAT", "OLD01.JOB", "SESS0007.RSP", "readme.txt", "OTHERS.LOG", "OTHERS.DAT"):
        (place.folder / name).touch()
    entries = [{"shot": n, "written": [] if 11 <= n <= 13 else ["A.DAT"]} for n in range(1, 41)]
    entries += [{"asked": "00000000 CONNECT;\r\n"}, {"asked": '00000001 EXECUTE "A.JOB";'}]
    entries += [
        {"job": "A.JOB", "text": 'JOB A RESPONSE "A.LOG"; GETID "A.DAT";'},
        {"job": "S", "text": "ABORT JOB A;"},
    ]
    note(place, *entries)
    log = tmp_path / "files.db"
    with closing(sqlite3.connect(log)) as base, base:
        base.executescript(TABLES)
        for made in truth.ledger:
            if not 11 <= made.n <= 13:
                values = [offered(made).get(channel) for channel in CHANNELS]
                base.execute("INSERT INTO shots VALUES (NULL, 1, ?, ?, ?, ?, ?, ?)", (made.n, made.counter, *values))
        base.execute("INSERT INTO gaps VALUES (NULL, 1, 11, 13, 'missed', NULL, NULL)")
        base.execute("INSERT INTO faults VALUES (NULL, 1, 'cushion absent', '', x'3f', NULL)")
    logger = SimpleNamespace(acknowledged=[("P", 39)], waiting=[])
    more = {"notes": [], "broken": {("P", 20): "?"}, "faulty": {}, "killed": [], "record": tmp_path / "record"}
    return SimpleNamespace(
        truth={"P": truth}, places={"P": place}, kinds={"P": Kind("others=yes")}, log=log, logger=logger, **more
    )


def note(place, *entries):
    with place.diary.open("a", encoding="utf-8") as out:
        out.writelines(json.dumps(entry) + "\n" for entry in entries)


def wrong(played):
    return [line for one in figures(played).values() for line in one.wrong]


def test_a_run_with_nothing_wrong(played):
    counted = figures(played)["P"]
    assert (counted.offered, counted.stored, counted.in_gaps, counted.unread) == (40, 37, 3, [])
    assert wrong(played) == []


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        ("DELETE FROM shots WHERE shot = 30", "neither stored nor in a gap"),
        ("DELETE FROM shots WHERE shot = 39", "lost: P shot 39"),
        ("DELETE FROM gaps", "neither stored nor in a gap"),
        ("UPDATE shots SET cushion = cushion + 1e-9 WHERE shot = 30", r"shot 30 \(counter 30\) is stored as"),
        ("UPDATE shots SET cushion = 0 WHERE shot = 20", "changed: P shot 20"),
        ("UPDATE shots SET cushion = NULL WHERE shot = 30", "changed: P shot 30"),
        ("INSERT INTO shots SELECT NULL, 1, 41, counter, cushion, peak_pressure, fill_time, recovery_time"
         " FROM shots WHERE shot = 30", r"doubled: P 30 as shots \[30, 41\]"),
        ("UPDATE faults SET raw = x''", "a fault without raw text"),
        ("DELETE FROM faults", "1 broken values stored as missing, 0 lines spoilt, 0 faults said"),
    ],
)  # fmt: skip
def test_what_it_finds_in_the_log(played, spoil, said):
    with closing(sqlite3.connect(played.log)) as base, base:
        base.execute(spoil)
    assert any(re.search(said, line) for line in wrong(played)), wrong(played)


def test_what_stood_in_a_file_and_was_never_read(played):
    with closing(sqlite3.connect(played.log)) as base, base:
        base.execute("DELETE FROM shots WHERE shot = 14")
        base.execute("UPDATE gaps SET last = 14")
    assert figures(played)["P"].unread == ["shot 14 (counter 14)"]
    assert wrong(played) == []


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ({"asked": "00000001 CONN"}, "asked '00000001 CONN'"),
        ({"asked": '00000001 SET "X";'}, "asked '00000001 SET"),
        ({"refused": "DOWNLOAD"}, "asked for DOWNLOAD"),
        ({"job": "B", "text": 'JOB B RESPONSE "B"; UPLOAD "X";'}, "ordered 'UPLOAD"),
        ({"job": "B", "text": 'JOB B RESPONSE "B"; ABORT ALL;'}, "ordered 'ABORT ALL'"),
        ({"job": "B", "text": 'JOB B RESPONSE "B"; ABORT JOB Others;'}, "ordered 'ABORT JOB Others', own jobs are"),
    ],
)
def test_what_it_finds_at_the_press(played, entry, said):
    note(played.places["P"], entry)
    assert [line for line in wrong(played) if said in line], wrong(played)


def test_what_it_finds_in_the_folder(played):
    (played.places["P"].folder / "OLD01.DAT").unlink()
    assert wrong(played) == ["P: gone: ['OLD01.DAT']"]
    played.places["P"].ways = "report=THEIRS.DAT"
    assert "asked '00000000 CONNECT;\\r\\n'" in wrong(played)
