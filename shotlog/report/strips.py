"""The three strips of a life: each charted value over the shots on the insert, with what was made of it."""

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator
from numpy.typing import ArrayLike, NDArray

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.entries import KINDS
from shotlog.report.html import Html
from shotlog.report.marks import name_above
from shotlog.report.svg import INK, SOFT, WARN, inline, margins, sheet
from shotlog.review.lives import Life
from shotlog.review.press import PressReview
from shotlog.wording.numbers import label, span, unit

__all__ = ["strips"]

F = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Window:
    """The shots drawn: `first` to `last` of a press; `offset` turns a shot number into the shot on the insert."""

    review: PressReview
    life: Life
    first: int
    last: int
    offset: int

    def on_press(self, x: ArrayLike) -> F:
        """Return the press's shot numbers of shots on the insert."""
        return np.asarray(x, dtype=np.float64) + self.offset

    def on_insert(self, x: ArrayLike) -> F:
        """Return the shots on the insert of the press's shot numbers."""
        return np.asarray(x, dtype=np.float64) - self.offset


def strips(review: PressReview, life: Life, first: int, last: int, made_before: int) -> Html:
    """Return the strips of one stay of an insert, shots `first` to `last`.

    `made_before` were made on it in earlier stays.
    """
    channels = [name for name in ALWAYS_CHARTED if name in review.values]
    if not channels:
        return Html("")
    window = _Window(review, life, max(first, review.first), last, first - 1 - made_before)
    with sheet(5.6, 0.58 * len(channels) + 1.0) as figure:
        margins(figure, 0.75, 0.08, 0.28, 0.74, 0.14)
        axes: list[Axes] = list(figure.subplots(len(channels), 1, sharex=True, squeeze=False)[:, 0])
        for axis, channel in zip(axes, channels, strict=True):
            _strip(axis, window, channel)
        _marks(axes[0], window)
        axes[-1].set_xlabel(f"shots on {life.serial}", labelpad=1)
        beside = axes[-1].secondary_xaxis(-0.68, functions=(window.on_press, window.on_insert))
        beside.set_xlabel(f"shot of {review.press}", color=SOFT)
        beside.tick_params(colors=SOFT)
        beside.xaxis.set_major_locator(MaxNLocator(9, integer=True))
        told = f"{life.serial}: {', '.join(label(c).lower() for c in channels)} over shots {span(window.first, last)}"
        return inline(figure, told)


def _strip(axis: Axes, window: _Window, channel: str) -> None:
    review = window.review
    at = slice(*np.searchsorted(review.shots, (window.first, window.last + 1)))
    numbers = review.shots[at].astype(np.float64)
    values = review.values[channel][at]
    settling = np.zeros(len(numbers), dtype=bool)
    for turn in review.turns:
        if turn.settling and turn.first <= window.last and turn.last >= window.first:
            settling |= (turn.first <= numbers) & (numbers <= turn.last)
    x = numbers - window.offset
    axis.plot(x, values, color=SOFT, linewidth=0.6, zorder=2)
    axis.plot(x[~settling], values[~settling], "o", color=INK, markersize=2.6, zorder=3)
    axis.plot(
        x[settling], values[settling], "o", markerfacecolor="white", markeredgecolor=SOFT, markersize=2.6, zorder=3
    )
    _levels(axis, window, channel)
    _spans(axis, window)
    axis.set_ylabel(f"{label(channel)}\n{unit(channel)}")
    axis.yaxis.set_label_coords(-0.095, 0.5)
    axis.margins(x=0.01)
    axis.locator_params(axis="y", nbins=4)
    axis.xaxis.set_major_locator(MaxNLocator(9, integer=True))
    decimals = CHANNELS[channel].decimals
    axis.yaxis.set_major_formatter(lambda v, _: f"{v:.{decimals}f}")


def _levels(axis: Axes, window: _Window, channel: str) -> None:
    """Draw level and limits of each baseline, from where it was taken to where the next began."""
    mine = [b for b in window.review.baselines if b.channel == channel and window.first <= b.last <= window.last]
    for baseline, following in zip(mine, [*mine[1:], None], strict=False):
        stretch = next((s for s in window.review.stretches if s.first <= baseline.last <= s.last), None)
        until = min(
            window.last, stretch.last if stretch else window.last, following.first - 1 if following else window.last
        )
        ends = [baseline.first - window.offset, until - window.offset]
        axis.plot(ends, [baseline.centre] * 2, color=INK, linewidth=0.9, zorder=1)
        for limit in (baseline.lower, baseline.upper):
            axis.plot(ends, [limit] * 2, color=INK, linewidth=0.8, linestyle=(0, (5, 3)), zorder=1)


def _spans(axis: Axes, window: _Window) -> None:
    for one in window.review.suspects:
        first, last = max(one.first, window.first), min(one.last, window.last)
        if first <= last:
            x = (first - window.offset - 0.5, last - window.offset + 0.5)
            axis.axvspan(*x, facecolor="#f7efe4", linewidth=0, zorder=0)
            axis.axvspan(*x, ymax=0.06, facecolor="#f3e7d8", edgecolor="#8d7c63", hatch="//////", linewidth=0, zorder=1)
    for gap in window.review.gaps:
        first, last = max(gap.first, window.first), min(gap.last, window.last)
        if first <= last:
            x = (first - window.offset - 0.5, last - window.offset + 0.5)
            axis.axvspan(*x, facecolor="#d7dade", linewidth=0, zorder=0)
    for call in window.review.calls:
        onset = call.episode.onset
        if onset is not None and not call.episode.withdrawn and window.first <= onset <= window.last:
            axis.axvline(onset - window.offset, color=WARN, linewidth=1.1, linestyle=":", zorder=1)
    for swap in window.review.swaps:
        if window.first < swap.at_shot <= window.last:
            axis.axvline(swap.at_shot - window.offset - 0.5, color=INK, linewidth=0.8, linestyle="-.", zorder=1)


def _marks(axis: Axes, window: _Window) -> None:
    """Name above the top strip what happened, each at its shot; names that would collide go up a line."""
    review, named = window.review, []
    named += [
        (s.at_shot, f"{s.into or 'out'} in for {s.out}")
        for s in review.swaps
        if window.life.serial not in (s.out, s.into)
    ]
    named += [
        (e.event.at_shot, f"{e.event.kind} {e.event.text}"[:14] if KINDS[e.event.kind].named else e.event.kind)
        for e in review.entries
        if not e.taken_back and KINDS[e.event.kind].lined
    ]
    named += [(g.first, "missed") for g in review.gaps]
    named += [
        (c.episode.onset, "onset") for c in review.calls if c.episode.onset is not None and not c.episode.withdrawn
    ]
    inside = [(shot - window.offset, name) for shot, name in named if window.first <= shot <= window.last]
    name_above(axis, inside, max(window.last - window.first, 1), lines=2, each=0.022)
