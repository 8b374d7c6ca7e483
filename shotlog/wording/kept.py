"""What waits for the log, and how much room there is for it, in words."""

from datetime import datetime

from shotlog.wording.numbers import some
from shotlog.wording.times import clock_time

__all__ = ["bytes_said", "room_said", "set_aside_said", "space_said", "waiting_said"]

_LOW = ("", "low", "NEARLY FULL")


def waiting_said(n: int, place: object, since: datetime | None = None, why: str = "", unsafe: int = 0) -> str:
    """Say how many shots wait in the journal, since when and why, and how many are not safe; empty where none is.

    Examples
    --------
    >>> waiting_said(1, "day.journal")
    '1 shot waits in the journal day.journal, not in the log yet; it is on disk, and goes in when it can be written'
    >>> waiting_said(0, "trial.db.press.journal", unsafe=2)
    '2 shots are IN MEMORY ONLY and not safe yet: make room, do not switch off'
    """
    parts = []
    if n:
        it, goes = ("it is", "goes") if n == 1 else ("they are", "go")
        began = "" if since is None else f" since {clock_time(since)}"
        because = f" ({why})" if why else ""
        waits = f"{some(n, 'shot')} {'waits' if n == 1 else 'wait'}"
        parts.append(
            f"{waits} in the journal {place}{began}, not in the log yet{because}; "
            f"{it} on disk, and {goes} in when it can be written"
        )
    if unsafe:
        are = "is" if unsafe == 1 else "are"
        parts.append(f"{some(unsafe, 'shot')} {are} IN MEMORY ONLY and not safe yet: make room, do not switch off")
    return "; ".join(parts)


def set_aside_said(place: object) -> str:
    """Say that something of the journal did not read."""
    return (
        f"a line of the journal did not read and lies in {place}; what it held is not in the log. Keep that file, and "
        "move it away when you have looked at it"
    )


def bytes_said(n: int) -> str:
    """Return an amount of storage.

    Examples
    --------
    >>> bytes_said(68_900_000_000), bytes_said(1_260_000_000), bytes_said(80_000_000), bytes_said(12)
    ('69 GB', '1.3 GB', '80 MB', '0 MB')
    """
    if n >= 10_000_000_000:
        return f"{n / 1e9:.0f} GB"
    return f"{n / 1e9:.1f} GB" if n >= 1_000_000_000 else f"{n / 1e6:.0f} MB"


def room_said(
    what: str, folder: str, free_bytes: int, shots: int | None, hours: float | None, reserve: int | None = None
) -> str:
    """Say how much room a disk has, and for how many shots; `reserve`: what the journal on it has besides, if that is
    to be said.

    Examples
    --------
    >>> room_said("the log", "/data", 80_000_000, 22_222, 51.2)
    'disk of the log (/data): 80 MB free, enough for about 22,000 shots, or 51 h as it grows now'
    >>> room_said("the log and the journal", "/data", 12, 0, None, 20_000)
    'disk of the log and the journal (/data): 0 MB free; the reserve of the journal still takes about 20,000 shots'
    """
    enough = f", enough for about {_rough(shots):,} shots" if shots else ""
    as_now = f", or {hours:.0f} h as it grows now" if shots and hours is not None else ""
    besides = "" if reserve is None else f"; {_reserve_said(reserve)}"
    return f"disk of {what} ({folder}): {bytes_said(free_bytes)} free{enough}{as_now}{besides}"


def _reserve_said(reserve: int) -> str:
    if not reserve:
        return "the journal has no reserve for shots (not taken, or used up)"
    return f"the reserve of the journal still takes about {_rough(reserve):,} shots"


def space_said(
    what: str,
    folder: str,
    free_bytes: int,
    shots: int | None,
    hours: float | None,
    low: int,
    reserve: int | None = None,
) -> str:
    """Say that a disk is low, and what to do; empty where it is not.

    Examples
    --------
    >>> space_said("the log", "/data", 80_000_000, 22_222, None, 2)
    'NEARLY FULL: disk of the log (/data): 80 MB free, enough for about 22,000 shots; make room there'
    """
    return f"{_LOW[low]}: {room_said(what, folder, free_bytes, shots, hours, reserve)}; make room there" if low else ""


def _rough(n: int) -> int:
    """Return a number to two figures."""
    step: int = 10 ** max(0, len(str(n)) - 2)
    return n // step * step
