"""The monitor of one press: one shot in, one verdict out."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.baseline import MOST_SISTERS, Prior, Sister, first_prior, pooled_prior, sister_of
from shotlog.wear.cause import CAUSES, GROUPS, group_weights
from shotlog.wear.hypotheses import Hypotheses, hypotheses
from shotlog.wear.onset import Onset, onset_of
from shotlog.wear.posterior import Posterior, weigh
from shotlog.wear.settling import CadenceWatch
from shotlog.wear.stretch import Row, Stretch
from shotlog.wear.thresholds import clear_log_odds, log_odds_threshold

OWN_SCHEDULE = (12, 18, 27, 40, 60, 90)
_LONGEST = 240
_UNNAMED = InForce("")


@dataclass
class Call:
    """A change that has been called on the insert in the mould."""

    at: int
    onset: Onset
    group: str
    cause: str
    weight: float
    low_for: int = 0


@dataclass
class Life:
    """The insert judged now; `first` is the press's shot number of its first shot."""

    held: InForce
    first: int
    stretch: Stretch = field(default_factory=Stretch)
    hypotheses: Hypotheses | None = None
    call: Call | None = None
    events: list[tuple[int, str]] = field(default_factory=list)


class Monitor:
    def __init__(self, press: str, designs: Mapping[str, DesignSettings], false_calls_per_100: float = 5.0) -> None:
        self._press, self._designs, self._rate = press, designs, false_calls_per_100
        self._cadence = CadenceWatch()
        self._sisters: dict[str, list[Sister]] = {}
        self._life: Life | None = None
        self.posterior: Posterior | None = None

    def step(self, shot: LoggedShot) -> Verdict:
        held = judged(shot, self._life)
        pause = self._cadence.is_pause(shot.shot, shot.time) or any(kind in ("pause", "purge") for kind, _ in shot.events)
        if self._life is None or held.serial != self._life.held.serial:
            self._begin(held, shot.shot)
            pause = False
        life = self._life
        assert life is not None
        n = shot.shot - life.first + 1
        for kind, _ in shot.events:
            life.events.append((n, kind))
        life.stretch.take(Row(n, dict(shot.values), pause))
        self._learn(life)
        return self._judge(life, shot, n)

    def _settings(self, design: str) -> DesignSettings:
        return self._designs.get(design, DesignSettings())

    def _begin(self, held: InForce, shot: int) -> None:
        if self._life is not None:
            self._end(self._life)
        life = Life(held, shot)
        settings = self._settings(held.design)
        sisters = self._sisters.get(held.design, [])
        if sisters:
            channels = tuple(dict.fromkeys(c for s in sisters for c in s.channels))
            prior = pooled_prior(sisters, channels, settings.least_change, 40)
            if prior is not None:
                self._adopt(life, prior)
        self._life = life

    def _adopt(self, life: Life, prior: Prior) -> None:
        life.stretch.judge_by(prior)
        life.hypotheses = hypotheses(prior.channels)

    def _end(self, life: Life) -> None:
        until = life.call.onset.low if life.call else None
        channels = life.stretch.channels()
        n, values, pauses = life.stretch.table(channels, until)
        if len(n) < 14:
            return
        pool = self._sisters.setdefault(life.held.design, [])
        pool.append(sister_of(life.held.serial, channels, n, values, pauses))
        del pool[:-MOST_SISTERS]

    def _learn(self, life: Life) -> None:
        stretch = life.stretch
        if life.call or (stretch.prior is not None and stretch.prior.n_sisters) or len(stretch.rows) not in OWN_SCHEDULE:
            return
        settings = self._settings(life.held.design)
        channels = stretch.channels()
        n, values, pauses = stretch.table(channels)
        if channels and len(n) >= 10:
            self._adopt(life, first_prior(channels, n, values, pauses, settings.least_change, settings.settling_shots))

    def _judge(self, life: Life, shot: LoggedShot, n: int) -> Verdict:
        prior, filt = life.stretch.prior, life.stretch.filter
        settling = n <= (prior.settled if prior else self._settings(life.held.design).settling_shots)
        blank = Verdict(shot.press, shot.shot, life.held.serial, n, settling, "keep", "")
        if prior is None or filt is None or life.hypotheses is None or not len(filt.sums().onsets):
            return blank
        bar = log_odds_threshold(self._rate, prior.n_sisters)
        first = 1 if prior.n_sisters else 3
        sums = filt.sums()
        needed = bar if life.call is None else -np.inf
        post = weigh(sums, life.hypotheses, n, prior.dof, first, self._factors(life, sums.onsets), needed)
        if isinstance(post, float):
            return Verdict(
                shot.press, shot.shot, life.held.serial, n, settling, "keep", "", statistic=post, threshold=bar
            )
        self.posterior = post
        sized = bool((np.abs(post.effect) >= prior.least).any())
        blocked = n <= (2 if prior.n_sisters else 12)
        if life.call is None and post.log_odds >= bar and sized and not blocked:
            life.call = Call(n, Onset(n, n, n), "", "", 0.0)
            filt.frozen = True
        elif life.call is not None:
            life.call.low_for = life.call.low_for + 1 if post.log_odds < clear_log_odds(bar) else 0
            if life.call.low_for >= 3:
                life.call, filt.frozen = None, False
        if life.call is None:
            return Verdict(shot.press, shot.shot, life.held.serial, n, settling, "keep", "", statistic=post.log_odds, threshold=bar)
        call = life.call
        call.onset = onset_of(post.onsets, post.by_onset, n)
        weights = dict(zip(life.hypotheses.names, post.by_cause.tolist(), strict=True))
        groups = group_weights(weights)
        call.group = max(GROUPS, key=lambda g: groups[g])
        call.cause = max((c for c in weights if CAUSES[c].group == call.group), key=lambda c: weights[c])
        call.weight = groups[call.group]
        base = life.first - 1
        return Verdict(
            shot.press, shot.shot, life.held.serial, n, settling, "watch", "", (), call.cause, call.group, call.weight,
            base + call.onset.shot, base + call.onset.low, base + call.onset.high, statistic=post.log_odds, threshold=bar,
        )

    def _factors(self, life: Life, onsets: np.ndarray) -> np.ndarray | None:
        if not life.events:
            return None
        factors = np.ones((len(CAUSES), len(onsets)))
        for at, kind in life.events[-6:]:
            near = (onsets >= at - 1) & (onsets <= at + 8)
            for row, cause in enumerate(CAUSES.values()):
                factors[row, near] *= cause.events.get(kind, 1.0)
        return factors


def judged(shot: LoggedShot, life: Life | None) -> InForce:
    for half in ("moving", "core", "fixed"):
        held = shot.halves.get(half)
        if held is not None and not held.single_use:
            return held
    return _UNNAMED
