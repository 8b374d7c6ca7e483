"""Where a part is, as far as somebody said."""

from datetime import datetime, tzinfo

from shotlog.review.press import PressReview
from shotlog.wording.numbers import unbroken

__all__ = ["where_of"]


def where_of(review: PressReview, shot: int, now: datetime, zone: tzinfo) -> str:
    """Return where the parts of a shot are: the newest bath they went into; "not noted" where nobody said.

    `now`: the moment of writing, by which a bath is overdue or not. A time is that of `zone`, which the head names.
    """
    mine = [one for one in review.soaks if one.part.shot == shot]
    if not mine:
        return "not noted"
    newest = max(mine, key=lambda one: (one.went_in, one.entry_id))
    if newest.came_out is None:
        late = ", overdue" if newest.overdue_h(now) else ""
        return f"{newest.bath}, due {_minute(newest.due, zone)}{late}"
    left = "" if newest.cleared else ", something of the half is left on it"
    return f"out of {newest.bath} {_minute(newest.came_out, zone)}{left}"


def _minute(at: datetime, zone: tzinfo) -> str:
    """Return a time to the minute, as it is looked up on a wall clock; the year is that of the report."""
    return unbroken(f"{at.astimezone(zone):%d %b %H:%M}")
