"""What happened at one press: ribbon, parts, calls, swaps, verdicts, lives with strips, drift, stops, faults."""

from collections.abc import Callable, Iterator
from datetime import datetime, tzinfo

from shotlog.report.blind import blind_section
from shotlog.report.calls import calls_section, mark, rejudged_section
from shotlog.report.html import Html, in_parts, joined, note, paragraph, section, table, text
from shotlog.report.parts import parts_sections
from shotlog.report.pieces import pieces_section
from shotlog.report.ribbon import ribbon
from shotlog.report.strips import strips
from shotlog.review.drift import Drift
from shotlog.review.ledger import Ledger
from shotlog.review.lives import Life
from shotlog.review.press import PressReview
from shotlog.review.swaps import Swap
from shotlog.review.turns import Turn
from shotlog.wording.entries import half_named
from shotlog.wording.numbers import counted, label, span, unbroken, unit, value
from shotlog.wording.parts import why_out
from shotlog.wording.times import moment
from shotlog.wording.verdicts import swap_said

__all__ = ["MOST_DRAWN", "press_section"]

MOST_DRAWN = 200
"""Lives of a press drawn in one report, the newest: a log of years has a thousand, and nobody turns so many (own)."""


def press_section(
    review: PressReview, ledger: Ledger, made_at: datetime, zone: tzinfo, tell: Callable[[str], None]
) -> Iterator[Html]:
    """Yield everything about one press, in parts."""
    return in_parts(f"press-{review.press}", f"Press {review.press}", _told(review, ledger, made_at, zone, tell))


def _told(
    review: PressReview, ledger: Ledger, made_at: datetime, zone: tzinfo, tell: Callable[[str], None]
) -> Iterator[Html]:
    yield paragraph(
        f"Shots {span(review.first, review.last)}, {moment(review.start, zone)} to {moment(review.end, zone)}. ",
        f"{counted(review.n_seen, 'shot')} stored, {counted(review.n_missed, 'shot')} missed; ",
        f"{review.n_settling} settling, shown and not judged.",
    )
    yield Html(f"<figure>{ribbon(review, ledger)}</figure>")
    yield note(
        "Dots: settling. Empty: keep. Hatched: watch. Filled: swap. A cross-hatched bar in the last row is a "
        "run of missed shots."
    )
    yield from parts_sections(review, made_at, zone)
    yield calls_section(review)
    yield rejudged_section(review, zone)
    yield _swaps(review)
    yield _history(review)
    yield from in_parts("", "Each life", _lives(review, ledger, tell), level=3)
    yield _drifts(review)
    yield pieces_section(review)
    yield blind_section(review, zone)
    yield _lots(review)
    yield _notes(review, zone)


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
        note(
            "A lot is noted when it is loaded; what lies in hopper and barrel is used first, and mixes. Parts between "
            "the note and the shot the values moved at may be of either lot, and some mixing goes on after it."
        ),
        level=3,
    )


def _swaps(review: PressReview) -> Html:
    rows = [
        (
            swap.at_shot, swap.half, unbroken(f"{swap.out} → {swap.into or 'none'}"),
            why_out(swap.reason, swap.replaced_by) or "–", _called(swap),
            joined([Html(f"<strong>{text(swap.outcome)}</strong>: "), swap.ground, _moved(swap), _found(swap)]),
        )
        for swap in review.swaps
    ]  # fmt: skip
    if not rows:
        return section("", "Swaps", paragraph("No reused insert was swapped."), level=3)
    heads = ("shot", "half", "out → in", "reason given", "the call before it", "what the swap showed")
    return section(
        "",
        "Swaps",
        table(heads, rows, numbers=(0,)),
        note(
            "A swap is an experiment. A level that comes back confirms the insert that came out; one that stays "
            "says it was something else."
        ),
        level=3,
    )


def _called(swap: Swap) -> str:
    if swap.called is None:
        return "none stood"
    lag = f", swapped {counted(swap.lag, 'shot')} after the first call to swap" if swap.lag is not None else ""
    return f"{swap.called.worst} since shot {swap.called.swap_at or swap.called.first}{lag}"


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
    rows = [_turn(turn) for turn in review.turns]
    heads = ("shots", "insert judged", "verdict", "its last sentence")
    return section("", "Verdict history", table(heads, rows), level=3)


def _turn(turn: Turn) -> tuple[object, ...]:
    said: object = mark(turn.verdict)
    if turn.settling:
        said = joined([mark(turn.verdict), ", settling"])
    return (span(turn.first, turn.last), turn.insert or "none on record", said, turn.sentence)


def _lives(review: PressReview, ledger: Ledger, tell: Callable[[str], None]) -> Iterator[Html]:
    yield note(
        "Filled points were judged, hollow ones were settling. Solid line: the insert's own level; dashed: its "
        "limits. Tinted, hatched at the foot: parts in doubt; grey, full height: missed shots; dotted upright: "
        "estimated onset of a change that stood; dash-dotted: another insert changed."
    )
    drawn = [one for entry in ledger.entries for one in _drawn(review, entry.life)]
    if len(drawn) > MOST_DRAWN:
        newest = sorted(drawn, key=lambda one: one[2])[-MOST_DRAWN:]
        yield note(f"Drawn are the newest {MOST_DRAWN} of {len(drawn)}; a report of a shorter period draws its own.")
        drawn = [one for one in drawn if one in newest]
    for n, (life, first, last, before) in enumerate(drawn, 1):
        tell(f"{review.press}: drawing life {n} of {len(drawn)}")
        figure = strips(review, life, first, last, before)
        yield Html(f"<figure>{figure}<figcaption>{text(_caption(life, first, last))}</figcaption></figure>\n")


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
    rows = [_drift(one) for one in review.drifts]
    heads = (
        "insert judged",
        "shots",
        "fitted over",
        "value",
        "change per shot (95 %)",
        "start",
        "end",
        "action limit",
        "share of the way",
    )
    if not rows:
        return section("", "Drift", paragraph("Too few judged shots to fit a line to."), level=3)
    return section(
        "",
        "Drift",
        table(heads, rows, numbers=(5, 6, 8)),
        note(
            "A straight line over the judged shots of each stretch with the same inserts. An interval that includes "
            "0 shows no drift. Where "
            "no action limit is configured, six spreads from the start of the line stand in for it (marked: "
            "derived). A lot change or a "
            "pause within a stretch bends the line."
        ),
        level=3,
    )


def _drift(one: Drift) -> tuple[object, ...]:
    line, ch = one.line, one.channel
    slope = f"{value(ch, line.slope, 2)} ({value(ch, line.low, 2)} to {value(ch, line.high, 2)}) {unit(ch)}"
    told = "" if line.low > 0 or line.high < 0 else ", none shown"
    derived = " derived" if one.limit_from == "level" else ""
    share = "–" if one.share is None else f"{100 * one.share:.0f} %"
    return (
        one.insert or "–", span(one.first, one.last), one.part, label(ch), slope + told,
        value(ch, line.start), value(ch, line.end),
        f"{value(ch, one.limit)}{derived}", share,
    )  # fmt: skip


def _notes(review: PressReview, zone: tzinfo) -> Html:
    rows = [
        (
            e.event.at_shot,
            e.event.kind,
            e.event.text,
            moment(e.event.time, zone),
            "taken back" if e.taken_back else "in force",
        )
        for e in review.entries
    ]
    if not rows:
        return Html("")
    heads = ("from shot", "kind", "text", "entered", "state")
    return section("", "What people noted", table(heads, rows, numbers=(0,)), level=3)
