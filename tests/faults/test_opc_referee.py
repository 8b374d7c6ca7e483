"""The referee of OPC UA shots finds what was lost, doubled, changed, made up or left unsaid; it reads the log alone."""

import re
import sqlite3
from collections import Counter
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from tests.faults.opc.count import figures
from tests.faults.opc.played import offered
from tests.faults.soak.truth import CHANNELS, TruePress

TABLES = """
CREATE TABLE presses (id INTEGER PRIMARY KEY, name TEXT);
CREATE TABLE verdicts (press_id INTEGER, shot INTEGER);
CREATE TABLE shots (id INTEGER PRIMARY KEY, press_id INTEGER, shot INTEGER, counter INTEGER,
    cushion REAL, peak_pressure REAL, fill_time REAL, recovery_time REAL);
CREATE TABLE gaps (id INTEGER PRIMARY KEY, press_id INTEGER, first INTEGER, last INTEGER, reason TEXT,
    least INTEGER, most INTEGER);
CREATE TABLE faults (id INTEGER PRIMARY KEY, press_id INTEGER, kind TEXT, detail TEXT, raw BLOB, more INTEGER);
CREATE TABLE set_points (id INTEGER PRIMARY KEY, press_id INTEGER, shot INTEGER, name TEXT, value TEXT, unit TEXT);
INSERT INTO presses VALUES (1, 'OPC');
"""


@pytest.fixture
def played(tmp_path: Path) -> Any:
    """A run of 40 shots, of which 11 to 13 lie in a gap and shot 20 lacks its cushion, which is said."""
    truth = TruePress("OPC", 1, 2**40)
    for n in range(2, 41):
        truth.make(("cushion",) if n == 20 else ())
    log = tmp_path / "opc.db"
    with closing(sqlite3.connect(log)) as base, base:
        base.executescript(TABLES)
        for made in truth.ledger:
            if not 11 <= made.n <= 13:
                values = [None if channel in made.unreadable else offered(made)[channel] for channel in CHANNELS]
                base.execute("INSERT INTO shots VALUES (NULL, 1, ?, ?, ?, ?, ?, ?)", (made.n, made.counter, *values))
        base.execute("INSERT INTO gaps VALUES (NULL, 1, 11, 13, 'missed', NULL, NULL)")
        base.execute("INSERT INTO faults VALUES (NULL, 1, 'value', 'cushion', x'2d', NULL)")
        base.execute("INSERT INTO set_points VALUES (NULL, 1, 1, 'hold', '380', 'bar')")
        base.execute("INSERT INTO set_points VALUES (NULL, 1, 14, 'hold', '381', 'bar')")
    logger = SimpleNamespace(acknowledged=[("OPC", 39)], waiting=[])
    relay = SimpleNamespace(asked=Counter(Hello=1, Read=3, Publish=9), unread=[])
    changed = {"written": 0, "StopAtCycleEnd": 0}
    told = {
        "notes": [],
        "broken": {20: None},
        "done": Counter(),
        "changed": changed,
        "cases": (),
        "counter": "MachineCycleCounter",
    }
    return SimpleNamespace(truth=truth, log=log, logger=logger, relay=relay, set_to=[(1, 380.0), (12, 381.0)], **told)


def test_a_run_with_nothing_wrong(played: Any) -> None:
    counted = figures(played)
    assert (counted.offered, counted.stored, counted.in_gaps, counted.wrong) == (40, 37, 3, [])


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        ("DELETE FROM shots WHERE shot = 30", "neither stored nor in a gap"),
        ("DELETE FROM shots WHERE shot = 39", "lost: OPC shot 39"),
        ("DELETE FROM gaps", "neither stored nor in a gap"),
        ("UPDATE gaps SET first = 10", "neither stored nor in a gap"),
        ("UPDATE shots SET cushion = cushion + 1e-9 WHERE shot = 30", r"shot 30 \(counter 30\) is stored as"),
        ("UPDATE shots SET cushion = 0 WHERE shot = 20", "changed: OPC shot 20"),
        ("UPDATE shots SET cushion = NULL WHERE shot = 30", "changed: OPC shot 30"),
        ("INSERT INTO shots SELECT NULL, 1, 41, counter, cushion, peak_pressure, fill_time, recovery_time"
         " FROM shots WHERE shot = 30", r"doubled: OPC 30 as shots \[30, 41\]"),
        ("UPDATE faults SET raw = x''", "a fault without raw text"),
        ("DELETE FROM set_points WHERE id = 2", r"set-points \['380'\], set were \['380', '381'\]"),
        ("UPDATE set_points SET shot = 15 WHERE id = 2", "hold pressure 381 bar holds from shot 15 on, first .* 14"),
        ("DELETE FROM faults", "1 shots are stored without a value, 0 faults said"),
    ],
)  # fmt: skip
def test_what_it_finds_in_the_log(played: Any, spoil: str, said: str) -> None:
    with closing(sqlite3.connect(played.log)) as base, base:
        base.execute(spoil)
    wrong = figures(played).wrong
    assert wrong
    assert any(re.search(said, line) for line in wrong), wrong


def test_what_it_finds_at_the_press(played: Any) -> None:
    played.relay.asked["Write"] += 1
    played.relay.unread.append("MSG of a secured channel")
    played.changed["StopAtCycleEnd"] = 1
    assert figures(played).wrong == [
        "asked for Write",
        "not watched: MSG of a secured channel",
        "StopAtCycleEnd at the press, 1 times",
    ]
