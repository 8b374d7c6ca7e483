"""Another rhythm: since which shot the press works more slowly or quickly than usual, and what that does to an insert.

It is told from what the filter has learnt: the pace is another, and the channels have followed it by a practical size.
It stands until the rhythm comes back.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import log
from statistics import median

import numpy as np

from shotlog.wear.constants import RHYTHM, RHYTHM_CHANGED, RHYTHM_KEPT, RHYTHM_SURE
from shotlog.wear.life.marks import StretchShot
from shotlog.wear.life.stretch import Stretch

__all__ = ["OtherRhythm", "rhythm_of"]


@dataclass(frozen=True, slots=True)
class OtherRhythm:
    """The rhythm since shot `since` on the insert: the time from shot to shot was `before_s` and is `now_s`.

    `effect`: what it does to each channel, in its unit.
    """

    since: int
    before_s: float
    now_s: float
    effect: Mapping[str, float]


def rhythm_of(stretch: Stretch, known: OtherRhythm | None) -> OtherRhythm | None:
    """Return the other rhythm that the shots show; None where it is the usual one, or does nothing of practical size.

    `known`: the one told before. It is told on, whatever its effect, until the rhythm comes back.
    """
    prior, filt = stretch.prior, stretch.filter
    if prior is None or filt is None or not prior.usual_s or not stretch.pace:
        return None
    pace = stretch.pace[stretch.rows[-1].n]
    if known is None and abs(pace) < RHYTHM_CHANGED:
        return None
    coefficient, variance = filt.pace()
    effect = prior.named(coefficient * pace)
    if known is not None:
        back = pace * log(known.now_s / known.before_s) <= 0.0 or abs(pace) < RHYTHM_KEPT * RHYTHM_CHANGED
        took = [row.took_s for row in stretch.rows if row.took_s and row.n >= known.since] or [known.now_s]
        return None if back else replace(known, now_s=median(took[-RHYTHM[1] - 1 :]), effect=effect)
    moved = np.abs(coefficient * pace) >= np.maximum(prior.least, RHYTHM_SURE * np.sqrt(variance) * abs(pace))
    if not moved.any():
        return None
    now_s = median([row.took_s for row in stretch.rows if row.took_s][-RHYTHM[0] :])
    off = log(now_s / prior.usual_s)
    if off * pace <= 0.0:
        return None
    return OtherRhythm(_since(stretch.rows, prior.usual_s, off), prior.usual_s, now_s, effect)


def _since(rows: Sequence[StretchShot], usual_s: float, off: float) -> int:
    """Return the first of the last shots that lie nearer to the new rhythm than to the usual one, one stray aside."""
    since, strays = rows[-1].n, 0
    for row in reversed(rows):
        if not row.took_s:
            continue
        near = log(row.took_s / usual_s) / off > 0.5
        strays = 0 if near else strays + 1
        if strays > 1:
            break
        since = row.n if near else since
    return since
