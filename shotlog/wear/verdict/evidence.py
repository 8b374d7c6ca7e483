"""The evidence behind one verdict, for whoever wants to see why: the baseline it rests on, and for every cause its log
likelihood, onset and fitted change.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import NotEnoughShots
from shotlog.facts import SwapFinding
from shotlog.records import Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.change.hypotheses import Hypotheses
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.fitted import FittedChange, fitted_of
from shotlog.wear.life.half import HalfState
from shotlog.wear.verdict.bounds import level_and_limits

__all__ = ["CauseEvidence", "Evidence", "evidence_of"]

F = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class CauseEvidence:
    """One cause: log likelihood ratio against "no change" (prior shares in it), weight, likeliest onset (press's shot
    number).

    `change`: fitted change at the last shot by channel, in the channel's unit.
    """

    cause: str
    group: str
    log_likelihood: float
    weight: float
    onset: int
    change: Mapping[str, float]
    check: str
    action: str


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the last verdict rests on; channel values in the channel's unit.

    `level`: own level. `spread`: within-insert spread. `least_change`: smallest change of practical size. `change`,
    `slope`: fitted change now and per shot, over all causes. `question`: the shot before which an insert may have been
    changed without an entry. `labelled`: changes of which it was known what they were, that the weights rest on.
    `lives_here`, `lives_elsewhere`: ended lives on this press and on others that the shots left rest on.
    `false_calls`: in 100 sound lives, that the threshold is set for; `cleared`: calls on this press that a person
    answered by finding the insert sound, for which it is set higher.
    """

    press: str
    shot: int
    insert: str
    log_odds: float
    threshold: float
    false_calls: float
    cleared: int
    n_sisters: int
    settled_at: int
    causes: tuple[CauseEvidence, ...] = ()
    groups: Mapping[str, float] = field(default_factory=dict)
    level: Mapping[str, float] = field(default_factory=dict)
    spread: Mapping[str, float] = field(default_factory=dict)
    lag_1: Mapping[str, float] = field(default_factory=dict)
    least_change: Mapping[str, float] = field(default_factory=dict)
    change: Mapping[str, float] = field(default_factory=dict)
    slope: Mapping[str, float] = field(default_factory=dict)
    limits: Mapping[str, tuple[float | None, float | None]] = field(default_factory=dict)
    question: int | None = None
    swaps: tuple[SwapFinding, ...] = ()
    labelled: int = 0
    lives_here: int = 0
    lives_elsewhere: int = 0


def evidence_of(
    life: HalfState,
    settings: DesignSettings,
    last: Verdict,
    post: Posterior | float | None,
    bar: tuple[float, float, int],
    findings: tuple[SwapFinding, ...],
) -> Evidence:
    """Return the evidence behind the last verdict. `bar`: threshold, false calls it is set for, calls cleared.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None or not isinstance(post, Posterior) or life.hypotheses is None:
        raise NotEnoughShots(f"press {last.press}: no baseline yet at shot {last.shots_on_insert} on the insert")
    reading = fitted_of(life, post)
    base, channels = life.first - 1, prior.channels
    causes = _by_cause(life.hypotheses, post, reading, prior, base)

    def named(values: F) -> dict[str, float]:
        return dict(zip(channels, values.tolist(), strict=True))

    level, limits = level_and_limits(life, settings, post if life.call is not None else None)
    return Evidence(
        last.press,
        last.shot,
        life.held.serial,
        post.log_odds,
        *bar,
        prior.n_sisters,
        prior.settled + 1,
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
        len(life.labelled),
    )


def _by_cause(hyp: Hypotheses, post: Posterior, reading: FittedChange, prior: Prior, base: int) -> list[CauseEvidence]:
    """Return, for every cause that counts, its likeliest hypothesis."""
    out, d = [], post.details
    likeliest: dict[int, tuple[float, int, F]] = {}
    for row, best in enumerate(d.joint.max(axis=1)):
        at, slot = int(hyp.cause[row]), int(np.argmax(d.joint[row]))
        if np.isfinite(best) and (at not in likeliest or best > likeliest[at][0]):
            free = not hyp.direction[row].any()
            likeliest[at] = (float(best), slot, post.effect if free else d.reach[row, slot] * hyp.direction[row])
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
