"""Changes that were called: what was said, what became of each, and what judging again changed."""

from datetime import tzinfo

from shotlog.report.html import Html, items, joined, note, section, table, text
from shotlog.review.answers import ANSWERS, Answer
from shotlog.review.calls import Call
from shotlog.review.episodes import Episode
from shotlog.review.press import PressReview
from shotlog.wording.ended import ENDED
from shotlog.wording.facts import also_open
from shotlog.wording.numbers import counted, label, number, span, unit, value
from shotlog.wording.times import moment
from shotlog.wording.verdicts import MARKS

__all__ = ["calls_section", "mark", "rejudged_section"]


_SISTERS = 3
"""Sisters named in a call, the newest; `review --json` has them all."""


def calls_section(review: PressReview) -> Html:
    """Return the changes that were called, and what became of each; nothing where there was none."""
    rows = [_call(call, answer) for call, answer in zip(review.calls, review.answers, strict=True)]
    if not rows:
        return Html("")
    n = {answer: sum(one.answer == answer for one in review.answers) for answer in ANSWERS}
    told = ", ".join(f"{many} {answer}" for answer, many in n.items() if many)
    return section(
        "",
        "Changes that were called",
        table(
            (
                "shots",
                "insert",
                "called",
                "near its onset; sisters at that shot of theirs",
                "what became of it",
            ),
            rows,
        ),
        _said_on_the_day(review),
        note(f"Of {counted(len(rows), 'call')} to date: {told}."),
        level=3,
    )


def _call(call: Call, answer: Answer) -> tuple[object, ...]:
    episode = call.episode
    ended = ENDED[episode.ended]
    if episode.onset is not None:
        first = f", first told as {episode.first_onset}" if episode.first_onset != episode.onset else ""
        ended += f"; onset {episode.onset}{first}"
    if episode.limits:
        ended += f"; limit passed: {', '.join(label(name).lower() for name in episode.limits)}"
    return (
        span(episode.first, episode.last), episode.insert, joined([mark(episode.worst), f", {ended}"]),
        ". ".join(filter(None, ("; ".join(call.changed_near), _beside(call)))), _became(answer),
    )  # fmt: skip


def _said_on_the_day(review: PressReview) -> Html:
    """Return for each call the cause it was laid to last, and its last sentence: what moved, what was told to do."""
    told = [joined([Html(f"<strong>{text(_laid_to(call.episode))}</strong>: "), call.episode.sentence])
            for call in review.calls]  # fmt: skip
    return Html(f'<div class="said">{items(told)}</div>\n')


def _laid_to(episode: Episode) -> str:
    cause = f"{episode.cause} ({episode.group}, {number(episode.weight, 2)})" if episode.cause else "no cause named"
    also = f"; also open: {', '.join(also_open(episode.others))}" if episode.others else ""
    return f"{span(episode.first, episode.last)}, {cause}{also}"


def _beside(call: Call) -> str:
    if call.here is None or not call.sisters:
        return ""
    sisters = ", ".join(f"{serial} {value(call.channel, v)}" for serial, v in call.sisters[-_SISTERS:])
    own = f"{value(call.channel, call.here)} {unit(call.channel)}"
    return f"{label(call.channel)} at its shot {call.on_insert}: {own}; {sisters}"


def _became(one: Answer) -> Html:
    looked = f"; {one.n_bad} bad of {one.n_looked_at} inspected" if one.n_looked_at else ""
    after = "" if one.lag is None else f", {counted(one.lag, 'shot')} after"
    acted = "" if one.acted_at is None else f"; swap at shot {one.acted_at}{after}"
    return joined([Html(f"<strong>{text(one.answer)}</strong>: "), one.ground, looked, acted])


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
