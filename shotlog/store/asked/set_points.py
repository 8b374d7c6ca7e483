"""What a press is set to, or was at a shot: by name, each since which shot."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import func, select

from shotlog.records import EVER
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["SetInForce", "set_points_at"]


@dataclass(frozen=True, slots=True)
class SetInForce:
    """What one thing is set to at a shot, as a person reads it; `value` is empty where it was not read.

    `since`: the first shot that was made with it, or at which it could not be read. `by`: who did it, where the press
    says so. `is_change`: it was something else before; else `since` is the first shot at which it was read.
    """

    name: str
    value: str
    unit: str
    since: int
    by: str
    is_change: bool


def set_points_at(log: Log, press: str, shot: int = EVER) -> list[SetInForce]:
    """Return what a press was set to at a shot, by default now, in the order in which the names came into the log."""
    table = schema.set_points
    of_press = table.join(schema.presses)
    newest = (
        select(
            table.c.press_id,
            table.c.name,
            func.max(table.c.shot).label("shot"),
            func.min(table.c.id).label("first"),
        )
        .select_from(of_press)
        .where(schema.presses.c.name == press, table.c.shot <= min(shot, EVER))
        .group_by(table.c.press_id, table.c.name)
        .subquery()
    )
    same = (table.c.press_id == newest.c.press_id) & (table.c.name == newest.c.name) & (table.c.shot == newest.c.shot)
    query = select(table).join(newest, same).order_by(newest.c.first, table.c.id)
    with log.reading() as connection:
        rows = {row["name"]: row for row in connection.execute(query).mappings()}
    return [_in_force(row) for row in rows.values()]


def _in_force(row: Mapping[Any, Any]) -> SetInForce:
    return SetInForce(row["name"], row["value"], row["unit"], row["shot"], row["by"], row["old"] is not None)
