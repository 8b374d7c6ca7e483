"""What happened at one press: ribbon, parts, calls, swaps, verdicts, lives with strips, drift, stops, faults."""

from collections.abc import Callable, Iterable, Iterator
from datetime import tzinfo
from itertools import groupby

from shotlog.records import MadeEntry
from shotlog.report.blind import blind_section
from shotlog.report.calls import calls_section, mark, rejudged_section
from shotlog.report.decisions import rest_section
from shotlog.report.html import Html, in_parts, joined, note, section, table, text
from shotlog.report.parts import parts_sections
from shotlog.report.pictures import ReadPicture, pictures_section
from shotlog.report.pieces import pieces_section
from shotlog.report.strips import strips
from shotlog.review import Review
from shotlog.review.drift import Drift
from shotlog.review.ledger import Ledger
from shotlog.review.lives import Life
from shotlog.review.press import PressReview
from shotlog.review.swaps import Swap
from shotlog.review.turns import Turn
from shotlog.wording.entries import half_named, made_what
from shotlog.wording.incoming import missed_counted
from shotlog.wording.numbers import counted, label, shots, span, unbroken, unit, value
from shotlog.wording.parts import swap_showed, why_out
from shotlog.wording.times import moment
from shotlog.wording.verdicts import swap_said
from shotlog.wording.who import by_whom, who_said

__all__ = ["MOST_DRAWN", "press_section"]

MOST_DRAWN = 200
"""Lives of a press drawn in one report, the newest: a log of years has a thousand, and nobody turns so many (own)."""


_ENTERED = 400
"""Entries of a press listed in one report, the newest; the command `shotlog entries` lists all (own)."""


def press_section(
    whole: Review, review: PressReview, zone: tzinfo, tell: Callable[[str], None], read: ReadPicture | None
) -> Iterator[Html]:
    """Yield everything about one press, in parts."""
    return in_parts(f"press-{review.press}", f"Press {review.press}", _told(whole, review, zone, tell, read))


def _told(
    whole: Review, review: PressReview, zone: tzinfo, tell: Callable[[str], None], read: ReadPicture | None
) -> Iterator[Html]:
    yield note(
        f"Shots {span(review.first, review.last)}, {moment(review.start, zone)} to {moment(review.end, zone)}. ",
        f"{counted(review.n_seen, 'shot')} stored, {missed_counted(review.n_missed, review.gaps)} missed; ",
        f"{review.n_unjudged} settling and not judged.",
    )
    yield rest_section(whole, review)
    yield from parts_sections(review, whole.made_at, zone)
    yield pictures_section(whole, review, read)
    yield calls_section(review)
    yield rejudged_section(review, zone)
    yield _swaps(review)
    yield _history(review)
    yield from in_parts("", "Each life", _lives(review, whole.ledger, tell), level=3)
    yield _drifts(review)
    yield pieces_section(review)
    yield blind_section(review, zone)
    yield _lots(review)
    yield _entered(review, zone)


def _lots(review: PressReview) -> Html:
    rows = [
        (
            lot.lot, lot.noted, "–" if lot.purged is None else lot.purged,
            lot.why_not if lot.told_from is None else
            f"from shot {lot.told_from}: {label(lot.channel).lower()} by {value(lot.channel, lot.moved, 1)} "
            f"{unit(lot.channel)}",
        )
        for lot in review.lots
    ]  # fmt: skip
    if not rows:
        return Html("")
    return section(
        "",
        "Lots",
        table(("lot", "noted from shot", "purged at", "what the values say"), rows, numbers=(1, 2)),
        level=3,
    )


def _swaps(review: PressReview) -> Html:
    rows = [
        (
            swap.at_shot, swap.half, unbroken(f"{swap.out} → {swap.into or 'none'}"),
            why_out(swap.reason, swap.replaced_by) or "–", _called(swap),
            joined([_showed(swap), swap.ground, _moved(swap), _found(swap)]),
        )
        for swap in review.swaps
    ]  # fmt: skip
    if not rows:
        return Html("")
    heads = ("shot", "half", "out → in", "reason given", "the call before it", "what the swap showed")
    return section(
        "",
        "Swaps",
        table(heads, rows, numbers=(0,)),
        level=3,
    )


def _showed(swap: Swap) -> Html:
    return Html(f"<strong>{text(swap_showed(swap.outcome, swap.out))}</strong>; ")


def _called(swap: Swap) -> str:
    if swap.called is None:
        return "none stood"
    lag = f", swapped {counted(swap.lag, 'shot')} after the first call to swap" if swap.lag is not None else ""
    on = "" if swap.called.insert == swap.out else f" on {swap.called.insert or 'no insert on record'}"
    return f"{swap.called.worst}{on} since shot {swap.called.swap_at or swap.called.first}{lag}"


def _found(swap: Swap) -> str:
    return "" if swap.found is None else f". The call, on the day: {swap_said(swap.found)}"


def _moved(swap: Swap) -> str:
    told = [
        f"{label(m.channel).lower()} was off its level by {value(m.channel, m.before, 1)} {unit(m.channel)} before and "
        f"{value(m.channel, m.after, 1)} (±{value(m.channel, 1.96 * m.error, 1)}) after"
        for m in swap.moved
    ]
    return f" ({'; '.join(told)})" if told else ""


