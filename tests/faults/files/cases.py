"""Each variant of the sheet, and lines broken in each way: what a press does, and what has to stand in the log.

Every case is a press of one logger. It says what goes wrong at which shot, which shots may be missing (each inside a
gap), which values (None in the log, never zero), what raw text the faults have to show, and what has to be said.
"""

import re
import sqlite3
from collections.abc import Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from tests.faults.files.played import Fault, offered
from tests.faults.soak.truth import CHANNELS, Made

__all__ = ["CASES", "MELT", "SHOTS", "Case", "config", "heard", "judge"]

SHOTS = 7
"""How many shots a case has; something is wrong with the second to the sixth at most."""

MELT = 285.5
"""The melt temperature of every shot, degC."""


@dataclass(frozen=True)
class Case:
    """One press. `at` are faults by shot; `broken` the text that stands in the cushion, by shot; `from_start` a fault
    that never ends: no shot is read. `missing` shots lie in a gap, `anyhow` may. `raw` and `said` are patterns of raw
    texts and of what the logger says. `counts_anew`: the shot at which the counter begins again; `unit`: the
    configuration says units.
    """

    name: str
    ways: str = ""
    at: Mapping[int, Fault] = field(default_factory=dict)
    broken: Mapping[int, str] = field(default_factory=dict)
    from_start: str = ""
    missing: Sequence[int] = ()
    anyhow: Sequence[int] = ()
    raw: Sequence[str] = ()
    said: Sequence[str] = ()
    keys: str = ""
    counter: str = ""
    unit: bool = False
    cushion: str = "ActStrCsh[1]"
    melt: bool = False
    last_count: int = 2**40
    first: int = 1
    counts_anew: int = 0


THEIRS = 'passive = true\n  report = "THEIRS.DAT"\n  '
REWRITE = 'mode = "rewrite"'
_WAY = "report=THEIRS.DAT"

CASES = (
    Case(
        "plain-answers",
        "processed=plain,session-id=no,deletes=before,ends=lower,info=space,others=yes",
        {3: ("duplicate", 0), 5: ("lost", 0)},
        missing=(5,),
    ),
    Case(
        "latin-1",
        "code-page=8859-1,info=equals,line=lf,dates=yes",
        {3: ("deleted", 0), 5: ("rewritten", 0.2)},
        melt=True,
    ),
    Case(
        "code-page-850",
        "pieces=two,header=again",
        {2: ("garbage", 0), 4: ("nul", 0), 6: ("header", 0)},
        missing=(4,),
        raw=("\0{8}",),
        melt=True,
    ),
    Case("late-answers", "slow-s=0.5,pieces=tail", {4: ("clock", -3600.0), 5: ("clock", 86400.0), 6: ("split", 0.3)}),
    Case("cells", broken={2: "?", 4: "", 6: "ERR"}, raw=(r",\?,", ",,", ",ERR,")),
    Case(
        "numbers",
        broken={2: "99999999999999", 4: "NaN", 6: "1.2.3"},
        raw=(",99999999999999,", ",NaN,", r",1\.2\.3,"),
        counts_anew=5,
        said=("counter",),
    ),
    Case(
        "lines",
        at={2: ("short", 0), 4: ("long", 0), 6: ("comma", 0)},
        missing=(2, 4, 6),
        raw=(r"^\d{8},[^.]+$", r",\d\.\d,0$"),
        counter=", last_count = 9999",
        first=9900,
        last_count=9999,
    ),
    Case("half-a-line", "pieces=two", {3: ("half", 0)}, missing=(3,), anyhow=(4,), raw=(r"^\d{8},[^\n]*\d{8},",)),
    Case("file-emptied", at={4: ("emptied", 0)}),
    Case("file-put-back", "pieces=whole", {5: ("older", 0)}),
    Case("uploads", "ftp=whole,pieces=two", {4: ("cut", 0)}),
    Case("passive", f"{_WAY},pieces=two", {3: ("half", 0)}, missing=(3,), anyhow=(4,), keys=THEIRS, unit=True),
    Case("every-third", f"{_WAY},every=3", anyhow=range(1, 99), keys=THEIRS, unit=True),
    Case(
        "one-shot",
        f"{_WAY},mode=rewrite,pieces=tail,piece-s=0.25",
        anyhow=range(1, 99),
        keys=f"{THEIRS}{REWRITE}",
        unit=True,
    ),
    Case("unknown", cushion="ActStrCsh[9]", from_start="lost", said=(r"ActStrCsh\[9\]",)),
    Case("no-session", "sessions=1", from_start="lost", said=("did not answer CONNECT",)),
    Case("cubic", cushion="ActVolCsh[1,1]", from_start="lost", said=("cm3|volume",)),
    Case("busy", from_start="busy", said=("busy",)),
    Case("offline", from_start="offline", said=("offline",)),
    Case("no-room", from_start="too-many-reports", said=("no more reports",)),
    Case("no-file", from_start="cannot-create", said=("cannot create the file",)),
    Case("dead", from_start="silent", said=("did not answer CONNECT",)),
)  # fmt: skip


