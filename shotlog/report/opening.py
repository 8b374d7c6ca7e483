"""The first two pages: what somebody who was not there must know to act; all that follows is evidence."""

from collections.abc import Iterator
from datetime import tzinfo

from shotlog.report.day import day_picture
from shotlog.report.decisions import decisions_section
from shotlog.report.five_lines import five_lines
from shotlog.report.html import Html, items, joined, note, section, text
from shotlog.report.sign_off import sign_off
from shotlog.report.to_inspect import inspect_section
from shotlog.review import Review
from shotlog.wording.times import moment

__all__ = ["opening", "trial_names"]

_STRIPS = (3, 2, 1)
"""Measured values in the picture of each press, by how many presses there are; of more presses the ribbon alone."""


def opening(review: Review, zone: tzinfo) -> Iterator[Html]:
    """Yield title, decisions, what happened, a picture a press, what to inspect first, and the lines to sign."""
    yield Html('<div id="first-pages">\n')
    yield _head(review, zone)
    if not review.presses:
        yield section("decisions", "Nothing to decide", items(_nothing(review)))
    else:
        yield decisions_section(review)
        yield section("happened", "What happened", five_lines(review))
        yield _pictures(review)
        yield inspect_section(review, zone)
        yield sign_off(review)
    yield Html("</div>\n")


def _head(review: Review, zone: tzinfo) -> Html:
    about = dict.fromkeys(part for trial in review.trials for part in (trial.part, trial.resin) if part)
    lead = [
        f"{' · '.join(about)}. " if about else "",
        _period(review, zone),
        f" Written {moment(review.made_at, zone)}.",
    ]
    return joined(
        [
            Html(f"<h1>{text('Review of ' + trial_names(review))}</h1>\n"),
            Html(f'<p class="lead">{joined(lead)}</p>\n'),
            _damage(review),
            Html(f'<p class="caution">{text(review.caution)}</p>\n'),
        ]
    )


def trial_names(review: Review) -> str:
    """Return the trials the shots were logged under."""
    return ", ".join(dict.fromkeys(trial.name for trial in review.trials if trial.name)) or "the log"


def _period(review: Review, zone: tzinfo) -> str:
    asked = f"Since {moment(review.since, zone)}. " if review.since else "The whole log. "
    if not review.presses:
        return asked
    first, last = min(one.start for one in review.presses), max(one.end for one in review.presses)
    return f"{asked}Shots from {moment(first, zone)} to {moment(last, zone)}."


def _damage(review: Review) -> Html:
    if not review.log.damage:
        return Html("")
    return Html(
        f'<p class="broken">The log does not verify: {text(review.log.damage)}. '
        "What follows was read from it as it is.</p>\n"
    )


def _nothing(review: Review) -> list[str]:
    return [
        "No shot was stored in this period, so there is nothing to review.",
        f"Presses without a shot: {', '.join(review.silent) or 'none configured'}.",
        "The lives of inserts below are those of the whole log, as far as it has any.",
    ]


def _pictures(review: Review) -> Html:
    n = _STRIPS[len(review.presses) - 1] if len(review.presses) <= len(_STRIPS) else 0
    figures = [
        joined([Html("<figure>"), day_picture(one, review.ledger, n), Html("</figure>\n")]) for one in review.presses
    ]
    return section(
        "day",
        "One picture a press",
        *figures,
        note(
            "Verdicts: dots settling, empty keep, hatched watch, filled swap. Held: hatched parts wait for a decision, "
            "an empty bar is decided on or no longer doubted. Dotted upright: onset; dash-dotted: swap."
        ),
    )
