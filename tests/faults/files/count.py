"""What is counted of a run: offered, stored, in gaps, wrong; and what was asked of the presses."""

import math
import re
import sqlite3
from contextlib import closing
from dataclasses import dataclass, field

from tests.faults import outside
from tests.faults.files.bench import HARM, SPOILT, Bench
from tests.faults.files.played import offered
from tests.faults.soak.referee import Stored, count, rows_of
from tests.faults.soak.truth import CHANNELS, Made

__all__ = ["Figures", "figures"]

COMMANDS = {"JOB", "REPORT", "EVENT", "GETID", "GETINFO", "ABORT"}
"""What may stand in a job; ABORT of a job that was ordered from here."""


@dataclass
class Figures:
    """One press, or all, in numbers; `unread` stood whole in a file for long and are only in a gap; `wrong` says in
    words what must not be.
    """

    offered: int = 0
    stored: int = 0
    in_gaps: int = 0
    uncertain: int = 0
    unread: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)

    def row(self, title: str) -> str:
        """Return it as one line of a table."""
        cells = (self.offered, self.stored, self.in_gaps, self.uncertain, len(self.unread), len(self.wrong))
        return f"{title:12}" + "".join(f"{cell:10}" for cell in cells)


HEAD = f"{'':12}" + "".join(f"{name:>10}" for name in ("offered", "stored", "in gaps", "uncertain", "unread", "wrong"))


def figures(bench: Bench) -> dict[str, Figures]:
    """Count a run that has ended, press by press; what is no press's own stands under an empty name."""
    out = {"": Figures(wrong=[*bench.notes])}
    shots, _, _ = rows_of(bench.log)
    for name, press in bench.truth.items():
        told = [one for one in bench.logger.acknowledged if one[0] == name]
        waiting = [one for one in bench.logger.waiting if one[0] == name]
        mine = [one for one in shots if one.press == name]
        found = count([press], told, waiting, [bench.log], lambda press, made: False)
        stored = len(mine)
        wrong = [*found.broken, *_not_exact(mine, press.ledger), *_faults(bench, name, mine), *_asked(bench, name)]
        missing = len(press.ledger) - stored - found.in_gaps - _before(mine, press.ledger)
        if missing:
            wrong.append(f"{missing} of {len(press.ledger)} shots are neither stored nor in a gap")
        unread = _unread(bench, name, mine)
        out[name] = Figures(len(press.ledger), stored, found.in_gaps, found.uncertain, unread, wrong)
    out[""].wrong += _written(bench)
    return out


def _before(mine: list[Stored], ledger: list[Made]) -> int:
    """Return how many shots were made before the first that was stored: the logger had not yet come."""
    first = min(mine, key=lambda one: one.shot, default=None)
    return next((made.n - 1 for made in ledger if first and _fits(first, made)), 0)


def _fits(one: Stored, made: Made) -> bool:
    """Say whether a stored shot is this one, to the last bit."""
    true, values = offered(made), dict(zip(CHANNELS, one.values, strict=True))
    return one.counter == made.counter and all(
        value is None
        if name in made.unreadable
        else value is not None and math.isclose(value, true[name], rel_tol=1e-15)
        for name, value in values.items()
    )


def _not_exact(mine: list[Stored], ledger: list[Made]) -> list[str]:
    by_counter: dict[int, list[Made]] = {}
    for made in ledger:
        by_counter.setdefault(made.counter, []).append(made)
    return [
        f"shot {one.shot} (counter {one.counter}) is stored as {one.values}"
        for one in mine
        if not any(_fits(one, made) for made in by_counter.get(one.counter, []))
    ]


def _faults(bench: Bench, name: str, mine: list[Stored]) -> list[str]:
    """Return what was broken and not said with its raw text."""
    stored = {one.counter for one in mine}
    lacking = [made for made in bench.truth[name].ledger if (name, made.n) in bench.broken and made.counter in stored]
    with closing(sqlite3.connect(f"file:{bench.log.as_posix()}?mode=ro", uri=True)) as log:
        rows = log.execute(
            "SELECT kind, detail, raw, more FROM faults WHERE press_id = (SELECT id FROM presses WHERE name = ?)",
            (name,),
        ).fetchall()
    said = sum(1 + (more or 0) for _, _, _, more in rows)
    spoilt = sum(kind in SPOILT for (press, _), kind in bench.faulty.items() if press == name)
    out = [f"a fault without raw text: {kind}: {detail}" for kind, detail, raw, _ in rows if not raw and _of_text(kind)]
    if said < len(lacking) + spoilt // 2:  # a line may have been taken from the file before it was read
        out.append(f"{len(lacking)} broken values stored as missing, {spoilt} lines spoilt, {said} faults said")
    return out


