"""One row per simulated life: what the monitor said of it beside the truth."""

from typing import Any

from shotlog.records import Verdict
from tests.benchmark.lives.charts import healthy_share
from tests.benchmark.lives.press import Life

Row = dict[str, Any]
"""`false`: called while healthy; `missed`, `delay`: of the fault. `group`, `cause`, `weight`, `err`, `cover`, `kept`
(right group, cause said, its weight, onset error, truth within the 90 % set, share of suspect shots kept): at the call,
and with `_end` at the last shot called."""


def score(life: Life, verdicts: list[Verdict]) -> Row:
    """Return the row; the keys of a fault that was not called are absent."""
    fault = life.fault
    calls = [v for v in verdicts if v.verdict != "keep"]
    row: Row = {
        "n": life.number,
        "faulty": fault is not None,
        "carried": life.carried is not None,
        "tau": life.habits.tau,
        "coarse": bool(life.habits.digits[0] > 0.05),
        "name": fault.kind.name if fault else "",
        "healthy_share": healthy_share(life),
    }
    if fault is None:
        row["false"] = bool(calls)
        if calls:
            row |= {"at": calls[0].shots_on_insert, "cause": calls[0].cause}
        return row
    hit = next((v for v in calls if v.shot >= fault.onset), None)
    row["false"] = any(v.shot < fault.onset for v in calls)
    row["missed"], row["end"] = hit is None, verdicts[-1].shot - fault.onset + 1
    row["size"], row["shape"] = fault.size, fault.shape
    if row["false"] or hit is None:
        return row
    row["delay"] = hit.shot - fault.onset + 1
    for key, v in (("", hit), ("_end", calls[-1])):
        row |= {name + key: value for name, value in _said(v, fault.kind.group, fault.onset, row["end"]).items()}
    return row


def _said(v: Verdict, group: str, onset: int, affected: int) -> Row:
    if v.onset is None or v.onset_low is None or v.onset_high is None:
        raise ValueError(f"shot {v.shot}: called without an onset")
    kept = (affected - max(v.onset_low - onset, 0)) / affected
    return {
        "group": v.group == group,
        "said": v.group,
        "cause": v.cause,
        "weight": v.weight,
        "err": v.onset - onset,
        "cover": v.onset_low <= onset <= v.onset_high,
        "kept": max(kept, 0.0),
    }
