"""While a change is followed, the next one is looked for: from the level that the followed one leaves.

The level after a change is not known exactly, so it is free again from the end of its onset set on; the noise, the
warm-up and the wander stay what they were. Once the next change is called, the one before is followed no longer: what
was said of it is what the shots before the next onset say.
"""

from dataclasses import replace

import numpy as np

from shotlog.wear.change.causes import CHECK_RING
from shotlog.wear.change.onset import onset_of
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import (
    ACCEPT_GRADUAL,
    ACCEPT_MARGIN,
    MENDED_GROWN,
    NEXT_ALONG,
    NEXT_MORE,
    SCATTER_EVERY,
    SCATTER_FROM,
    SCATTER_MORE,
)
from shotlog.wear.level.baseline import by_channel
from shotlog.wear.life.calling import begin, beyond, weighed, worth_a_call
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.fitted import FittedChange, fitted_of, likeliest
from shotlog.wear.life.half import HalfState

__all__ = ["look_on"]


def look_on(life: HalfState, followed: Posterior, n: int, bar: float) -> bool:
    """Look for the next change; return whether one was called. `followed`: what the shots say of the one before.

    While that shows as a spread that grows, the noise is not what it was: the next change has to stand out of what it
    has become, and until that is known none can be told.
    """
    call = life.call
    if call is None:
        return False
    if call.cause == CHECK_RING and (n - call.at) % SCATTER_EVERY == 0:
        last = max(min(call.onset.high, n) + ACCEPT_MARGIN, n - SCATTER_EVERY)
        life.look_from(replace(beyond(life, followed, call.onset.clean, last), wider=_scatter(life, call)))
    ahead, wider = life.ahead, life.beyond is not None and bool(life.beyond.wider)
    if ahead is None or (followed.growing_spread >= MENDED_GROWN and not wider):
        return False
    bar += SCATTER_MORE if call.cause == CHECK_RING else NEXT_MORE
    post = weighed(life, n, bar, ahead)
    if not isinstance(post, Posterior) or post.log_odds < bar or not worth_a_call(life, ahead, post, n):
        return False
    clean = onset_of(post.onsets, post.by_onset, n).clean
    before = _as_before(life, call, clean)
    if followed.gradual >= ACCEPT_GRADUAL and _goes_on(life, before, fitted_of(life, post, ahead)):
        life.look_from(beyond(life, followed, call.onset.clean, n - ACCEPT_MARGIN))
        return False
    life.let_stand(before)
    begin(life, post, n, bar)
    return True


def _scatter(life: HalfState, call: OpenChange) -> dict[str, float]:
    """Return, for every channel that spreads wider since the onset of a call about a straight course, so often."""
    prior = life.stretch.prior
    if prior is None:
        return {}
    n, values, _ = life.stretch.table(prior.channels)
    since = n >= call.onset.shot
    wider = {}
    for c, name in enumerate(prior.channels):
        seen = since & np.isfinite(values[:, c])
        if seen.sum() < SCATTER_EVERY:
            continue
        course = np.polynomial.Polynomial.fit(n[seen], values[seen, c], 1)
        times = float(np.sqrt(((values[seen, c] - course(n[seen])) ** 2).sum() / (seen.sum() - 2.0)) / prior.sigma[c])
        if times > SCATTER_FROM:
            wider[name] = times
    return wider


def _as_before(life: HalfState, call: OpenChange, until: int) -> OpenChange:
    """Return the call as the shots before `until` tell it."""
    own = life.stretch
    rows = [row for row in own.rows if row.n < until]
    if until <= call.at or not rows:
        return call
    earlier = replace(own, rows=rows)
    earlier.run_again()
    post = weighed(life, rows[-1].n, on=earlier)
    if not isinstance(post, Posterior):
        return call
    reading = fitted_of(life, post)
    group, cause = likeliest(reading)
    return replace(
        call,
        onset=onset_of(post.onsets, post.by_onset, rows[-1].n),
        group=group,
        cause=cause,
        weight=reading.groups[group],
        swap=call.swap and group == "insert",
        weights=dict(reading.weights),
        effect=dict(reading.change),
    )


def _goes_on(life: HalfState, before: OpenChange, reading: FittedChange) -> bool:
    """Whether what looks like the next change is the one before, going on: of the same group, and along it."""
    prior = life.stretch.prior
    group, _ = likeliest(reading)
    if prior is None or group != before.group:
        return False
    was, now = by_channel(prior, before.effect) / prior.sigma, by_channel(prior, reading.change) / prior.sigma
    return float(was @ now) > NEXT_ALONG * float(np.linalg.norm(was) * np.linalg.norm(now))
