"""The half that a finding names: what it says holds parts made on what is in that half, so something has to be."""

from sqlalchemy import Connection

from shotlog.errors import UsageError
from shotlog.store.log.entered import in_force_from, read_timeline

__all__ = ["refuse_empty_half"]


def refuse_empty_half(connection: Connection, press: str, half: str, at_shot: int) -> None:
    """Refuse a half in which nothing was at a shot, where it is on record what was in the others.

    Where nothing at all is on record, people have not entered yet what they run, and may do so later.

    Raises
    ------
    UsageError
        Nothing was in it.
    """
    if not half:
        return
    at = in_force_from(connection, press, at_shot)
    there = read_timeline(connection, press).stays_at(at)
    if there and half not in there:
        held = ", ".join(f"{name} ({stay.mounting.insert.serial})" for name, stay in sorted(there.items()))
        raise UsageError(f"half: given {half!r}, in which nothing was in {press} at shot {at}, allowed: {held}")
