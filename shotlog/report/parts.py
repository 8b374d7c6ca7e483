"""The parts of one press: which are in doubt, what was found on those looked at, which are in a bath."""

from collections.abc import Iterable
from datetime import datetime, tzinfo
from itertools import groupby

from shotlog.cautions import CAUSTIC
from shotlog.parts.inspection import Inspection
from shotlog.report.html import Html, items, note, paragraph, section, table
from shotlog.report.places import places_section
from shotlog.review.costs import PartCounts
from shotlog.review.press import PressReview
from shotlog.review.shared import Shared
from shotlog.review.suspects import Suspects
from shotlog.store.parts.soaks import Soak
from shotlog.wording.numbers import cost, counted, span, unbroken
from shotlog.wording.parts import held_text, lifted_text, result_text
from shotlog.wording.times import moment
from shotlog.wording.who import who_said

__all__ = ["parts_sections"]

_CHANCE = 0.5
"""What bad parts share with at least this chance says nothing, and is left out."""

_DOUBTED = 2
"""What parts in doubt share, at most: they are whole runs of shots, and share whatever was in force over them."""


def parts_sections(review: PressReview, now: datetime, zone: tzinfo) -> tuple[Html, ...]:
    """Return the sections about parts; `now` is the moment of writing, by which a bath is overdue or not."""
    found = _doubts(review), _looked_at(review, zone), _shared(review)
    return *found, _bath(review, now, zone), places_section(review, now, zone)


def _doubts(review: PressReview) -> Html:
    rows = [
        (
            span(one.first, one.last), unbroken(one.insert or "–"),
            _onset(one), one.parts.made, parts_text(one.parts),
            one.ended_by if one.called else one.reason, _earlier(one),
        )
        for one in review.suspects
    ]  # fmt: skip
    heads = (
        "parts of shots",
        "because of",
        "onset (interval)",
        "n",
        "how they stand",
        "found, or why the span ends",
        "10 shots earlier",
    )
    if not rows:
        nothing = paragraph("None: no change was called and no part was found bad.")
        return section("", "Parts in doubt", nothing, _lifted(review), level=3)
    return section("", "Parts in doubt", table(heads, rows, numbers=(3,)), _lifted(review), level=3)


def parts_text(parts: PartCounts) -> str:
    """Return how parts stand, in words."""
    return held_text(parts.held, parts.released, parts.scrapped, parts.open)


def _onset(one: Suspects) -> str:
    if not one.called:
        return "–"
    if one.onset_low == one.onset_high:
        return f"{one.onset}"
    return f"{one.onset} ({span(one.onset_low, one.onset_high)})"


def _lifted(review: PressReview) -> Html:
    """Say which parts were in doubt once: somebody may have set them aside."""
    if not review.lifted:
        return Html("")
    told = [
        f"{span(one.first, one.last)} ({one.serial or 'no insert on record'}): {lifted_text(one)}."
        for one in review.lifted
    ]
    return paragraph("Once in doubt and no longer, by a later date of the change or a later judging:") + items(told)


def _earlier(one: Suspects) -> str:
    if not one.earlier:
        return "–"
    price = f", up to {cost(one.earlier_cost)}" if one.earlier_cost is not None else ""
    return unbroken(f"{one.earlier} more parts{price}")


def _looked_at(review: PressReview, zone: tzinfo) -> Html:
    seen = review.inspected
    if not seen:
        return Html("")
    bad = [one for one in seen if one.bad]
    n = len({one.part for one in seen})
    return section(
        "",
        "Parts looked at",
        paragraph(
            f"{counted(n, 'part')} inspected, {counted(len({one.part for one in bad}), 'of them', 'of them')} bad."
        ),
        table(("part of shot", "found", "on the half", "inspected", "by"), [_found(review, one, zone) for one in bad]),
        level=3,
    )


def _shared(review: PressReview) -> Html:
    """Say what bad parts have in common, and parts in doubt."""
    doubted = [one for one in review.shared if one.parts == "in doubt"][:_DOUBTED]
    rows = [
        (
            one.parts, one.factor, one.value, f"{one.n} of {one.of}", f"{one.n_others} of {one.of_others}",
            _chance(one),
        )
        for one in review.shared
        if one in doubted or (one.parts == "bad" and (one.p is None or one.p < _CHANCE))
    ]  # fmt: skip
    if not rows:
        return Html("")
    tried = max(one.tried for one in review.shared)
    return section(
        "",
        "What they have in common",
        table(("parts", "by", "which", "of these", "of the others", f"chance (p), {tried} tried"), rows),
        level=3,
    )


def _chance(one: Shared) -> str:
    if one.p is None:
        return "–"
    return ("below 0.001" if one.p < 0.001 else f"{one.p:.3f}") + (", told" if one.told else "")


def _found(review: PressReview, one: Inspection, zone: tzinfo) -> tuple[object, ...]:
    part = f"{one.part.shot}" if one.part.cavity == 1 else f"{one.part.shot}, cavity {one.part.cavity}"
    return (
        part,
        result_text(one),
        one.half or "not said",
        moment(one.inspected, zone),
        who_said(review.who("inspection", one.entry_id)),
    )


def _bath(review: PressReview, now: datetime, zone: tzinfo) -> Html:
    if not review.soaks:
        return Html("")
    rows = [
        (
            one.bath,
            _spans(soak.part.shot for soak in alike),
            len(alike),
            moment(one.went_in, zone),
            *_state(one, now, zone),
        )
        for one, alike in _alike(review.soaks)
    ]
    heads = ("bath", "parts of shots", "n", "in", "due", "state")
    return section("", "In the bath", table(heads, rows, numbers=(2,)), note(CAUSTIC), level=3)


def _alike(soaks: tuple[Soak, ...]) -> list[tuple[Soak, list[Soak]]]:
    """Return stays that began and ended together as one, in the order they went in."""

    def key(one: Soak) -> tuple[str, ...]:
        return (one.went_in.isoformat(), one.bath, one.due.isoformat(), str(one.came_out), str(one.cleared))

    groups = [list(found) for _, found in groupby(sorted(soaks, key=key), key)]
    return [(found[0], found) for found in groups]


def _state(one: Soak, now: datetime, zone: tzinfo) -> tuple[str, str]:
    due = moment(one.due, zone)
    if one.came_out is not None:
        return due, f"out {moment(one.came_out, zone)}, {'cleared' if one.cleared else 'not all gone'}"
    late = one.overdue_h(now)
    return due, f"in the bath, overdue by {late:.1f} h" if late > 0 else "in the bath"


def _spans(numbers: Iterable[int]) -> str:
    """Return shots as spans, e.g. 3 to 7, 9."""
    spans: list[list[int]] = []
    for shot in sorted(set(numbers)):
        if spans and spans[-1][1] == shot - 1:
            spans[-1][1] = shot
        else:
            spans.append([shot, shot])
    return ", ".join(span(first, last) for first, last in spans)
