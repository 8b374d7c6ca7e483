"""What is worked out by a shorter way for every shot or life comes to the same bits as the plain way."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest

from shotlog.errors import UsageError
from shotlog.facts import Facts, Seated
from shotlog.records import LoggedShot, Verdict
from shotlog.wear.change.onset import onset_of
from shotlog.wear.constants import MIDDLE_HALF, ODD_FIRST, ODD_FROM, ONSET_SHARE, SURELY_HEALTHY
from shotlog.wear.level.baseline import without_odd
from shotlog.wear.level.sister import least_spread
from shotlog.wear.level.whitening import resolution
from shotlog.wear.replacing import replaced

FACTS = Facts("quiet", quiet_since=3, n_sisters=2)
VERDICT = Verdict("P25", 7, "B-11", 7, False, "keep", facts=FACTS)


@pytest.mark.parametrize(
    ("record", "otherwise"),
    [
        (FACTS, {"mould": (Seated("moving", "B-11", 1),), "odd_by": -4.5}),
        (VERDICT, {"verdict": "watch", "facts": None, "limits": ("cushion",)}),
        (LoggedShot("P25", 7, datetime(2026, 1, 5, tzinfo=UTC), {"cushion": 4.97}), {"shot": 8}),
    ],
)
def test_a_record_with_some_fields_otherwise(record: Facts, otherwise: dict[str, object]) -> None:
    assert replaced(record, **otherwise) == replace(record, **otherwise)  # type: ignore[arg-type]
    assert replaced(record) == record


def test_a_record_made_anew_is_checked_and_knows_its_fields() -> None:
    with pytest.raises(UsageError, match="verdict"):
        replaced(VERDICT, verdict="perhaps")
    with pytest.raises(KeyError):
        replaced(VERDICT, colour="red")


def _plainly_without_odd(name: str, values: np.ndarray) -> np.ndarray:
    out = values.copy()
    at = np.flatnonzero(np.isfinite(values))
    x = values[at].tolist()
    if len(x) < ODD_FROM:
        return out
    off = np.array([one - float(np.median(x[max(i - 2, 0) : i] + x[i + 1 : i + 3])) for i, one in enumerate(x)])
    step = _plain_resolution(np.array(x))
    spread = max(MIDDLE_HALF * float(np.median(np.abs(off))), least_spread(name, step))
    out[at[np.abs(off) > ODD_FIRST * spread]] = np.nan
    return out


def _plain_resolution(values: np.ndarray) -> float:
    distinct = np.unique(np.round(values[np.isfinite(values)], 6))
    return float(np.diff(distinct).min())


@pytest.mark.parametrize("n", [ODD_FROM - 1, ODD_FROM, ODD_FROM + 3, 30])
def test_odd_values_and_steps_are_those_of_plain_medians(n: int) -> None:
    rng = np.random.default_rng(n)
    told = 0
    for _ in range(40):
        values = np.round(rng.standard_t(2.0, n) * 20.0 + 800.0, int(rng.integers(0, 3)))
        values[rng.random(n) < (0.1 if n > ODD_FROM else 0.0)] = np.nan
        found = without_odd(("peak_pressure",), values[:, None])[:, 0]
        assert np.array_equal(found, _plainly_without_odd("peak_pressure", values), equal_nan=True)
        assert resolution(values) == _plain_resolution(values)
        told += int(np.isnan(found).sum() > np.isnan(values).sum())
    assert (told > 0) == (n >= ODD_FROM)


def test_an_onset_is_that_of_the_whole_array() -> None:
    rng = np.random.default_rng(5)
    for _ in range(60):
        onsets = np.flatnonzero(rng.random(60) < 0.6) + 1
        weights = rng.random(len(onsets)) ** rng.integers(1, 30)
        cumulated = np.cumsum(weights) / weights.sum()
        before, ends = np.concatenate([[0.0], cumulated[:-1]]), np.append(onsets[1:] - 1, 60)
        middle = min(int(np.searchsorted(cumulated, 0.5)), len(onsets) - 1)
        clean = min(int(np.searchsorted(cumulated, SURELY_HEALTHY)), middle)
        highs = np.maximum(np.searchsorted(cumulated, before[: middle + 1] + ONSET_SHARE - 1e-9), middle)
        fits = highs[highs < len(onsets)]
        low = int(np.argmin(ends[fits] - onsets[: len(fits)]))
        found = onset_of(onsets, weights, 60)
        assert (found.shot, found.low) == (onsets[middle], onsets[low])
        assert (found.high, found.clean) == (ends[fits[low]], min(onsets[clean], onsets[low]))
