"""When a press was not seen: outages, missed shots, faults; and where it stood still."""

from datetime import tzinfo

from shotlog.report.html import Html, paragraph, section, table
from shotlog.review.outages import Outage
from shotlog.review.press import PressReview
from shotlog.wording.incoming import kind_named, missed_said
from shotlog.wording.numbers import counted, span
from shotlog.wording.times import moment

__all__ = ["blind_section"]


def blind_section(review: PressReview, zone: tzinfo) -> Html:
    """Return when the press was not seen, or not as it was, and where it stood still."""
    gaps = [
        (span(gap.first, gap.last), missed_said(gap.n_shots, [gap]), moment(gap.time, zone), gap.reason)
        for gap in review.gaps
    ]
    faults = [(kind_named(k.kind), k.n, moment(k.first, zone), moment(k.last, zone), k.example) for k in review.faults]
    stops = [
        (
            one.at_shot, moment(one.time, zone), "–" if one.minutes is None else f"{one.minutes:.0f} min",
            one.noted or "nobody noted it",
            "not yet" if one.settled_after is None else counted(one.settled_after, "shot"),
        )
        for one in review.stops
    ]  # fmt: skip
    outages = [
        (
            one.how, moment(one.start, zone), "it lasts" if one.end is None else moment(one.end, zone),
            _length(one), one.n_missed, one.detail,
        )
        for one in review.outages
    ]  # fmt: skip
    away = [(moment(one.time, zone), one.detail) for one in review.log_away]
    filled = ", ".join(span(first, last) for first, last in review.filled)
    nothing = (
        paragraph("No shot was missed, the press was seen throughout, and nothing came that could not be taken.")
        if not gaps and not faults and not outages
        else ""
    )
    return section(
        "",
        "Gaps, faults and stops",
        nothing,
        table(("nobody was looking", "from", "until", "for", "shots missed", "detail"), outages, numbers=(4,)),
        table(("the log could not be written until", "since when, why, and what became of the shots"), away),
        table(("missed shots", "n", "noticed", "how"), gaps, numbers=(1,)),
        paragraph(f"Missed, and taken in later from elsewhere: {filled}.") if filled else "",
        _weighed(review),
        table(("kind of fault", "n", "first", "last", "the newest in words"), faults, numbers=(1,)),
        table(("stop before shot", "shot made", "length", "noted", "settled again after"), stops, numbers=(0,)),
        level=3,
    )


def _length(one: Outage) -> str:
    """Return how long an outage was, coarsely: to the second under two minutes."""
    if one.end is None:
        return "–"
    seconds = (one.end - one.start).total_seconds() if one.lasted_s is None else one.lasted_s
    return f"{seconds:.0f} s" if seconds < 120 else f"{seconds / 60:.0f} min"


def _weighed(review: PressReview) -> Html:
    """Say how weighings met shots: each that is doubtful may have put a weight on the wrong shot."""
    counts = review.weighed
    if counts is None:
        return Html("")
    unknown = f" (not known of {counts.n_not_known})" if counts.n_not_known else ""
    have = f"{counts.n_shots} of {counted(review.n_seen, 'shot')} have a weight"
    return paragraph(
        f"{counted(counts.n, 'weighing')}: {counts.n_without_shot} without a shot, {counts.n_ambiguous} where another "
        f"shot fitted as well{unknown}, {counts.n_by_hand} matched by hand. {have}."
    )
