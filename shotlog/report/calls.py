"""Changes that were called: what was said, what became of each, and what judging again changed."""

from datetime import tzinfo

from shotlog.report.html import Html, joined, note, section, table, text
from shotlog.review.answers import ANSWERS
from shotlog.review.calls import Call
from shotlog.review.episodes import Episode
from shotlog.review.press import PressReview
from shotlog.wording.facts import also_open
from shotlog.wording.numbers import counted, label, number, span, unbroken, unit, value
from shotlog.wording.times import moment
from shotlog.wording.verdicts import MARKS

__all__ = ["calls_section", "mark", "rejudged_section"]


def calls_section(review: PressReview) -> Html:
    """Return the changes that were called, and what became of each; nothing where there was none."""
    rows = [_call(call) for call in review.calls]
    heads = (
        "shots",
        "insert",
        "called",
        "most likely",
        "near the onset",
        "at the last call, against sisters at the same shot number",
    )
    if not rows:
        return Html("")
    return section(
        "",
        "Changes that were called",
        table(heads, rows),
        note("The number after a cause is its weight among all causes tried, from 0 to 1."),
        _answers(review),
        level=3,
    )


def _call(call: Call) -> tuple[object, ...]:
    episode = call.episode
    ended = "withdrawn" if episode.withdrawn else "stood to the end"
    if episode.onset is not None:
        first = f", first told as {episode.first_onset}" if episode.first_onset != episode.onset else ""
        ended += f"; onset {episode.onset}{first}"
    if episode.limits:
        ended += f"; limit passed: {', '.join(label(name).lower() for name in episode.limits)}"
    cause = f"{episode.cause} ({episode.group}, {number(episode.weight, 2)})" if episode.cause else "no cause named"
    if episode.others:
        cause += f"; also open: {', '.join(also_open(episode.others))}"
    here = "–"
    if call.here is not None:
        sisters = (
            ", ".join(f"{serial} {value(call.channel, v)}" for serial, v in call.sisters) or "no sister came so far"
        )
        own = f"{value(call.channel, call.here)} {unit(call.channel)}"
        here = f"{label(call.channel)} at shot {call.on_insert}: {own}; {sisters}"
    return (
        span(episode.first, episode.last), episode.insert, joined([mark(episode.worst), f", {ended}"]), cause,
        "; ".join(call.changed_near) or "nothing noted", here,
    )  # fmt: skip


def _answers(review: PressReview) -> Html:
    """Say what became of each call, and of all of them together."""
    rows = [
        (
            one.first, unbroken(one.insert or "none on record"),
            "nobody did"
            if one.acted_at is None
            else f"swap at shot {one.acted_at}, {counted(one.lag or 0, 'shot')} after",
            f"{one.n_bad} of {one.n_looked_at}", joined([Html(f"<strong>{text(one.answer)}</strong>: "), one.ground]),
        )
        for one in review.answers
    ]  # fmt: skip
    heads = ("called at shot", "on", "acted on", "bad of those looked at", "what was found")
    n = {answer: sum(one.answer == answer for one in review.answers) for answer in ANSWERS}
    told = ", ".join(f"{many} {answer}" for answer, many in n.items())
    return table(heads, rows, numbers=(0,), name="What became of each call") + (
        note(f"Of {counted(len(rows), 'call')} to date: {told}.") if rows else ""
    )


def rejudged_section(review: PressReview, zone: tzinfo) -> Html:
    """Return what judging again changed; nothing where it changed nothing."""
    rows = [
        (
            moment(one.time, zone), f"from {one.from_shot}: {one.reason}", _said(one.was), _said(one.now), one.outcome,
        )
        for one in review.rejudged
    ]  # fmt: skip
    if not rows:
        return Html("")
    return section(
        "",
        "What judging again changed",
        table(("judged again", "why", "what had been said", "what is said now", "so"), rows),
        note(
            "An entry made late, a weight, or a new release has shots judged again. What had been said is what people "
            "acted on at the time; what is said now is in force."
        ),
        level=3,
    )


def _said(call: Episode | None) -> str:
    if call is None:
        return "no change"
    dated = "" if call.onset is None else f", onset {call.onset}"
    laid = f", {call.cause} ({call.group})" if call.cause else ""
    return f"{call.worst} at {span(call.first, call.last)} on {call.insert or 'no insert on record'}{dated}{laid}"


def mark(verdict: str) -> Html:
    """Return a verdict by shape and word, on one line."""
    return Html(f'<span class="mark">{text(MARKS[verdict])}</span>')
