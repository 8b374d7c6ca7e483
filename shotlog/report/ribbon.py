"""The day at one press on one line: who was in the mould, what was said, what happened, over shots."""

from collections.abc import Sequence
from itertools import groupby, pairwise

from matplotlib.axes import Axes

from shotlog.entries import KINDS
from shotlog.records import HALVES
from shotlog.report.svg import INK, SOFT
from shotlog.review.ledger import Ledger
from shotlog.review.press import PressReview

__all__ = ["draw_ribbon", "held_spans", "rows_of", "thinned"]

Span = tuple[int, int, str]
"""First shot, last shot, and the verdict it is drawn as."""

_FILLS = {"settling": ("#eef0f2", "..."), "keep": ("white", ""), "watch": ("#e9dcc3", "///"), "swap": ("#7b3a22", "")}
"""How each verdict is drawn; where they share a point of the picture, the last of them is seen."""

_COLUMNS = 400
"""Bars that a row can show: more are narrower than a line, a pixel and a half (own)."""


def rows_of(review: PressReview, ledger: Ledger) -> list[str]:
    """Return the names of the rows of a press's ribbon, top to bottom."""
    return [*(half for half in HALVES if _stays(review, ledger, half)), "verdict", "held", "noted"]


def draw_ribbon(axis: Axes, review: PressReview, ledger: Ledger) -> None:
    """Draw the ribbon of a press: who was in the mould, what was said, which parts wait for a decision, what was noted.

    Held parts are hatched; those that were in doubt and are decided on by now are an empty bar.
    """
    rows = rows_of(review, ledger)
    for row, half in enumerate(rows[:-3]):
        _lives(axis, review, ledger, half, row)
    at = len(rows) - 3
    said = [
        (turn.first, turn.last, "settling" if turn.settling and turn.verdict == "keep" else turn.verdict)
        for turn in review.turns
    ]
    for first, last, verdict in thinned(said, review.first, review.last):
        _bar(axis, review, at, first, last, *_FILLS[verdict])
    doubted = [(one.first, one.last, "keep") for one in review.suspects]
    for first, last, _ in thinned(doubted, review.first, review.last):
        _bar(axis, review, at + 1, first, last, "white", "")
    for first, last, _ in thinned(held_spans(review), review.first, review.last):
        _bar(axis, review, at + 1, first, last, "#f3e7d8", "////")
    _noted(axis, review, at + 2)
    axis.set_yticks(range(len(rows)), rows)
    axis.set_ylim(len(rows) - 0.45, -0.55)
    axis.tick_params(axis="y", length=0)
    axis.spines["left"].set_visible(False)


def held_spans(review: PressReview) -> list[Span]:
    """Return the shots whose parts wait for a decision."""
    return sorted((first, last, "watch") for one in review.held for first, last in one.spans)


def _stays(review: PressReview, ledger: Ledger, half: str) -> list[tuple[str, int, int]]:
    reused = [
        (entry.life.serial, first, last)
        for entry in ledger.entries
        for press, first, last in entry.life.stays
        if entry.life.half == half and press == review.press and last >= review.first
    ]
    series = [
        (one.print_batch or one.serial, first, last)
        for one in review.pieces.series
        if one.half == half
        for first, last in one.spans
        if last >= review.first
    ]
    return sorted([*reused, *series], key=lambda one: one[1])


def thinned(spans: Sequence[Span], since: int, until: int) -> Sequence[Span]:
    """Return spans as a row of shots `since` to `until` can show them.

    Of too many it is what each column of the picture holds, alike ones joined.
    """
    if len(spans) <= _COLUMNS:
        return spans
    ranks, shots = list(_FILLS), (until - since + 1) / _COLUMNS
    held = [-1] * _COLUMNS
    for first, last, verdict in spans:
        begin, end = (int((shot - since) / shots) for shot in (first, last))
        for column in range(max(begin, 0), min(end, _COLUMNS - 1) + 1):
            held[column] = max(held[column], ranks.index(verdict))
    found, column = [], 0
    for rank, run in groupby(held):
        n = len(list(run))
        if rank >= 0:
            begin, end = (since + round(at * shots) for at in (column, column + n))
            found.append((begin, end - 1, ranks[rank]))
        column += n
    return found


def _bar(axis: Axes, review: PressReview, row: int, first: int, last: int, fill: str, hatch: str) -> None:
    left, right = max(first, review.first) - 0.5, min(last, review.last) + 0.5
    edge = INK if not hatch else SOFT
    axis.barh(row, right - left, left=left, height=0.62, facecolor=fill, edgecolor=edge, hatch=hatch, linewidth=0.6)


def _lives(axis: Axes, review: PressReview, ledger: Ledger, half: str, row: int) -> None:
    width = review.last - review.first + 1
    stays = _stays(review, ledger, half)
    if len(stays) > _COLUMNS:
        alike = [(first, last, "keep") for _, first, last in stays]
        for first, last, _ in thinned(alike, review.first, review.last):
            _bar(axis, review, row, first, last, "white", "")
        return
    for name, first, last in stays:
        _bar(axis, review, row, first, last, "white", "")
        left, right = max(first, review.first), min(last, review.last)
        if right - left > width * 0.012 * len(name):
            axis.text((left + right) / 2, row, name, ha="center", va="center", fontsize=7.5)


def _noted(axis: Axes, review: PressReview, row: int) -> None:
    named = []
    for kind, shape in ((name, one.mark.report) for name, one in KINDS.items()):
        at = [e.event.at_shot for e in review.entries if e.event.kind == kind and not e.taken_back]
        at = [shot for shot in at if review.first <= shot <= review.last]
        if at:
            face = "white" if shape in "sDv^" else INK
            axis.plot(
                at, [row] * len(at), shape, markersize=6, markerfacecolor=face, markeredgecolor=INK, clip_on=False
            )
            named += [(shot, KINDS[kind].word) for shot in at]
    for gap in review.gaps:
        _bar(axis, review, row, gap.first, gap.last, "#d7dade", "xxx")
    for (shot, word), (until, _) in pairwise([*sorted(named), (review.last, "")]):
        # A name that would run over the next mark is left out: its mark has the shape of its kind.
        if until - shot > (review.last - review.first + 1) * (0.0075 * len(word) + 0.012):
            axis.annotate(word, (shot, row), xytext=(6, 0), textcoords="offset points", fontsize=7, va="center")
