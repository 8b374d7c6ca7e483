"""Plain shots for a log: one a minute from `START` on, alike but for their number."""

from datetime import UTC, datetime, timedelta

from shotlog.records import Shot

__all__ = ["START", "moulded", "shot", "shots"]

START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def moulded(number: int) -> datetime:
    """Return when a shot was made."""
    return START + timedelta(minutes=number)


def shot(number: int, press: str = "P25", cushion: float = 4.97) -> Shot:
    """Return a shot of a press whose counter has 16 bits."""
    return Shot(press, number, number % 65536, moulded(number), {"cushion": cushion})


def shots(first: int, last: int, press: str = "P25", cushion: float = 4.97) -> list[Shot]:
    """Return the shots from `first` to `last`."""
    return [shot(number, press, cushion) for number in range(first, last + 1)]
