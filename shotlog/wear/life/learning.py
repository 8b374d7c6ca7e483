"""What an insert is judged by: its sisters where there are some, its own shots where not, and what it adds to them."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shotlog.settings import DesignSettings
from shotlog.wear.change.hypotheses import hypotheses
from shotlog.wear.change.onset import onset_of
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import (
    ELSEWHERE,
    ENOUGH_DOF,
    FREED_SIGMA,
    JOIN_SCHEDULE,
    JOIN_SLACK,
    LONG_LIFE,
    MOSTLY_GRADUAL,
    OWN_LEAST,
    OWN_SCHEDULE,
    SHORTENED_LEAST,
    STARTED,
)
from shotlog.wear.level.baseline import Prior, by_channel, first_prior, freed, settled_on
from shotlog.wear.level.sister import N_LEVEL, own_noise
from shotlog.wear.life.calling import weighed
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.stretch import Stretch
from shotlog.wear.life.swap_odds import own_level

__all__ = ["adopt", "by_own_shots", "judge_by_sisters", "learn", "shows_trend", "start_elsewhere"]

F = NDArray[np.float64]


def adopt(life: HalfState, prior: Prior, settings: DesignSettings) -> None:
    """Judge an insert by a prior from its first shot on, under the mode of its design."""
    life.judge_by(prior, _mode(settings))


def _mode(settings: DesignSettings) -> str:
    return "limited" if settings.pressure_limited else settings.switchover


def judge_by_sisters(life: HalfState, pool: Pool, designs: Sequence[str], setup: int, settings: DesignSettings) -> bool:
    """Judge the insert by its sisters, else by those of the other half in the mould; return whether there are."""
    found = pool.prior(designs, setup, settings.least_change)
    if found is not None:
        life.judge_by(settled_on(found[0], life.known), _mode(settings), pool=found[1])
    return found is not None


def learn(life: HalfState, pool: Pool, settings: DesignSettings) -> None:
    """Take stock of the noise of a first insert, and shorten a long life; an open change is then followed no longer."""
    stretch, prior = life.stretch, life.stretch.prior
    if len(stretch.rows) >= LONG_LIFE[0]:
        if life.call is not None:
            life.let_stand(life.call)
        _shorten(life, settings)
        return
    if life.open():
        return
    own = prior is None or prior.n_sisters == 0
    if not own:
        _learn_noise(life, pool, settings)
        return
    if len(stretch.rows) not in OWN_SCHEDULE:
        return
    made = _own_prior(stretch, settings, OWN_LEAST[0 if prior is None else 1], _suspected(life))
    if made is not None:
        adopt(life, made, settings)


def by_own_shots(life: HalfState, settings: DesignSettings) -> tuple[Stretch, F] | None:
    """Return the shots of an insert as they would be judged if it took stock of them now, and what a step in each
    channel alone would be worth (`Hypotheses.alone`); None before they tell its level.

    The insert itself is left as it is.
    """
    made = _own_prior(life.stretch, settings, N_LEVEL)
    if made is None:
        return None
    now = replace(life.stretch, rows=list(life.stretch.rows))
    now.judge_by(made)
    return now, hypotheses(made, _mode(settings), life.pieces).alone


def _own_prior(stretch: Stretch, settings: DesignSettings, least: int, until: int | None = None) -> Prior | None:
    """Return the prior that an insert's own shots before `until` make; None where they are fewer than `least`."""
    channels = stretch.channels()
    n, values, pauses = stretch.table(channels, until)
    if not channels or len(n) < least:
        return None
    least_change, settled = settings.least_change, settings.settling_shots
    paced = stretch.paced(n, stretch.prior.usual_s if stretch.prior is not None else 0.0)
    return first_prior(channels, n, values, pauses, stretch.steps(), least_change, settled, paced)


def _learn_noise(life: HalfState, pool: Pool, settings: DesignSettings) -> None:
    """Let the shots so far count for the noise, while few sisters have shown it."""
    stretch, prior = life.stretch, life.stretch.prior
    if prior is None or not life.pool or prior.dof > ENOUGH_DOF or len(stretch.rows) not in JOIN_SCHEDULE:
        return
    if life.accepted or (life.carried is not None and life.carried.outcome == "stays"):
        return
    n, values, pauses = stretch.table(prior.channels, _suspected(life))
    if len(n) < JOIN_SCHEDULE[0] - JOIN_SLACK:
        return
    noise = own_noise(prior.channels, n, values, pauses, stretch.paced(n, prior.usual_s))
    made = pool.with_own_noise(life.pool, prior.channels, settings.least_change, noise)
    if made is not None:
        made = settled_on(made, life.known)
        off = by_channel(made, life.elsewhere) / made.sigma
        adopt(life, freed(made, made.mean[:, 0], off) if life.elsewhere else made, settings)


def shows_trend(life: HalfState) -> bool:
    """Whether all shots of a life count for its trend: nothing was called, or one change that goes on growing.

    It may as well have begun with the insert itself. Three inserts that do the same are no coincidence, and one alone
    makes nothing normal.
    """
    if life.accepted or life.standing:
        return False
    post = weighed(life, life.stretch.rows[-1].n) if life.call is not None else None
    return life.call is None or (isinstance(post, Posterior) and post.gradual >= MOSTLY_GRADUAL)


def _suspected(life: HalfState) -> int | None:
    """Return the early edge of a change that is likelier than not, though not called: noise is learnt before it."""
    n = life.stretch.rows[-1].n
    post = weighed(life, n, 0.0)
    if not isinstance(post, Posterior) or post.log_odds <= 0.0:
        return None
    return onset_of(post.onsets, post.by_onset, n).clean


def _shorten(life: HalfState, settings: DesignSettings) -> None:
    prior, filt = life.stretch.prior, life.stretch.filter
    life.shorten(LONG_LIFE[1])
    if prior is None or filt is None:
        return
    if prior.n_sisters == 0:
        channels = life.stretch.channels()
        n, values, pauses = life.stretch.table(channels)
        if channels and len(n) >= SHORTENED_LEAST:
            paced = life.stretch.paced(n, prior.usual_s)
            least, settled = settings.least_change, prior.settled
            made = first_prior(channels, n, values, pauses, life.stretch.steps(), least, settled, paced)
            same = made.channels == prior.channels
            wider = replace(made, pause_sd=np.maximum(made.pause_sd, prior.pause_sd)) if same else made
            adopt(life, wider, settings)
            return
    adopt(life, freed(prior, filt.level()[0], np.full(len(prior.channels), FREED_SIGMA)), settings)


def start_elsewhere(life: HalfState, n: int, settings: DesignSettings) -> None:
    """Where an insert starts far from its sisters (a lot nobody called, another press), learn its level afresh.

    Not where a change since its first shots explains them better.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    asked = life.carried is not None and not life.carried.outcome
    if n != STARTED or asked or life.open() or prior is None or filt is None or not prior.n_sisters:
        return
    post = weighed(life, n)
    if isinstance(post, Posterior) and post.log_odds + np.logaddexp(0.0, post.elsewhere) > post.elsewhere:
        return
    level, var = filt.level()
    own, own_var = own_level(level, var, prior.mean[:, 0], prior.cov[:, 0, 0])
    off = np.abs(own - prior.mean[:, 0])
    if (off > ELSEWHERE * np.sqrt(prior.cov[:, 0, 0] + own_var)).any():
        life.judge_by(freed(prior, prior.mean[:, 0], off), _mode(settings), elsewhere=prior.named(off))
