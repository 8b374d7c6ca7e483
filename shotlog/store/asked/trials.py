"""Which shots belong to which trial."""

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import ColumnElement, ScalarSelect, func, literal, select, true

from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["QUERIES", "TrialShots", "trials"]


@dataclass(frozen=True, slots=True)
class TrialShots:
    """A trial and its first and last shot by press; the name is empty for shots logged under none."""

    name: str
    part: str
    resin: str
    shots: Mapping[str, tuple[int, int]]


def trials(log: Log) -> list[TrialShots]:
    """Return the trials that have shots, in the order they were entered; a trial described anew is another one."""
    found: dict[tuple[str, str, str], dict[str, tuple[int, int]]] = {}
    with log.reading() as connection:
        for query in QUERIES:
            for name, part, resin, press, first, last in connection.execute(query):
                if first is not None:
                    found.setdefault((name, part, resin), {})[press] = (first, last)
    return [TrialShots(*about, spans) for about, spans in found.items()]


def _ends(trial: ColumnElement[bool]) -> tuple[ScalarSelect[int], ScalarSelect[int]]:
    """Return the first and the last shot of a press under a trial, each looked up by index: shots are many."""
    shots, presses = schema.shots, schema.presses
    first, last = (
        select(of(shots.c.shot)).where(trial, shots.c.press_id == presses.c.id) for of in (func.min, func.max)
    )
    return first.scalar_subquery(), last.scalar_subquery()


_NO_TRIAL = [literal("").label(name) for name in ("name", "part", "resin")]
_TRIAL = schema.trials.c
QUERIES = (
    select(*_NO_TRIAL, schema.presses.c.name, *_ends(schema.shots.c.trial_id.is_(None))).order_by(schema.presses.c.id),
    select(_TRIAL.name, _TRIAL.part, _TRIAL.resin, schema.presses.c.name, *_ends(schema.shots.c.trial_id == _TRIAL.id))
    .join_from(schema.trials, schema.presses, true())
    .order_by(_TRIAL.id, schema.presses.c.id),
)
"""Name, part and resin of a trial, a press, its first and last shot under that trial: None where it has none."""
