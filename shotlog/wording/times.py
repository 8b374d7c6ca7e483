"""Times and ages, as screens, report and terminal tell them."""

from datetime import datetime, tzinfo

__all__ = ["ago", "at_time", "clock_time", "moment", "rough_ago", "zone_named"]


def ago(seconds: float) -> str:
    """Return an age in words that change seldom.

    Examples
    --------
    >>> ago(47), ago(250), ago(3 * 3600 + 130), ago(200000)
    ('40 s', '4 min', '3 h 2 min', '2 days')
    """
    if seconds < 60:
        return f"{max(0, int(seconds // 10) * 10)} s"
    minutes = int(seconds // 60)
    if minutes < 60:
        return f"{minutes} min"
    hours, minutes = divmod(minutes, 60)
    if hours < 48:
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    return f"{hours // 24} days"


def rough_ago(then: datetime, now: datetime) -> str:
    """Return how long ago something was, in the largest unit that holds it twice."""
    seconds = (now - then).total_seconds()
    for size, unit in ((86400.0, "d"), (3600.0, "h"), (60.0, "min")):
        if seconds >= 2 * size:
            return f"{seconds / size:.0f} {unit} ago"
    return f"{max(0.0, seconds):.0f} s ago"


def at_time(moment: datetime, now: datetime, *, seconds: bool = False) -> str:
    """Return a time as this computer's wall clock shows it, with the date when it is not today, and the year when it is
    of another; which zone that is, `zone_named` says once a page.
    """
    local, today = moment.astimezone(), now.astimezone().date()
    clock = f"{local:%H:%M:%S}" if seconds else f"{local:%H:%M}"
    if local.date() == today:
        return clock
    return f"{local:%d %b} {clock}" if local.year == today.year else f"{local:%d %b %Y} {clock}"


def zone_named(now: datetime) -> str:
    """Return the zone of this computer's wall clock by its offset: ``UTC+01:00``."""
    return f"UTC{now.astimezone().isoformat()[-6:]}"


def clock_time(at: datetime | None) -> str:
    """Return a time as this computer's wall clock shows it, to the second, with the offset of its zone; empty where it
    is not known.
    """
    return "" if at is None else moment(at, None)


def moment(at: datetime | None, zone: tzinfo | None) -> str:
    """Return a time of day with the offset of the zone it is told in, to the second; without one, of this computer."""
    if at is None:
        return "\N{EN DASH}"
    local = at.astimezone(zone).replace(microsecond=0)
    return f"{local:%Y-%m-%d %H:%M:%S} {local.isoformat()[19:] or '+00:00'}"
