"""Single-use pieces by print batch: where each batch lies, what its next piece may show, and pieces that are odd."""

from collections.abc import Iterator

from shotlog.report.html import Html, items, joined, section, table, text
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
    channels = [name for name in _SHOWN if any(name in one.levels for one in pieces.series)]
    rows = [
        (
            one.print_batch or "–", unbroken(f"{one.serial} to {one.last_serial}"), _spans(one), one.n_pieces,
            *(_level(one.levels.get(name), name) for name in channels), unbroken(", ".join(one.beside)),
        )
        for one in pieces.series
    ]  # fmt: skip
    means = tuple(f"{label(name)}, {unit(name)}" for name in channels)
    heads = ("print batch", "pieces", "shots", "n", *means, "beside it")
    return section(
        "",
        "Single-use pieces by print batch",
        table(heads, rows, numbers=(3,)),
        items([*_odd(pieces.odd), *(one for series in pieces.series for one in _apart(series))]),
        _spreads(pieces.spreads),
        level=3,
    )


def _spans(one: Series) -> str:
    return ", ".join(span(first, last) for first, last in one.spans)


def _apart(one: Series) -> Iterator[Html]:
    """Yield what tells a batch from the others: its mean less theirs, with the interval, where it leaves out zero."""
    told = [
        f"{label(name).lower()} {value(name, level.apart.by, 1)} ({value(name, level.apart.low, 1)} to "
        f"{value(name, level.apart.high, 1)}) {unit(name)}"
        for name, level in one.levels.items()
        if level.apart is not None and level.apart.told
    ]
    if told:
        yield joined(
            [Html(f"<strong>{text(one.print_batch)}</strong> against the other batches: "), "; ".join(told), "."]
        )


def _level(level: BatchLevel | None, channel: str) -> str:
    if level is None:
        return "–"
    spread = "" if level.spread is None else f" ± {value(channel, level.spread, 1)}"
    return unbroken(f"{value(channel, level.mean, 1)}{spread} ({level.n})")


def _odd(odd: tuple[OddPiece, ...]) -> Iterator[Html]:
    for one in odd:
        yield joined(
            [
                Html(f"<strong>Piece {text(one.serial)}, shot {one.shot}</strong> "),
                f"({one.half} half{f', {one.print_batch}' if one.print_batch else ''}) is odd by itself: ",
                "; ".join(_off(name, *seen) for name, seen in one.channels.items()),
                ". The pieces before and after it lie right.",
            ]
        )


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
