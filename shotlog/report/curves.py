"""Life curves: the share of inserts still sound over shots, with its interval, each censored life marked.

The fitted line.
"""

from collections.abc import Sequence

import numpy as np

from shotlog.report.html import Html
from shotlog.report.svg import INK, SOFT, WARN, inline, margins, sheet
from shotlog.review.groups import Group
from shotlog.review.ledger import LedgerEntry

__all__ = ["curves"]


def curves(groups: Sequence[Group], entries: Sequence[LedgerEntry]) -> Html:
    """Return one small curve for each group, side by side."""
    shown = [group for group in groups if group.curve.n]
    if not shown:
        return Html("")
    across = min(3, len(shown))
    down = -(-len(shown) // across)
    life = {entry.life.serial: entry.life for entry in entries}
    far = max(one.life.n_shots for one in entries) * 1.1
    with sheet(3.15 * across if across > 1 else 4.6, 2.3 * down) as figure:
        margins(figure, 0.55, 0.1, 0.25, 0.5, 0.35 if down > 1 else 0.12)
        axes = np.atleast_1d(figure.subplots(down, across, sharey=True, squeeze=False)).ravel()
        for axis in axes[len(shown) :]:
            axis.set_axis_off()
        for axis, group in zip(axes, shown, strict=False):
            curve = group.curve
            x = [*curve.shots, far]
            for ends, style in ((curve.low, ":"), (curve.high, ":"), (curve.survival, "-")):
                axis.step(
                    x,
                    [*ends, ends[-1]],
                    where="post",
                    color=INK if style == "-" else SOFT,
                    linestyle=style,
                    linewidth=1.0,
                )
            cut = [life[s].sound for s in group.serials if not life[s].failed]
            axis.plot(cut, [_at(group, n) for n in cut], "|", color=INK, markersize=8)
            if group.weibull is not None:
                n = np.linspace(0.0, far, 120)
                fitted = np.exp(-((n / group.weibull.scale.value) ** group.weibull.shape.value))
                axis.plot(n, fitted, color=SOFT, linewidth=1.0, linestyle="--")
            if group.plan is not None and group.plan.shots is not None:
                axis.axvline(group.plan.shots, color=WARN, linewidth=1.0, linestyle="-.")
            axis.set_title(f"{group.name}: {group.n_failed} of {curve.n} gone off", fontsize=8.5, loc="left")
            axis.set_ylim(0, 1.03)
            axis.set_xlim(0, far)
            axis.set_xlabel("sound shots on the insert")
        for axis in axes[::across]:
            axis.set_ylabel("share still sound")
        return inline(figure, "share of inserts still sound over shots: " + ", ".join(group.name for group in shown))


def _at(group: Group, n: float) -> float:
    before = [s for shots, s in zip(group.curve.shots, group.curve.survival, strict=True) if shots <= n]
    return before[-1] if before else 1.0