def config(case: Case, folder: Path) -> str:
    """Return the table of the press of a case."""
    units = {unit: f', unit = "{unit}"' if case.unit else "" for unit in ("mm", "bar", "s")}
    silence = "" if case.unit else "silence_s = 5\n  "
    melt = 'melt_temperature = { token = "ActTmpBrlZn[1,4]" }' if case.melt else ""
    return f"""
[[press]]
name = "{case.name}"
  [press.collector]
  kind = "euromap63"
  folder = '{folder}'
  poll_s = 0.1
  {silence}{case.keys}
  shot_counter = {{ token = "ActCntCyc"{case.counter} }}
    [press.collector.channels]
    cushion = {{ token = "{case.cushion}"{units["mm"]} }}
    peak_pressure = {{ token = "ActPrsMachSpecMax"{units["bar"]} }}
    fill_time = {{ token = "ActTimFill[1]"{units["s"]} }}
    recovery_time = {{ token = "ActTimPlst[1]"{units["s"]} }}
    {melt}
"""


def judge(case: Case, ledger: Sequence[Made], before: int, log: Path, said: Sequence[str]) -> list[str]:
    """Return what is not as the case wants it; `before` shots of the ledger were made before its own."""
    wanted = ", ".join(CHANNELS)
    missing_words = [f"{case.name}: {pattern!r} not said: {said}" for pattern in case.said if not heard(pattern, said)]
    if case.from_start:
        return missing_words
    melt = ", melt_temperature" if case.melt else ""
    with closing(sqlite3.connect(f"file:{log.as_posix()}?mode=ro", uri=True)) as base:
        (press,) = base.execute("SELECT id FROM presses WHERE name = ?", (case.name,)).fetchone()
        query = f"SELECT shot, counter, {wanted}{melt} FROM shots WHERE press_id = ? ORDER BY shot"
        shots = base.execute(query, (press,)).fetchall()
        gaps = base.execute("SELECT first, last FROM gaps WHERE press_id = ?", (press,)).fetchall()
        faults = base.execute("SELECT detail, raw FROM faults WHERE press_id = ?", (press,)).fetchall()
    wrong = [f"melt temperature {row[-1]}" for row in shots if melt and row[-1] != MELT]
    rows: dict[int, int] = {}
    for shot, counter, *values in shots:
        made = next((one for one in ledger if _is(one, counter, values[: len(CHANNELS)])), None)
        if made is None or made.n in rows:
            wrong.append(f"shot {shot} (counter {counter}) stored as {values}")
        else:
            rows[made.n] = shot
    for made in ledger:
        own = made.n - before
        if own < 1:
            continue
        if made.n in rows and own in case.missing:
            wrong.append(f"its shot {own} is stored, though it could not be read")
        if made.n not in rows and own not in (*case.missing, *case.anyhow):
            wrong.append(f"its shot {own} is not stored")
        if made.n not in rows and not _in_gap(made.n, rows, gaps):
            wrong.append(f"its shot {own} is neither stored nor in a gap: {gaps}")
    raw = [bytes(row[1] or b"").decode("latin-1") for row in faults]
    wrong += [f"no fault with {p!r}: {faults}" for p in case.raw if not any(re.search(p, text) for text in raw)]
    return [f"{case.name}: {line}" for line in wrong] + missing_words


def heard(pattern: str, said: Sequence[str]) -> bool:
    """Say whether one of these lines says it."""
    return any(re.search(pattern, line, re.IGNORECASE) for line in said)


def _in_gap(n: int, rows: Mapping[int, int], gaps: Sequence[tuple[int, int]]) -> bool:
    """Say whether a gap lies between the stored shots on both sides of the n-th."""
    low = max((shot for one, shot in rows.items() if one < n), default=0)
    high = min((shot for one, shot in rows.items() if one > n), default=10**9)
    return any(low < first <= last < high for first, last in gaps)


def _is(made: Made, counter: int, values: Sequence[float | None]) -> bool:
    true = offered(made)
    return made.counter == counter and all(
        value is None if name in made.unreadable else value == true[name]
        for name, value in zip(CHANNELS, values, strict=True)
    )
