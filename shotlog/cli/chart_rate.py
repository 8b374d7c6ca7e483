"""How often a chart that is audited signals for nothing, by limits as they were estimated."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from shotlog.charts import Chart, VectorChart

__all__ = ["SignalRate", "rate_in_words", "rate_of"]

_AS_KNOWN = 2000
"""Readings from which limits are as good as known."""


@dataclass(frozen=True, slots=True)
class SignalRate:
    """How long the chart runs without a change, and what its limits rest on.

    `learnt`: readings they were estimated from, 0 where they were given. `average`, `median`: judged shots; `next`:
    chance that the first one signals. `how`: ``computed``, ``simulated``, or ``at least`` where simulated runs had no
    end.
    """

    learnt: int
    average: float
    median: float
    next: float
    how: str


def rate_of(kind: Callable[..., "Chart | VectorChart"], parameters: Mapping[str, Any], learnt: int) -> SignalRate:
    """Return the rate of a chart with limits as they were estimated, or known where `learnt` is 0.

    Computed where an equation exists, else of 400 seeded runs. Limits from thousands of readings are as good as known
    to within what 400 runs can tell.
    """
    from shotlog.charts.audit.runlength import run_length, simulated

    if 0 < learnt < 3:
        return SignalRate(learnt, math.nan, math.nan, math.nan, "unknown")
    chart = kind(
        **parameters, **({"baseline": min(learnt, _AS_KNOWN)} if learnt and "baseline" not in parameters else {})
    )
    found = run_length(chart, runs=400, horizon=5000, learns=min(learnt, _AS_KNOWN))
    if found.method == "computed":
        return SignalRate(learnt, found.average, found.percentile(50), found.within(1), "computed")
    first = simulated(chart, runs=4000, horizon=1, learns=min(learnt, _AS_KNOWN)).within(1)
    how = "at least" if found.unfinished else "simulated"
    return SignalRate(learnt, found.average, found.percentile(50), first, how)


def rate_in_words(found: Mapping[str, Any]) -> str:
    """Say how long the chart runs without a change, by limits as they were estimated."""
    learnt, chance, median, average = (found[one] for one in ("limits_from", "next_alarm", "median_run", "arl0"))
    said = f"limits from {learnt} readings: " if learnt else ""
    if chance is None:
        return f"{said}no false-alarm rate known"
    percent = f"{100.0 * chance:.2g}" if chance >= 1e-4 else "less than 0.01"
    said += f"without a change the next judged shot signals with {percent} %"
    if median is not None:
        said += f"; half of all such charts signal within {median:.0f}"
    if average is None:
        return f"{said}; no average number of shots to a false alarm: lucky limits hardly ever signal"
    least = {"at least": " at least", "simulated": " about"}.get(found["arl0_method"], "")
    return f"{said}; one false alarm in{least} {average:.1f} judged shots on average"
