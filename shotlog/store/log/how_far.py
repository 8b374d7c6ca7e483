"""How far the shots of presses are judged, asked with one question: of one press, or of all at once."""

from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, Table, bindparam, select

from shotlog.store.log import schema
from shotlog.store.log.entered import newest_entries
from shotlog.store.log.judgements import in_force
from shotlog.store.log.prepared import Asked, Prepared, Row

__all__ = ["NOT_MET", "HowFar", "far_of", "how_far", "how_far_all"]

_PRESSES, _SHOTS, _VERDICTS, _JUDGINGS = schema.presses, schema.shots, schema.verdicts, schema.judgings


@dataclass(frozen=True, slots=True)
class HowFar:
    """A press of the log: its newest judging (id, basis), the last shot with a verdict in force, the last one stored.

    `entries`: numbers that differ once anything was entered or taken back (`store.log.entered`).
    """

    press_id: int
    judging: tuple[int, str] | None
    through: int | None
    last: int | None
    entries: tuple[int | None, ...]

    @property
    def is_judged(self) -> bool:
        """Whether it is judged to its last shot."""
        return self.last is None or self.through == self.last


NOT_MET = HowFar(0, None, None, None, ())
"""A press of which the log knows nothing yet."""


def _newest(column: ColumnElement[Any], of: Table, by: ColumnElement[Any], *conditions: ColumnElement[bool]) -> Any:
    query = select(column).where(of.c.press_id == _PRESSES.c.id, *conditions).order_by(by.desc()).limit(1)
    return query.correlate(_PRESSES).scalar_subquery().label(None)


_ALL = select(
    _PRESSES.c.name,
    _PRESSES.c.id,
    _newest(_JUDGINGS.c.id, _JUDGINGS, _JUDGINGS.c.id),
    _newest(_JUDGINGS.c.basis, _JUDGINGS, _JUDGINGS.c.id),
    _newest(_VERDICTS.c.shot, _VERDICTS, _VERDICTS.c.shot, in_force(_VERDICTS, _VERDICTS.c.shot)),
    _newest(_SHOTS.c.shot, _SHOTS, _SHOTS.c.shot),
    *newest_entries(),
)
_OF_ALL = Prepared(_ALL)
_OF_PRESS = Prepared(_ALL.where(_PRESSES.c.name == bindparam("press")))


def how_far(press: str) -> Asked:
    """Return the question how far a press is judged; `far_of` reads the answer."""
    return _OF_PRESS, {"press": press}


def far_of(rows: list[Row]) -> HowFar | None:
    """Return what the answer says, None where the log has not met the press."""
    return _far(rows[0]) if rows else None


def how_far_all(connection: Connection) -> dict[str, HowFar]:
    """Return how far each press of a log is judged, by name."""
    return {row[0]: _far(row) for row in _OF_ALL.all(connection)}


def _far(row: Row) -> HowFar:
    _, press_id, judging_id, basis, through, last, *entries = row
    return HowFar(press_id, None if judging_id is None else (judging_id, basis), through, last, tuple(entries))
