"""Where a part is, as far as somebody said."""

from datetime import datetime, tzinfo

from shotlog.parts.part import Part
from shotlog.review.press import PressReview
from shotlog.store.parts.places import WhereIs
from shotlog.wording.numbers import unbroken

__all__ = ["where_of"]


def where_of(review: PressReview, shot: int, now: datetime, zone: tzinfo) -> str:
    """Return where the parts of a shot are: the newest of place and bath; "not noted" where nobody said.

    `now`: the moment of writing, by which a bath is overdue or not. A time is that of `zone`, which the head names.
    """
    where = WhereIs(review.places, review.soaks).of(Part(review.press, shot))
    if where is None:
        return "not noted"
    if where.how == "out of bath":
        left = "" if where.cleared else ", something of the half is left on it"
        return f"out of {where.name} {_minute(where.since, zone)}{left}"
    late = ", overdue" if where.overdue_h(now) else ""
    return where.name if where.due is None else f"{where.name}, due {_minute(where.due, zone)}{late}"


def _minute(at: datetime, zone: tzinfo) -> str:
    """Return a time to the minute, as it is looked up on a wall clock; the year is that of the report."""
    return unbroken(f"{at.astimezone(zone):%d %b %H:%M}")
