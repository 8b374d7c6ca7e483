"""What values are held against, as drawn on a strip: levels with their limits, and the marks of signals."""

from collections.abc import Mapping, Sequence

from dashboard.shared.views import DrawnLevel, DrawnMark
from shotlog.records import Baseline, Signal

__all__ = ["drawn_levels", "drawn_marks"]


def drawn_levels(baselines: Sequence[Baseline], first: int, last: int) -> tuple[DrawnLevel, ...]:
    """Return the baselines as drawn over a window: each from the shots it was taken from until the next begins."""
    ends = [*(one.first - 1 for one in baselines[1:]), last]
    drawn = []
    for one, end in zip(baselines, ends, strict=False):
        since, until = max(one.first, first), min(end, last)
        if since <= until:
            drawn.append(DrawnLevel(since, until, one.centre, one.lower, one.upper, one.n_shots, one.per_100))
    return tuple(drawn)


def drawn_marks(signals: Sequence[Signal], values: Mapping[int, float | None]) -> tuple[DrawnMark, ...]:
    """Return one mark a shot: a value outside its limits says more than any other rule on the same shot."""
    found: dict[int, DrawnMark] = {}
    for signal in signals:
        value = values.get(signal.shot)
        if value is None:
            continue
        outside = signal.chart == "individuals" and signal.rule in ("above", "below")
        if outside or signal.shot not in found:
            side = signal.rule if outside else "other"
            found[signal.shot] = DrawnMark(signal.shot, value, side, f"{signal.chart.replace('_', ' ')}, {signal.rule}")
    return tuple(found.values())
