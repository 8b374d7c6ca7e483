"""Names above a picture of shots: what happened, each at its shot, and none over another."""

from collections.abc import Iterable

from matplotlib.axes import Axes

from shotlog.report.svg import SOFT

__all__ = ["name_above"]


def name_above(
    axis: Axes, named: Iterable[tuple[float, str]], width: float, lines: int = 3, each: float = 0.012
) -> None:
    """Write names above an axis of `width` shots, at their shots. `each`: what a letter takes of the width.

    A name that would run into the one before goes up a line; past the last of `lines` it is left out.
    """
    taken = [-1e9] * lines
    for shot, name in sorted(set(named)):
        row = next((n for n, until in enumerate(taken) if shot > until), None)
        if row is None:
            continue
        taken[row] = shot + width * (each * len(name) + 0.01)
        axis.annotate(
            name,
            (shot, 1.0),
            xytext=(0, 3 + 9 * row),
            xycoords=("data", "axes fraction"),
            textcoords="offset points",
            fontsize=7,
            arrowprops={"arrowstyle": "-", "linewidth": 0.5, "color": SOFT},
        )
