"""What is counted of a run, from outside: offered, stored, in gaps, wrong."""

import math
import sqlite3
from contextlib import closing
from dataclasses import dataclass, field

from tests.faults.files.bench import HARM, SPOILT, Bench
from tests.faults.files.played import offered
from tests.faults.files.watch import asked, written
from tests.faults.soak.referee import Stored, count, rows_of
from tests.faults.soak.truth import CHANNELS, Made

__all__ = ["HEAD", "Figures", "figures", "leftover"]


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


ABSENT = ("?", "", "-", '"?"', "--.--")
"""What stands for a value that is not there."""

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
        wrong = [
            *found.broken,
            *_not_exact(mine, press.ledger),
            *_faults(bench, name, mine),
            *asked(bench.places[name]),
        ]
        missing = len(press.ledger) - stored - found.in_gaps - _before(mine, press.ledger)
        if missing:
            wrong.append(f"{missing} of {len(press.ledger)} shots are neither stored nor in a gap")
        unread = _unread(bench, name, mine)
        out[name] = Figures(len(press.ledger), stored, found.in_gaps, found.uncertain, unread, wrong)
    out[""].wrong += written(bench.record, list(bench.places.values()))
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
    lacking, before = 0, ""
    for made in bench.truth[name].ledger:
        told = f"{made.unreadable} absent" if bench.broken.get((name, made.n)) in ABSENT else ""
        # of faults alike the first stands in the log at once, and a minute later how many more: a kill takes that along
        kept = not any(0.0 <= killed - made.shown <= 65.0 for killed in bench.killed)
        if (name, made.n) in bench.broken and made.counter in stored and kept and not (told and told == before):
            lacking += 1  # what is absent is told once until it is there again
        before = told
    with closing(sqlite3.connect(f"file:{bench.log.as_posix()}?mode=ro", uri=True)) as log:
        rows = log.execute(
            "SELECT kind, detail, raw, more FROM faults WHERE press_id = (SELECT id FROM presses WHERE name = ?)",
            (name,),
        ).fetchall()
    said = sum(1 + (more or 0) for _, _, _, more in rows)
    spoilt = sum(kind in SPOILT for (press, _), kind in bench.faulty.items() if press == name)
    out = [f"a fault without raw text: {kind}: {detail}" for kind, detail, raw, _ in rows if not raw and _of_text(kind)]
    if said < lacking:
        out.append(f"{lacking} broken values stored as missing, {spoilt} lines spoilt, {said} faults said")
    return out


def _of_text(kind: str) -> bool:
    """Say whether a fault of this kind is about something that was read."""
    return kind not in ("euromap63", "job", "log")


def _unread(bench: Bench, name: str, mine: list[Stored]) -> list[str]:
    """Return shots that stood whole in a file of APPEND, which nobody harmed soon after, and are not stored."""
    if "mode=rewrite" in bench.kinds[name].ways:
        return []
    ledger, stored = bench.truth[name].ledger, {(one.counter, one.values[3]) for one in mine}
    before = _before(mine, ledger)
    whole = {entry["shot"] for entry in bench.places[name].noted() if entry.get("written")}
    harmed = sorted(n for (press, n), kind in bench.faulty.items() if press == name and kind in HARM)
    out = []
    for made in ledger:
        if made.n <= before or made.n not in whole or made.unreadable or (name, made.n) in bench.faulty:
            continue
        near = any(made.n <= n and ledger[n - 1].shown - made.shown < 3.0 for n in harmed)
        after_half = bench.faulty.get((name, made.n - 1)) in ("half", "cut")
        if not near and not after_half and (made.counter, offered(made)["recovery_time"]) not in stored:
            out.append(f"shot {made.n} (counter {made.counter})")
    return out


def leftover(bench: Bench) -> dict[str, int]:
    """Return how many files lie in each folder at the end."""
    return {name: len(list(place.folder.iterdir())) for name, place in bench.places.items()}
