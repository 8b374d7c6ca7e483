"""Single-use pieces by print batch: where each batch lies, what its next piece may show, and pieces that are odd."""

from shotlog.report.html import Html, items, joined, note, section, table, text
from shotlog.review.press import PressReview
from shotlog.review.series import BatchLevel, BatchSpread, OddPiece, Series
from shotlog.wording.numbers import label, number, span, unbroken, unit, value

__all__ = ["pieces_section"]

_SHOWN = ("cushion", "peak_pressure", "fill_time", "part_weight", "mass_balance")


def pieces_section(review: PressReview) -> Html:
    """Return the section on single-use pieces; nothing where none were used."""
    pieces = review.pieces
    if not pieces.series:
        return Html("")
    rows = [
        (
            one.print_batch or "–", unbroken(f"{one.serial} to {one.last_serial}"), _spans(one), one.n_pieces,
            ", ".join(one.beside) or "–", joined(_apart(one)),
        )
        for one in pieces.series
    ]  # fmt: skip
    heads = ("print batch", "pieces", "shots", "n", "beside it", "against the other batches")
    return section(
        "",
        "Single-use pieces by print batch",
        table(heads, rows, numbers=(3,)),
        _levels(review),
        _odd(pieces.odd),
        _spreads(pieces.spreads),
        note(
            "Each shot takes another piece, so spread between pieces and not wear is what these values hold. Settling "
            "shots and odd pieces are left out of level and spread; a reused half that wears meanwhile widens both. "
            "Limits: where one further sound piece lies but for 27 in 10 000, from the spread between pieces; they are "
            "no tolerances."
        ),
        level=3,
    )


def _spans(one: Series) -> str:
    return ", ".join(span(first, last) for first, last in one.spans)


def _apart(one: Series) -> list[Html]:
    """Return what tells a batch from the others: its mean less theirs, with the interval, where it leaves out zero."""
    told = [
        text(
            f"{label(name)} {value(name, level.apart.by, 1)} ({value(name, level.apart.low, 1)} to "
            f"{value(name, level.apart.high, 1)}) {unit(name)}. "
        )
        for name, level in one.levels.items()
        if level.apart is not None and level.apart.told
    ]
    known = any(level.apart is not None for level in one.levels.values())
    return told or [text("not told apart" if known else "no other batch to compare with")]


def _levels(review: PressReview) -> Html:
    series = review.pieces.series
    channels = [name for name in _SHOWN if any(name in one.levels for one in series)]
    rows = [
        (one.print_batch or one.serial, *(_level(one.levels.get(name), name) for name in channels)) for one in series
    ]
    heads = ("print batch", *(f"{label(name)}, {unit(name)}" for name in channels))
    return table(heads, rows, name="Mean ± spread between pieces (n), and limits of a further piece of the batch")


def _level(level: BatchLevel | None, channel: str) -> Html:
    if level is None:
        return text("–")
    spread = "" if level.spread is None else f" ± {value(channel, level.spread, 1)}"
    ends = level.limits
    limits = "no limits yet" if ends is None else f"{value(channel, ends.lower)} to {value(channel, ends.upper)}"
    return joined([f"{value(channel, level.mean, 1)}{spread} ({level.n})", Html("<br>"), limits])


def _odd(odd: tuple[OddPiece, ...]) -> Html:
    if not odd:
        return Html("")
    lines = [
        joined(
            [
                Html(f"<strong>Piece {text(one.serial)}, shot {one.shot}</strong> "),
                f"({one.half} half{f', {one.print_batch}' if one.print_batch else ''}) is odd by itself: ",
                "; ".join(_off(name, *seen) for name, seen in one.channels.items()),
                ". The pieces before and after it lie right.",
            ]
        )
        for one in odd
    ]
    return items(lines)


def _off(channel: str, seen: float, mean: float, spreads: float) -> str:
    return (
        f"{label(channel).lower()} {value(channel, seen)} {unit(channel)} where its batch has {value(channel, mean)} "
        f"({number(spreads, 1)} spreads off)"
    )


def _spreads(spreads: tuple[BatchSpread, ...]) -> Html:
    rows = [
        (
            f"{label(one.channel)}, {unit(one.channel)}", one.design or "–", span(one.first, one.last),
            one.n_batches,
            value(one.channel, one.within, 1),
            "–" if one.between is None else value(one.channel, one.between, 1),
            "one batch says nothing of the next" if one.other_batch is None else
            f"{value(one.channel, one.other_batch.lower)} to {value(one.channel, one.other_batch.upper)}",
        )
        for one in spreads
        if one.channel in _SHOWN
    ]  # fmt: skip
    heads = (
        "value",
        "design",
        "shots",
        "from",
        "spread within a batch",
        "between batches",
        "limits of a piece of a new batch",
    )
    return table(heads, rows, numbers=(3, 4, 5), name="How much pieces differ, and batches")
