"""Which bags, boxes and shelves hold which parts, so that none has to be looked for."""

from datetime import datetime, tzinfo

from shotlog.parts.part import spans_of
from shotlog.report.html import Html, section, table
from shotlog.review.press import PressReview
from shotlog.store.parts.places import WhereIs
from shotlog.wording.numbers import shots
from shotlog.wording.times import moment
from shotlog.wording.who import who_said

__all__ = ["places_section"]


def places_section(review: PressReview, now: datetime, zone: tzinfo) -> Html:
    """Return the places in which parts of the period are by now, nothing where nobody said; `now`: what is overdue."""
    where = WhereIs(review.places, review.soaks)
    rows = []
    for said in where.places:
        there = where.still_at(said)
        spans = ", ".join(shots(first.shot, last.shot) for first, last in spans_of(there))
        cavity = "" if said.cavity in (None, 1) else f", cavity {said.cavity}"
        due = "–" if said.due is None else moment(said.due, zone)
        late = ", overdue" if said.due is not None and said.due < now else ""
        if there:
            put = moment(said.put, zone)
            who = who_said(review.who("place", said.entry_id))
            rows.append((said.place, f"{spans}{cavity}", len(there), put, f"{due}{late}", who))
    if not rows:
        return Html("")
    heads = ("place", "parts of shots", "n", "since", "due", "by")
    return section("", "Where parts were put", table(heads, rows, numbers=(2,)), level=3)