def _of_text(kind: str) -> bool:
    """Say whether a fault of this kind is about something that was read."""
    return kind not in ("link", "counter", "clock")


def _unread(bench: Bench, name: str, mine: list[Stored]) -> list[str]:
    """Return shots that stood whole in a file of APPEND, which nobody harmed soon after, and are not stored."""
    if "mode=rewrite" in bench.kinds[name].ways:
        return []
    ledger, stored = bench.truth[name].ledger, {(one.counter, one.values[3]) for one in mine}
    whole = {entry["shot"] for entry in bench.places[name].noted() if entry.get("written")}
    harmed = sorted(n for (press, n), kind in bench.faulty.items() if press == name and kind in HARM)
    out = []
    for made in ledger:
        if made.n not in whole or made.unreadable or (name, made.n) in bench.faulty:
            continue
        near = any(made.n <= n and ledger[n - 1].shown - made.shown < 3.0 for n in harmed)
        after_half = bench.faulty.get((name, made.n - 1)) in ("half", "cut")
        if not near and not after_half and (made.counter, offered(made)["recovery_time"]) not in stored:
            out.append(f"shot {made.n} (counter {made.counter})")
    return out


def _asked(bench: Bench, name: str) -> list[str]:
    """Return what was asked of a press that may not be asked, or in a way that no press need understand."""
    noted, wrong, own = bench.places[name].noted(), [], set()
    passive = "report=" in bench.kinds[name].ways
    for entry in noted:
        if "refused" in entry:
            wrong.append(f"asked for {entry['refused']}")
        if "asked" in entry and not re.fullmatch(
            r'\d{8} (CONNECT|EXECUTE "[A-Za-z0-9_]+\.JOB");\s*', entry["asked"], re.IGNORECASE
        ):
            wrong.append(f"asked {entry['asked']!r}")
        if passive and "asked" in entry:
            wrong.append(f"asked {entry['asked']!r} in passive mode")
        if "job" in entry:
            wrong += _job(entry["text"], own)
    return wrong


def _job(text: str, own: set[str]) -> list[str]:
    wrong = []
    for statement in filter(None, (part.strip() for part in text.split(";"))):
        said = statement.split()
        if said[0] not in COMMANDS:
            wrong.append(f"ordered {statement!r}")
        if said[0] == "JOB":
            own.add(said[1])
        if said[0] == "ABORT" and (said[1:2] != ["JOB"] or said[2] not in own):
            wrong.append(f"ordered {statement!r}, own jobs are {sorted(own)}")
    return wrong


def _written(bench: Bench) -> list[str]:
    """Return what the logger wrote into folders and should not have: anything in passive mode, anybody else's file."""
    wrong = []
    touched: dict[str, set[str]] = {}
    for one in outside.read_record(bench.record, bench.root / "shared") if bench.record.exists() else []:
        folder, _, file = one.file.partition("/")
        if one.what in "WTCUR":
            touched.setdefault(folder, set()).add(file)
    for name, kind in bench.kinds.items():
        if "report=" in kind.ways and touched.get(name):
            wrong.append(f"{name}: written in passive mode: {sorted(touched[name])[:10]}")
    theirs = {"OLD01.DAT", "OLD01.JOB", "SESS0007.RSP", "readme.txt", "OTHERS.LOG", "OTHERS.DAT", "THEIRS.DAT"}
    wrong += [f"{name}: touched {sorted(files & theirs)}" for name, files in touched.items() if files & theirs]
    for name, place in bench.places.items():
        if "others=yes" in place.ways:
            gone = {"OLD01.DAT", "OLD01.JOB", "SESS0007.RSP", "readme.txt"} - {p.name for p in place.folder.iterdir()}
            wrong += [f"{name}: gone: {sorted(gone)}"] if gone else []
    return wrong


def leftover(bench: Bench) -> dict[str, int]:
    """Return how many files lie in each folder at the end."""
    return {name: len(list(place.folder.iterdir())) for name, place in bench.places.items()}
