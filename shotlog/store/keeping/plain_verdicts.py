"""Which verdicts of a finished trial go into its archive: such as say *no change seen* and as nothing reads again.

What else a verdict tells is read again later, and stays: calls and what they hold; shots held back as odd; what a swap
has shown; settling; the first and the last of an unbroken run, which say from where to where nothing was seen; those
of shots judged more than once, or inspected; and the newest of each press, up to which it counts as judged, and whose
number must not be given away twice.
"""

from collections.abc import Sequence

from sqlalchemy import ColumnElement, Connection, and_, exists, func, literal, not_, or_, select

from shotlog.store.log import schema

__all__ = ["plain_verdicts"]

_TOLD = ("odd_shot", "at_shot", "found", "asked", "noted")
"""Facts of a verdict that are looked for when parts are held or let go."""


def plain_verdicts(connection: Connection, trial_ids: Sequence[int], upto: int) -> dict[int, list[int]]:
    """Return the verdicts of some trials that go, by link of the chain: only of links that hold nothing else.

    `upto`: of so many transactions, those that the archive has.
    """
    plain = set(connection.execute(select(schema.verdicts.c.id).where(_plain(trial_ids))).scalars())
    ledger = schema.ledger
    links = select(ledger.c.id, ledger.c.rows).order_by(ledger.c.id).limit(upto).execution_options(yield_per=5000)
    going: dict[int, list[int]] = {}
    start = f"{schema.verdicts.name}:"
    for link, rows in connection.execute(links):
        names = rows.split()
        if all(name.startswith(start) for name in names):
            ids = [int(name.removeprefix(start)) for name in names]
            if all(one in plain for one in ids):
                going[link] = ids
    return going


def _plain(trial_ids: Sequence[int]) -> ColumnElement[bool]:
    table, shots, inspections = schema.verdicts, schema.shots, schema.inspections
    other, newer = table.alias("other"), table.alias("newer")
    same = table.c.press_id
    told = or_(*(table.c.facts.like(f'%"{name}"%') for name in _TOLD))
    return and_(
        table.c.verdict == "keep",
        not_(table.c.settling),
        table.c.signals == "",
        table.c.onset.is_(None),
        func.coalesce(table.c.others, "") == "",
        func.coalesce(table.c.limits, "") == "",
        not_(func.coalesce(told, literal(False))),
        exists().where(shots.c.press_id == same, shots.c.shot == table.c.shot, shots.c.trial_id.in_(trial_ids)),
        _alike(before=True),
        _alike(before=False),
        ~exists().where(other.c.press_id == same, other.c.shot == table.c.shot, other.c.id != table.c.id),
        ~exists().where(inspections.c.press_id == same, inspections.c.shot == table.c.shot),
        exists().where(newer.c.press_id == same, newer.c.id > table.c.id, newer.c.shot > table.c.shot),
    )


def _alike(before: bool) -> ColumnElement[bool]:
    """Return the condition that the verdict next to it, before or after, says the same of the same insert."""
    table = schema.verdicts
    near, beside = table.alias("near"), table.alias("beside")
    nearest = func.max(near.c.shot) if before else func.min(near.c.shot)
    shot = (
        select(nearest)
        .where(near.c.press_id == table.c.press_id, near.c.judging_id == table.c.judging_id)
        .where(near.c.shot < table.c.shot if before else near.c.shot > table.c.shot)
        .correlate(table)
        .scalar_subquery()
    )
    return exists().where(
        beside.c.press_id == table.c.press_id,
        beside.c.judging_id == table.c.judging_id,
        beside.c.shot == shot,
        beside.c.verdict == "keep",
        not_(beside.c.settling),
        beside.c.insert == table.c.insert,
    )
