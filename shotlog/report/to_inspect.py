"""What to inspect first: the parts that tell most, why, and where they are."""

from datetime import datetime, tzinfo

from shotlog.report.html import Html, joined, note, paragraph, section, table, text
from shotlog.report.where import where_of
from shotlog.review import Review
from shotlog.review.look_first import ToInspect
from shotlog.review.press import PressReview
from shotlog.wording.numbers import counted

__all__ = ["inspect_section"]

_SHOWN = 10
"""Rows on the second page: what one person can look at in a morning, and what leaves room for two pictures (own)."""


def inspect_section(review: Review, zone: tzinfo) -> Html:
    """Return what to inspect first, the part that tells most on top: who has time for three looks at the first three.

    Presses take turns.
    """
    every = [(one, n, look) for one in review.presses for n, look in enumerate(one.inspect_first)]
    chosen = [(one, look) for one, _, look in sorted(every, key=lambda each: each[1])[:_SHOWN]]
    rows = [_row(press, look, review.made_at, zone) for press, look in chosen]
    if not rows:
        return section("inspect", "What to inspect first", paragraph("No part tells more than another."))
    return section(
        "inspect",
        "What to inspect first",
        table(("part", "why", "where it is", "found", "initials"), rows),
        note(
            f"{counted(len(every) - len(rows), 'part')} more would tell something. " if len(every) > len(rows) else "",
            "Enter what was found on the page Parts and baths, or with shotlog inspect. A part found sound here says "
            "nothing of its neighbours.",
        ),
    )


def _row(press: PressReview, look: ToInspect, now: datetime, zone: tzinfo) -> tuple[object, ...]:
    part = joined([Html(f"<strong>{text(press.press)}</strong>\u00a0"), look.shot])
    return part, "; ".join(look.why), where_of(press, look.shot, now, zone), Html("&nbsp;"), Html("&nbsp;")
