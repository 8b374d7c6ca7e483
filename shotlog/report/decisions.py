"""The decisions to take: which parts wait for one, why, which of them to look at, and a box to tick by hand.

A box ticked on paper decides nothing: how to enter it stands below the table.
"""

from collections.abc import Iterator

from shotlog.report.html import Html, joined, note, paragraph, section, table, text
from shotlog.review import Review
from shotlog.review.held import HeldGroup
from shotlog.review.press import PressReview
from shotlog.wording.numbers import counted, span
from shotlog.wording.parts import decision_text, doubt_text, seen_by
from shotlog.wording.who import by_whom

__all__ = ["decisions_section", "rest_section"]

_SHOWN = 12
"""Rows on the first page: more would push what happened off it. The rest stands with its press, and is counted."""

_LOOKS = 3
"""Parts named to look at for one decision; the rest of what tells much stands under *What to inspect first*."""

_REASONS, _FEW = 2, 6
"""Reasons told of one span, where there are few spans; of more only the main one, what people saw and who did, and how
many there are besides."""

_BOX = Html('<span class="box"></span>')


def decisions_section(review: Review) -> Html:
    """Return the decisions to take, as many as the first page has room for."""
    every = [(press, one) for press in review.presses for one in press.held]
    chosen = _chosen(review)
    shown = [pair for pair in every if pair in chosen]
    return section(
        "decisions",
        "Decisions to take",
        _nothing(review) if not shown else "",
        table(
            ("parts", "n", "why they are held", "look first at", "release", "scrap", "inspect", "initials, date"),
            [(*row, _BOX, _BOX, _BOX, Html("&nbsp;")) for row in _held_rows(shown)],
            numbers=(1,),
        ),
        note(*_how(review, len(every) - len(shown))) if shown else "",
    )


def rest_section(review: Review, press: PressReview) -> Html:
    """Return the spans of a press that are held and stand not on the first page; nothing where all do."""
    chosen = _chosen(review)
    rest = [(press, one) for one in press.held if (press, one) not in chosen]
    heads = ("parts", "n", "why they are held", "look first at")
    listed = table(heads, _held_rows(rest), numbers=(1,))
    return section("", "Parts held, beside those on the first page", listed, level=3) if rest else Html("")


def _chosen(review: Review) -> list[tuple[PressReview, HeldGroup]]:
    """Return the spans for the first page: those that people found wrong, then the largest, of equals the newest."""
    every = [(press, one) for press in review.presses for one in press.held]
    return sorted(every, key=lambda pair: (not pair[1].by_people, -pair[1].n, -pair[1].last))[:_SHOWN]


def _held_rows(shown: list[tuple[PressReview, HeldGroup]]) -> Iterator[tuple[object, ...]]:
    """Yield a row for parts that are held alike: which, how many, why, and which of them to look at first."""
    n_told = _REASONS if len(shown) <= _FEW else 1
    for press, one in shown:
        parts = joined([Html(f"<strong>{text(press.press)}</strong>\u00a0"), _spans_text(one)])
        yield parts, one.n, _why(press, one, n_told), _looks(press, one)


def _spans_text(one: HeldGroup) -> str:
    """Return the shots of held parts, with the cavities where not all are meant."""
    shots = ", ".join(span(first, last) for first, last in one.spans)
    return shots + (f" (cavity {', '.join(map(str, one.cavities))})" if one.cavities else "")


def _looks(press: PressReview, one: HeldGroup) -> str:
    """Return what to look at for a decision, what tells most first: parts of its own, and such as end just before it.

    The part before the first is not held with them: it shows what they were before, and that is said.
    """
    firsts = {first for first, _ in one.spans}
    elsewhere = [span for group in press.held if group is not one for span in group.spans]
    named = []
    for shot in (look.shot for look in press.inspect_first):
        if any(first <= shot <= last for first, last in one.spans):
            named.append(f"{shot}")
        elif shot + 1 in firsts and not any(first <= shot <= last for first, last in elsewhere):
            named.append(f"{shot} (the one before)")
    return ", ".join(named[:_LOOKS])


def _why(press: PressReview, one: HeldGroup, n_told: int) -> str:
    said = [doubt_text(doubt) for doubt in one.against[:n_told]]
    left = one.against[n_told:]
    seen = dict.fromkeys(seen_by(doubt.wrong) for doubt in left if doubt.wrong is not None and doubt.wrong.initials)
    said += [f"also seen: {each}" for each in seen if not any(each in told for told in said)]
    more = sum(doubt.wrong is None or not doubt.wrong.initials for doubt in left)
    if more:
        said.append(f"and {counted(more, 'more reason')}")
    if one.decision is not None:
        who = by_whom(press.who("decision", one.decision.entry_id))
        said.append(f"{'held again; before that ' if one.again else ''}{decision_text(one.decision)}{who}")
    return "; ".join(said) or "a person holds them"


def _nothing(review: Review) -> Html:
    made = sum(one.parts.made for one in review.presses)
    return paragraph(f"None: none of {counted(made, 'part')} of this period is held.")


def _how(review: Review, n_more: int) -> Iterator[str]:
    if n_more:
        yield f"{counted(n_more, 'span')} more, under Parts held of its press. "
    decided = [(n, word) for n, word in _decided(review) if n]
    if decided:
        yield f"Decided by now: {', '.join(f'{n} {word}' for n, word in decided)}. "
    yield (
        "Held parts stay held until somebody decides. A box ticked here decides nothing in the log: enter it on the "
        "page Parts and baths, or with shotlog parts (--release, --scrap, --hold) and your initials."
    )


def _decided(review: Review) -> list[tuple[int, str]]:
    released = sum(one.parts.released for one in review.presses)
    return [(released, "released"), (sum(one.parts.scrapped for one in review.presses), "scrapped")]