def _history(review: PressReview) -> Html:
    """Return what was said, a row for each insert judged: runs of shots with the same verdict."""
    rows = [
        (span(mine[0].first, mine[-1].last), insert or "none on record", joined(_said(mine)))
        for insert, mine in ((key, list(run)) for key, run in groupby(review.turns, lambda turn: turn.insert))
    ]
    return section("", "Verdict history", table(("shots", "insert judged", "verdicts"), rows), level=3)


def _said(turns: list[Turn]) -> Iterator[object]:
    for n, turn in enumerate(turns):
        settling = " settling" if turn.settling else ""
        yield ", " if n else ""
        yield joined([unbroken(f"{shots(turn.first, turn.last)} "), mark(turn.verdict), settling])


def _lives(review: PressReview, ledger: Ledger, tell: Callable[[str], None]) -> Iterator[Html]:
    drawn = [one for entry in ledger.entries for one in _drawn(review, entry.life)]
    if len(drawn) > MOST_DRAWN:
        newest = sorted(drawn, key=lambda one: one[2])[-MOST_DRAWN:]
        yield note(f"Drawn are the newest {MOST_DRAWN} of {len(drawn)}; a report of a shorter period draws its own.")
        drawn = [one for one in drawn if one in newest]
    yield Html('<div class="pair">\n')
    for n, (life, first, last, before) in enumerate(drawn, 1):
        tell(f"{review.press}: drawing life {n} of {len(drawn)}")
        figure = strips(review, life, first, last, before)
        yield Html(f"<figure><figcaption>{text(_caption(life, first, last))}</figcaption>{figure}</figure>\n")
    yield Html("</div>\n")


def _drawn(review: PressReview, life: Life) -> Iterator[tuple[Life, int, int, int]]:
    """Yield the stays of a life at this press: first and last shot, and how many were made on it before."""
    before = 0
    for press, first, last in life.stays:
        if press == review.press and last >= review.first:
            yield life, first, last, before
        before += last - first + 1


def _caption(life: Life, first: int, last: int) -> str:
    why = why_out(life.reason, life.replaced_by) or "no reason given"
    ended = "still mounted" if life.mounted else f"taken out: {why}"
    off = f"; gone off since shot {life.since_shot} ({life.dated_by})" if life.since_shot is not None else ""
    place = f"{life.serial}, {half_named(life.half)}, {life.design or 'no design on record'}"
    return f"{place}: shots {span(first, last)}, {ended}{off}."


def _drifts(review: PressReview) -> Html:
    shown = [one for one in review.drifts if one.line.low > 0 or one.line.high < 0]
    if not shown:
        return Html("")
    heads = ("insert judged", "shots", "value", "change per shot (95 %)", "start", "end", "action limit", "of the way")
    flat = len(review.drifts) - len(shown)
    return section(
        "",
        "Drift",
        table(heads, [_drift(one) for one in shown], numbers=(4, 5, 7)),
        note(f"{flat} of {counted(len(review.drifts), 'line')} fitted show no drift and are left out."),
        level=3,
    )


def _drift(one: Drift) -> tuple[object, ...]:
    line, ch = one.line, one.channel
    slope = f"{value(ch, line.slope, 2)} ({value(ch, line.low, 2)} to {value(ch, line.high, 2)}) {unit(ch)}"
    derived = " derived" if one.limit_from == "level" else ""
    share = "–" if one.share is None else f"{100 * one.share:.0f} %"
    part = "" if one.part == "whole" else f", {one.part}"
    return (
        one.insert or "–", span(one.first, one.last) + part, label(ch), slope, value(ch, line.start),
        value(ch, line.end), f"{value(ch, one.limit)}{derived}", share,
    )  # fmt: skip


def _entered(review: PressReview, zone: tzinfo) -> Html:
    """Return what people entered, with who and how that is known, and what became of it."""
    shown = review.entered[-_ENTERED:]
    each = [(what, _spans(run), *rest) for (what, *rest), run in groupby(shown, lambda one: _told_of(one, zone))]
    rows = [("; ".join(one[0] for one in run), *alike) for alike, run in groupby(each, lambda one: one[1:])]
    if not rows:
        return Html("")
    left = len(review.entered) - len(shown)
    more = note(f"The newest {_ENTERED}; {counted(left, 'entry', 'entries')} more: shotlog entries.") if left else ""
    heads = ("what", "shots", "entered", "by", "state")
    return section("", "What people entered", table(heads, rows), more, level=3)


def _told_of(one: MadeEntry, zone: tzinfo) -> tuple[str, ...]:
    """Return all that is told of an entry but its shots: what was entered of many parts at one touch is one row."""
    back = "" if one.taken_back is None else f"taken back{by_whom(one.who_back)}: {one.why}"
    return made_what(one), unbroken(moment(one.time, zone)), unbroken(who_said(one.who)), back


def _spans(entered: Iterable[MadeEntry]) -> str:
    """Return the shots of entries, in the order they were made, those that follow each other as one span."""
    spans: list[tuple[int, int]] = []
    for one in entered:
        if one.first is None:
            continue
        last = one.last or one.first
        if spans and spans[-1][0] <= one.first <= spans[-1][1] + 1:
            spans[-1] = spans[-1][0], max(spans[-1][1], last)
        else:
            spans.append((one.first, last))
    return ", ".join(span(first, last) for first, last in spans) or "–"
