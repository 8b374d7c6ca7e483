"""The head of the report: what this is, and the few sentences somebody in a hurry needs."""

from datetime import tzinfo

from shotlog.report.html import Html, items, joined, text
from shotlog.review import Review
from shotlog.review.costs import PartCounts
from shotlog.review.press import PressReview
from shotlog.wording.numbers import counted, number, span
from shotlog.wording.parts import held_text, why_out
from shotlog.wording.times import moment

__all__ = ["opening", "parts_text", "trial_names"]

_NAMED = 6
"""Bad parts named in the summary; the rest stands further down."""


def opening(review: Review, zone: tzinfo) -> Html:
    """Return title, period and summary."""
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
            Html(f'<p class="caution">{text(review.caution)}</p>\n'),
            _damage(review),
            Html('<div class="short"><strong>In short</strong>\n') + items(_short(review)) + Html("</div>\n"),
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


def _short(review: Review) -> list[Html]:
    if not review.presses:
        return [
            text("No shot was stored in this period, so there is nothing to review."),
            text(f"Presses without a shot: {', '.join(review.silent) or 'none configured'}."),
            text("The lives of inserts below are those of the whole log, as far as it has any."),
        ]
    lines = [_press_line(one) for one in review.presses]
    if review.silent:
        lines.append(text(f"Without a shot in this period: {', '.join(review.silent)}."))
    lines += [line for one in review.presses for line in _doubt_lines(one)]
    lines += [line for one in review.presses for line in _swap_lines(one)]
    lines.append(_blind(review))
    return lines


def _press_line(one: PressReview) -> Html:
    inserts = counted(len({s for stretch in one.stretches for s in stretch.halves.values()}), "reused insert")
    pieces = sum(series.n_pieces for series in one.pieces.series)
    also = f" and {counted(pieces, 'single-use piece')}" if pieces else ""
    return joined(
        [
            Html(f"<strong>{text(one.press)}</strong>: "),
            f"{counted(one.n_seen, 'shot')} ({span(one.first, one.last)}) on {inserts}{also}; "
            f"{counted(one.n_settling, 'of them was', 'of them were')} settling and not judged. "
            f"Parts: {parts_text(one.parts)}.",
        ]
    )


def parts_text(parts: PartCounts) -> str:
    """Return how parts stand, in words."""
    return held_text(parts.held, parts.released, parts.scrapped, parts.open)


def _doubt_lines(one: PressReview) -> list[Html]:
    standing = [s for s in one.suspects if not s.withdrawn]
    lines = [] if standing else [text(f"{one.press}: no call stands against any part.")]
    undecided = sum(s.parts.held for s in one.suspects if s.withdrawn)
    if undecided:
        calls = counted(sum(s.withdrawn for s in one.suspects), "call that was", "calls that were")
        lines.append(
            text(f"{one.press}: {counted(undecided, 'part')} held for {calls} withdrawn later, to be decided on.")
        )
    bad = sorted({result.part.shot for result in one.inspected if result.bad})
    if bad:
        named = ", ".join(map(str, bad[:_NAMED])) + (" and more" if len(bad) > _NAMED else "")
        lines.append(Html(f"<strong>{text(one.press)}: {counted(len(bad), 'part')} found bad</strong> ({named})."))
    for n, s in enumerate(standing):
        if any(other.first <= s.first and s.last <= other.last for other in standing[:n]):
            continue
        edge = f", onset about {s.onset} ({s.onset_low} to {s.onset_high})" if s.onset_high > s.onset_low else ""
        lines.append(
            joined(
                [
                    Html(f"<strong>{text(one.press)}, {_parts_are(s.first, s.last)} in doubt</strong> "),
                    f"({s.insert or 'a bad part'}{edge}): {parts_text(s.parts)}.",
                ]
            )
        )
    return lines


def _parts_are(first: int, last: int) -> str:
    return f"part {first} is" if first == last else f"parts {span(first, last)} are"


def _swap_lines(one: PressReview) -> list[Html]:
    said = {
        "came back": "the level came back, which confirms it",
        "stayed": "the level stayed, so it was not that insert",
        "nothing had moved": "no level had moved before it",
        "not resolved": "what it showed is not resolved",
    }
    return [
        text(
            f"{one.press}, shot {swap.at_shot}: {swap.out} came out "
            f"({why_out(swap.reason, swap.replaced_by) or 'no reason given'}); {said[swap.outcome]}."
        )
        for swap in one.swaps
    ]


def _blind(review: Review) -> Html:
    missed = sum(one.n_missed for one in review.presses)
    faults = sum(kind.n for one in review.presses for kind in one.faults)
    away = sum(len(one.outages) for one in review.presses)
    seen = f"; {counted(away, 'time')} nobody was looking" if away else ""
    told = f"{counted(missed, 'shot')} missed, {counted(faults, 'fault')}{seen}."
    return text(f"{told[0].upper()}{told[1:]} {_saved(review)}")


def _saved(review: Review) -> str:
    late = sum(e.hindsight.late for e in review.ledger.entries if e.hindsight is not None)
    early = sum(e.hindsight.early or 0.0 for e in review.ledger.entries if e.hindsight is not None)
    if not review.ledger.entries:
        return ""
    given_up = f", and about {number(early, 0)} shots of sound inserts were given up" if early >= 0.5 else ""
    return (
        f"Against the best swap in hindsight, {counted(late, 'shot')} came too late, on inserts that had gone "
        f"off{given_up} (all lives in the log)."
    )
