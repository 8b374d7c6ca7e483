"""The mountings that a new one corrects: of the same insert, which it re-dates, and for the same half and shot."""

from datetime import datetime

from sqlalchemy import Select, select

from shotlog.records import Mounting
from shotlog.store.log import schema
from shotlog.store.log.corrections import correct, standing
from shotlog.store.log.entered import in_force_from, read_timeline
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.transaction import Transaction

__all__ = ["correct_same_place", "take_back_same_insert"]


def take_back_same_insert(
    work: Transaction, press: str, serial: str, at_shot: int, time: datetime, initials: str
) -> None:
    """Take back the mounting of this insert that `at_shot` re-dates: the one whose stay it starts or lies in."""
    for entry_id, stay_from, stay_to in _stays_of(work, press, serial):
        if at_shot < stay_to:
            if stay_from == at_shot:
                return
            correct(work, schema.mountings, entry_id, f"{serial} re-dated to shot {at_shot}", time, initials)
            from_shot = min(at_shot, stay_from)
            judge_again(work, press, from_shot, f"mounting of {serial} re-dated from shot {stay_from}", time)
            return


def correct_same_place(work: Transaction, new: Mounting) -> None:
    """Take back what was mounted in the half and from the shot of a new mounting."""
    table = schema.mountings
    same_place = (table.c.half == new.half) & (table.c.at_shot == new.at_shot)
    for row in work.connection.execute(_mountings_standing(new.press).where(same_place)).all():
        why = f"replaced by {new.insert.serial}, entered for the same shot"
        correct(work, table, row.id, why, new.time, new.initials)


def _stays_of(work: Transaction, press: str, serial: str) -> list[tuple[int, int, float]]:
    stays = {
        stay.first: stay.end
        for stay in read_timeline(work.connection, press).stays
        if stay.mounting.insert.serial == serial
    }
    rows = work.connection.execute(_mountings_standing(press).where(schema.inserts.c.serial == serial)).all()
    from_shot = {row.id: in_force_from(work.connection, press, row.at_shot) for row in rows}
    return sorted(
        ((number, first, stays[first]) for number, first in from_shot.items() if first in stays),
        key=lambda stay: stay[1],
    )


def _mountings_standing(press: str) -> Select[tuple[int, int]]:
    table = schema.mountings
    query = select(table.c.id, table.c.at_shot).join(schema.presses).join(schema.inserts)
    return query.where(schema.presses.c.name == press, standing(table))
