"""One picture of a press over the whole period: what it measured, beneath it who was in the mould and what was said.

It stands on the first two pages, so it must be read without any other: each onset and each swap is named above it, and
the parts that wait for a decision are hatched.
"""

from collections.abc import Iterator

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from shotlog.channels import ALWAYS_CHARTED
from shotlog.report.html import Html
from shotlog.report.marks import name_above
from shotlog.report.ribbon import draw_ribbon, held_spans, rows_of, thinned
from shotlog.report.svg import INK, SOFT, WARN, inline, margins, sheet
from shotlog.review.ledger import Ledger
from shotlog.review.press import PressReview
from shotlog.wording.numbers import label, unit

__all__ = ["day_picture"]

F = NDArray[np.float64]

_COLUMNS = 700
"""Columns of the picture told apart in print; of more shots each shows its lowest and highest value (own)."""

_MARKED = 60
"""Onsets, swaps and gaps marked in a picture, the newest of each: the lines of more would hide the values (own)."""

_STRIP_IN, _ROW_IN = 0.58, 0.18


def day_picture(review: PressReview, ledger: Ledger, n_strips: int) -> Html:
    """Return the picture, with at most `n_strips` measured values over the ribbon."""
    channels = [name for name in ALWAYS_CHARTED if name in review.values][:n_strips]
    rows = rows_of(review, ledger)
    heights = [*[_STRIP_IN] * len(channels), _ROW_IN * len(rows)]
    above = 0.33 if channels else 0.08
    with sheet(9.4, sum(heights) + 0.1 * len(channels) + above + 0.4) as figure:
        margins(figure, 0.95, 0.1, above, 0.4, 0.12)
        axes: list[Axes] = list(
            figure.subplots(len(heights), 1, sharex=True, squeeze=False, height_ratios=heights)[:, 0]
        )
        for axis, channel in zip(axes, channels, strict=False):
            _strip(axis, review, channel)
        draw_ribbon(axes[-1], review, ledger)
        if channels:
            name_above(axes[0], _named(review), review.last - review.first + 1, lines=2, each=0.0085)
        axes[-1].set_xlim(review.first - 0.5, review.last + 0.5)
        axes[-1].set_xlabel(f"shot of {review.press}")
        told = f"{review.press}: {', '.join(label(name).lower() for name in channels)}, inserts, verdicts, held parts"
        return inline(figure, f"{told} and notes over shots {review.first} to {review.last}")


def _strip(axis: Axes, review: PressReview, channel: str) -> None:
    shots, values = envelope(review.shots.astype(np.float64), review.values[channel])
    axis.plot(shots, values, color=SOFT, linewidth=0.5, zorder=2)
    axis.plot(shots, values, ".", color=INK, markersize=2.2, zorder=3)
    for first, last, _ in thinned(held_spans(review), review.first, review.last):
        axis.axvspan(first - 0.5, last + 0.5, facecolor="#f7efe4", linewidth=0, zorder=0)
        axis.axvspan(first - 0.5, last + 0.5, ymax=0.07, facecolor="#f3e7d8", edgecolor="#8d7c63",
                     hatch="//////", linewidth=0, zorder=1)  # fmt: skip
    for gap in review.gaps[-_MARKED:]:
        axis.axvspan(gap.first - 0.5, gap.last + 0.5, facecolor="#d7dade", linewidth=0, zorder=0)
    for onset in onsets(review):
        axis.axvline(onset, color=WARN, linewidth=1.2, linestyle=":", zorder=1)
    for swap in review.swaps[-_MARKED:]:
        axis.axvline(swap.at_shot - 0.5, color=INK, linewidth=0.8, linestyle="-.", zorder=1)
    axis.set_ylabel(f"{label(channel)}\n{unit(channel)}", fontsize=7.5)
    axis.yaxis.set_label_coords(-0.062, 0.5)
    axis.locator_params(axis="y", nbins=4)
    axis.tick_params(labelsize=7.5)


def envelope(shots: F, values: F) -> tuple[F, F]:
    """Return shots and values as a line of print can show them: of too many, each column's lowest and highest."""
    seen = np.isfinite(values)
    shots, values = shots[seen], values[seen]
    if len(shots) <= 2 * _COLUMNS:
        return shots, values
    kept: list[int] = []
    for column in np.array_split(np.arange(len(shots)), _COLUMNS):
        kept += sorted({int(column[values[column].argmin()]), int(column[values[column].argmax()])})
    return shots[kept], values[kept]


def onsets(review: PressReview) -> list[int]:
    """Return since when each change has been that was called and stands, or is held for though it was withdrawn."""
    every = {one.onset for one in review.suspects if one.called and (not one.withdrawn or one.parts.held)}
    return sorted(every)[-_MARKED:]


def _named(review: PressReview) -> Iterator[tuple[float, str]]:
    for onset in onsets(review):
        yield onset, f"onset {onset}"
    for swap in review.swaps[-_MARKED:]:
        yield swap.at_shot, f"{swap.out} → {swap.into or 'none'}"
    for gap in review.gaps[-_MARKED:]:
        yield gap.first, "missed"
