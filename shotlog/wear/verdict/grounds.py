"""The grounds of a verdict: for every cause its log likelihood, onset and fitted change, and the baseline behind it."""

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import NotEnoughShots
from shotlog.records import Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.change.hypotheses import Hypotheses
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.half import HalfState
from shotlog.wear.verdict.evidence import CauseEvidence, Evidence, SwapFinding
from shotlog.wear.verdict.reading import FittedChange, level_and_limits, reading_of

__all__ = ["grounds_of"]

F = NDArray[np.float64]


def grounds_of(
    life: HalfState,
    settings: DesignSettings,
    last: Verdict,
    post: Posterior | float | None,
    bar: float,
    findings: tuple[SwapFinding, ...],
) -> Evidence:
    """Return the evidence behind the last verdict.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None or not isinstance(post, Posterior) or life.hypotheses is None:
        raise NotEnoughShots(f"press {last.press}: no baseline yet at shot {last.shots_on_insert} on the insert")
    reading = reading_of(life, post)
    base, channels = life.first - 1, prior.channels
    causes = _by_cause(life.hypotheses, post, reading, prior, base)

    def named(values: F) -> dict[str, float]:
        return dict(zip(channels, values.tolist(), strict=True))

    level, limits = level_and_limits(prior, filt, settings)
    return Evidence(
        last.press,
        last.shot,
        life.held.serial,
        post.log_odds,
        bar,
        prior.n_sisters,
        prior.settled,
        tuple(sorted(causes, key=lambda one: -one.weight)),
        reading.groups,
        level,
        named(prior.sigma),
        named(prior.phi),
        prior.named(prior.least),
        reading.change,
        reading.slope,
        {c: (one.low, one.high) for c, one in limits.items()},
        life.question,
        findings,
    )


def _by_cause(hyp: Hypotheses, post: Posterior, reading: FittedChange, prior: Prior, base: int) -> list[CauseEvidence]:
    """Return, for every cause that counts, its likeliest hypothesis."""
    out, d = [], post.details
    likeliest: dict[int, tuple[float, int, F]] = {}
    for row, best in enumerate(d.joint.max(axis=1)):
        at, slot = int(hyp.cause[row]), int(np.argmax(d.joint[row]))
        if np.isfinite(best) and (at not in likeliest or best > likeliest[at][0]):
            likeliest[at] = (float(best), slot, d.reach[row, slot] * hyp.direction[row])
    for i, best in enumerate(d.spread.max(axis=1)):
        at, slot = int(hyp.spread_cause[i]), int(np.argmax(d.spread[i]))
        if np.isfinite(best) and (at not in likeliest or best > likeliest[at][0]):
            change = np.zeros(len(prior.channels))
            change[hyp.spread_channel[i]] = -d.fallen[i, slot]
            likeliest[at] = (float(best), slot, change)
    for at, (best, slot, change) in sorted(likeliest.items()):
        name = hyp.names[at]
        out.append(
            CauseEvidence(
                name,
                CAUSES[name].group,
                best,
                reading.weights[name],
                base + int(d.onset[slot]),
                prior.named(change),
                CAUSES[name].check,
                CAUSES[name].action,
            )
        )
    return out
