"""What stands in the log against what the press offered: the figures of a run, and what must not be."""

import math
import sqlite3
from contextlib import closing
from dataclasses import dataclass, field

from tests.faults.opc.bench import KILL, NAME, Bench
from tests.faults.opc.cases import judge
from tests.faults.opc.played import offered
from tests.faults.opc.services import MAY_BE_ASKED
from tests.faults.soak.referee import Stored, count, rows_of
from tests.faults.soak.truth import CHANNELS, Made

__all__ = ["Figures", "figures"]


@dataclass
class Figures:
    """One run in numbers; `wrong` says in words what must not be."""

    offered: int
    stored: int
    in_gaps: int
    uncertain: int
    broken_values: int
    wrong: list[str] = field(default_factory=list)

    def row(self, title: str) -> str:
        """Return it as one line of a table."""
        return f"{title:34} {self.offered:8} {self.stored:8} {self.in_gaps:8} {len(self.wrong):6}"


def figures(bench: Bench) -> Figures:
    """Count a run that has ended."""
    logger = bench.logger
    out = count([bench.truth], logger.acknowledged, logger.waiting, [bench.log], lambda name, made: False)
    wrong = [*out.broken, *bench.notes, *_not_exact(bench), *_faults(bench), *_set_points(bench)]
    told = len(bench.truth.ledger)
    stored = len({shot.shot for shot in _own(bench)})
    missing = told - stored - out.in_gaps - _before(bench)
    if missing:
        wrong.append(f"{missing} of {told} shots are neither stored nor in a gap")
    wrong += [f"asked for {name}" for name in bench.relay.asked if name not in MAY_BE_ASKED and name != "Hello"]
    wrong += [f"not watched: {line}" for line in set(bench.relay.unread)]
    wrong += [f"{what} at the press, {times} times" for what, times in bench.changed.items() if times]
    said = "\n".join(line.line for line in logger.said) if bench.cases else ""
    for case in bench.cases:
        wrong += judge(case, bench.log, said)
    return Figures(told, stored, out.in_gaps, out.uncertain, len(bench.broken), wrong)


def _own(bench: Bench) -> list[Stored]:
    """Return what is stored of the press under faults; those of the cases stand in the same log."""
    return [shot for shot in rows_of(bench.log)[0] if shot.press == NAME]


def _before(bench: Bench) -> int:
    """Return how many shots were made before the first that was stored: the logger had not yet come."""
    shots = _own(bench)
    first = min((shot.shot for shot in shots), default=0)
    counter = next((shot.counter for shot in shots if shot.shot == first), 0)
    return next((made.n - 1 for made in bench.truth.ledger if made.counter == counter), 0)


def _not_exact(bench: Bench) -> list[str]:
    """Return each stored value that is not the one that was offered: to the last bit, but for what is converted."""
    shots = _own(bench)
    by_counter: dict[int, list[Made]] = {}
    for made in bench.truth.ledger:
        by_counter.setdefault(made.counter, []).append(made)
    out = []
    for shot in shots:
        values = dict(zip(CHANNELS, shot.values, strict=True))
        if not any(_exactly(values, offered(made)) for made in by_counter.get(shot.counter, [])):
            out.append(f"shot {shot.shot} (counter {shot.counter}) is stored as {values}")
    return out


def _exactly(values: dict[str, float | None], true: dict[str, float]) -> bool:
    return all(value is None or math.isclose(value, true[name], rel_tol=1e-15) for name, value in values.items())


def _faults(bench: Bench) -> list[str]:
    """Return what was broken, reached the log as a shot without that value, and was not said with its raw text."""
    shots = _own(bench)
    lacking = sum(None in shot.values for shot in shots)
    with closing(sqlite3.connect(f"file:{bench.log.as_posix()}?mode=ro", uri=True)) as log:
        rows = log.execute(
            "SELECT kind, detail, raw, more FROM faults WHERE press_id = (SELECT id FROM presses WHERE name = ?)",
            (NAME,),
        ).fetchall()
    said = sum(1 + (more or 0) for _, _, _, more in rows)
    out = [f"a fault without raw text: {kind}: {detail}" for kind, detail, raw, _ in rows if not raw]
    # beyond the first five of a kind they are counted, and a killed logger takes that number along
    if said < lacking and not bench.done[KILL]:
        out.append(f"{lacking} shots are stored without a value, {said} faults said")
    return out


def _set_points(bench: Bench) -> list[str]:
    """Return each change of the set-point that is not in the log, or not from the first stored shot made with it."""
    shots = _own(bench)
    of_press = "press_id = (SELECT id FROM presses WHERE name = ?)"
    made = {made.counter: made.n for made in bench.truth.ledger}  # of a job's counter the last; then only values count
    with closing(sqlite3.connect(f"file:{bench.log.as_posix()}?mode=ro", uri=True)) as log:
        asked = f"SELECT shot, value FROM set_points WHERE name = 'hold' AND {of_press} ORDER BY id"
        rows = log.execute(asked, (NAME,)).fetchall()
    held: list[tuple[str, int, bool]] = []
    unknown = True  # before the first, and from a row without a value on: nothing is said of these shots
    for shot, value in rows:
        if value and (not held or held[-1][0] != value):
            held.append((value, shot, unknown))
        unknown = not value
    values, wanted = [value for value, _, _ in held], [f"{bar:g}" for _, bar in bench.set_to]
    if values != wanted:
        return [f"set-points {values}, set were {wanted}"]
    if bench.counter != "MachineCycleCounter":
        return []
    numbers = sorted((made.get(shot.counter, 0), shot.shot) for shot in shots)
    out = []
    for (n, bar), (_, shot, unknown) in zip(bench.set_to, held, strict=True):
        first = next((number for at, number in numbers if at >= n), 0)
        if shot != first and not (unknown and shot > first):
            out.append(f"hold pressure {bar:g} bar holds from shot {shot} on, first made with it was {first}")
    return out
