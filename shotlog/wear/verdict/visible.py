"""What size of change could be seen by now: the honest answer while few sisters, or none, have shown what is normal.

A step that comes with the next shot and stays is seen within five shots where their likelihood ratio reaches the bar.
What they will tell of it follows from what is known by now of level, warm-up, noise and wander, not from their values:
where they tell its size, in spreads, with information B, a step b has a log likelihood ratio of about b^2 B / 2, less
what the choice of its onset, channel and size costs. Before an insert without sisters has taken stock of itself, it is
what it would see if it did so now.
"""

from math import expm1, inf, isfinite, log, sqrt

from shotlog.facts import VisibleStep
from shotlog.settings import DesignSettings
from shotlog.wear.constants import BAR_FEW, DOF_SHARE, HAZARD, STEP_WIDTH, VISIBLE_IN, VISIBLE_SURE
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.learning import by_own_shots

__all__ = ["step_seen", "visible"]


def visible(life: HalfState, settings: DesignSettings, bar: float) -> tuple[VisibleStep, ...]:
    """Return the least step of each judged channel that would be seen by now.

    Nothing once enough sisters are known, and before the shots are as many as there are columns to tell apart.
    """
    prior = life.stretch.prior
    if prior is not None and prior.n_sisters >= BAR_FEW:
        return ()
    if prior is None:
        judged = by_own_shots(life, settings)
    else:
        judged = None if life.hypotheses is None else (life.stretch, life.hypotheses.alone)
    if judged is None:
        return ()
    (prior, filt), alone = (judged[0].prior, judged[0].filter), judged[1]
    if prior is None or filt is None:
        return ()
    dof, told = prior.dof * (1.0 + DOF_SHARE * (len(prior.channels) - 1)), filt.step_seen_in(VISIBLE_IN)
    out = []
    for c, name in enumerate(prior.channels):
        size = step_seen(float(told[c]), bar - log(HAZARD * float(alone[c])), dof)
        if isfinite(size):
            out.append(VisibleStep(name, float(max(size, prior.least[c]) * prior.sigma[c])))
    return tuple(out)


def step_seen(information: float, needed: float, dof: float) -> float:
    """Return the step, in spreads, that is seen in nine of ten cases.

    `information`: of its size, per squared spread. `needed`: log likelihood ratio to be reached. `dof`: degrees of
    freedom behind the spread, in whose t statistic it is counted.
    """
    free = needed + 0.5 * log(1.0 + STEP_WIDTH**2 * information)
    gain = 0.5 * dof * expm1(max(2.0 * free / (dof + 1.0), 0.0))
    return (sqrt(2.0 * gain) + VISIBLE_SURE) / sqrt(information) if information > 0.0 else inf
