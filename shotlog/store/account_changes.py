"""What became of accounts, as the log has it: whoever reads its entries can tell whose accounts there were."""

from collections.abc import Sequence
from dataclasses import asdict

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.records import AccountChange
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["account_changes", "append_account_changes"]

_COLUMNS = ("account", "initials", "role", "change", "by", "time")


def append_account_changes(log: Log, changes: Sequence[AccountChange]) -> None:
    """Append changes; one that stands there already, as after a crash on the way, is not entered twice."""
    known = set(account_changes(log))
    new = [one for one in changes if one not in known]
    if new:
        with log.transaction() as work:
            for one in new:
                work.add(schema.account_changes, **{**asdict(one), "time": iso_utc(one.time)})


def account_changes(log: Log) -> list[AccountChange]:
    """Return every change, in the order of the log; none of a log of an earlier release."""
    table = schema.account_changes
    with log.reading() as connection:
        rows = connection.execute(select(*(table.c[name] for name in _COLUMNS)).order_by(table.c.id)).mappings()
        return [AccountChange(**{**row, "time": parse_utc(row["time"])}) for row in rows]
