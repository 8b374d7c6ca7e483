"""The monitor of one press: one shot in, one verdict out.

A life runs through: settling, watching, called. A call stays until the insert is swapped, the evidence has gone (well
below the bar for three shots), or the change has been accepted as the new level: a material change after ten shots, any
other steady one after sixty. What a swap does to a change is an experiment, see `carry`. The healthy part of a finished
life joins its sisters; of a called one only the shots before the early edge of the onset.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import NotEnoughShots
from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear import verdicts
from shotlog.wear.baseline import Prior, first_prior, freed
from shotlog.wear.carry import DECIDED, STAYS, Carried, own_level, stays_log_odds
from shotlog.wear.cause import BATCH, CAUSES, EVENT_FACTORS, UNKNOWN, group_weights
from shotlog.wear.detector import Filter
from shotlog.wear.evidence import Evidence, SwapFinding
from shotlog.wear.grounds import grounds_of
from shotlog.wear.hypotheses import Hypotheses, hypotheses
from shotlog.wear.life import Accepted, Call, Life, Mould
from shotlog.wear.lives import EndedLife
from shotlog.wear.onset import Onset, onset_of
from shotlog.wear.plain import from_plain, to_plain
from shotlog.wear.pool import Pool
from shotlog.wear.posterior import Posterior, weigh
from shotlog.wear.reading import reading_of
from shotlog.wear.settling import CadenceWatch
from shotlog.wear.sister import own_noise, sister_of
from shotlog.wear.stretch import Row, Stretch
from shotlog.wear.swap import call_rate
from shotlog.wear.thresholds import clear_log_odds, log_odds_threshold

__all__ = ["Monitor"]

F = NDArray[np.float64]

OWN_SCHEDULE = (12, 18, 27, 40, 60, 90)
"""Shots at which the first insert of a design takes stock of its own noise."""

JOIN_SCHEDULE = (24, 45, 75)
"""Shots at which an insert with few sisters adds its own noise to theirs."""

_ENOUGH_DOF = 250.0
_LONGEST, _KEPT = 240, 120
_LEAST_SISTER = 14
_MATERIAL_AFTER, _STEADY_AFTER, _ANY_AFTER = 10, 60, 150
_MOST_SETTLING = 40
_MOST_SWAPS = 2
"""A change that outlives as many swaps is the level now: who has not mended it by then means to live with it."""

_CLEAR_SHARE = 0.75
"""Share of what is left without the insert from which a change that stayed is blamed on the press."""

_FIRST_ONSET = 4
"""A change is looked for from this shot of an insert on: where it starts is its own level, not a change."""

_STARTED, _ELSEWHERE = 5, 3.5
"""After this many shots an insert whose level lies this many spreads (of sisters and reading) off is taken as it is."""

_STAYED_SHARE = 0.4
"""How far a change that outlived the swap may be from what was fitted before it."""

_SHADOW_AFTER, _SHADOW_BAR = 10, 3.0
_PLAIN = DesignSettings()
_STATE = 2


class Monitor:
    """Says, shot by shot, whether something has changed, what, since when, and how many shots are left.

    Parameters
    ----------
    press: name of the press. designs: what is known of insert designs, by name. false_calls_per_100: false calls aimed
    at per 100 healthy insert lives.

    Notes
    -----
    State: the last 240 shots of the insert, at most eight sisters per design and set-up. Cost of a shot does not grow
    with the length of the history. `restore(save())` at any shot gives the same verdicts afterwards, bit for bit.
    `waited` says whether the last shot taken came after a pause or purge on its insert.
    """

    def __init__(self, press: str, designs: Mapping[str, DesignSettings], false_calls_per_100: float = 5.0) -> None:
        self._press, self._designs, self._rate = press, designs, false_calls_per_100
        self._cadence, self._mould = CadenceWatch(), Mould()
        self.waited = False
        self._setup = 0
        self._pool = Pool(_MOST_SETTLING)
        self._findings: list[SwapFinding] = []
        self._life: Life | None = None
        self._last: Verdict | None = None

    def step(self, shot: LoggedShot) -> Verdict:
        """Take in the next shot of the press and return the verdict after it (its `signals` are left empty)."""
        held, new_batch = self._mould.take(shot)
        kinds = [kind for kind, _ in shot.events]
        wait_min = self._cadence.waited(shot.shot, shot.time)
        waited = wait_min is not None or "pause" in kinds or "purge" in kinds
        life = self._life
        if life is None or held.serial != life.held.serial:
            life = self._begin(held, shot)
            waited = new_batch = False
        elif "setup" in kinds:
            self._set_up(life, shot.shot - life.first + 1)
        n = shot.shot - life.first + 1
        life.events = [*life.events[-11:], *((n, kind) for kind in kinds)]
        if new_batch:
            self._next_batch(life, n)
        self.waited = waited
        if waited and life.stretch.filter is not None:
            life.pause = (n, life.stretch.filter.log_likelihood)
        # a dry shot fills nothing: what the press reports of it says nothing about the insert
        values = {} if "dry" in kinds else dict(shot.values)
        life.stretch.take(
            Row(n, values, "batch" if new_batch else "pause" if waited else "", wait_min if waited else None)
        )
        self._learn(life)
        self._start_elsewhere(life, n)
        self._look_for_forgotten_swap(life, n)
        self._last = self._judge(life, shot, n)
        return self._last

    # lives and what they leave behind

    def _settings(self, design: str) -> DesignSettings:
        return self._designs.get(design, _PLAIN)

    def _begin(self, held: InForce, shot: LoggedShot) -> Life:
        carried = self._end(self._life, shot.shot) if self._life is not None else None
        life = Life(held, shot.shot, f"{held.design}|{self._setup}", carried=carried)
        mounted = [h.design for h in shot.halves.values() if not h.single_use]
        if not self._judge_by_sisters(life, [held.design, *mounted]):
            life.carried = None
        self._life = life
        return life

    def _judge_by_sisters(self, life: Life, designs: Sequence[str]) -> bool:
        """Judge the insert by its sisters, else by those of the other half in the mould; return whether there are."""
        found = self._pool.prior(designs, self._setup, self._settings(life.held.design).least_change)
        if found is not None:
            prior, life.pool = found
            self._adopt(life, prior)
        return found is not None

    def _adopt(self, life: Life, prior: Prior) -> None:
        life.stretch.judge_by(prior)
        life.hypotheses = self._hypotheses(life, prior)

    def _hypotheses(self, life: Life, prior: Prior) -> Hypotheses:
        design = self._settings(life.held.design)
        return hypotheses(prior.channels, "limited" if design.pressure_limited else design.switchover)

    def _end(self, life: Life, at_shot: int) -> Carried | None:
        """Let the healthy part join the sisters, note how the life ended, and return what the swap is to be asked
        about.
        """
        call, stretch = life.call, life.stretch
        made = at_shot - life.first
        failed = call is not None and call.group == "insert" and not call.carried
        self._pool.end(life.held.design, EndedLife(made, failed))
        carried = self._carry(life, at_shot)
        if life.carried is not None and life.carried.outcome == "stays" and call is not None:
            return carried
        until = call.onset.low if call else None
        steps = [one.at for one in life.accepted if one.group == "material"]
        others = [one.at for one in life.accepted if one.group != "material"]
        if others:
            until = min(others[0], until or others[0])
        channels = stretch.channels()
        n, values, pauses = stretch.table(channels, until)
        if len(n) < _LEAST_SISTER and call is not None and not others:
            n, values, pauses = stretch.table(channels, call.onset.shot)
        if len(n) >= _LEAST_SISTER and channels:
            self._pool.join(life.key, sister_of(life.held.serial, channels, n, values, pauses, steps))
        return carried

    def _carry(self, life: Life, at_shot: int) -> Carried | None:
        call, prior = life.call, life.stretch.prior
        if call is None or prior is None:
            return None
        base = life.first - 1
        other = self._mould.reused() > 1
        if call.carried and life.carried is not None:
            return replace(life.carried, at_shot=at_shot, outcome="", swaps=life.carried.swaps + 1, other_half=other)
        post = self._weighed(life, life.stretch.rows[-1].n)
        if not isinstance(post, Posterior):
            return None
        reading = reading_of(life, post)
        onset = call.onset
        return Carried(
            life.held.serial,
            at_shot,
            dict(reading.change),
            base + onset.shot,
            base + onset.low,
            base + onset.high,
            dict(reading.weights),
            other_half=other,
        )

    def _set_up(self, life: Life, n: int) -> None:
        """Start over under a new set-up: the shots before it are done with."""
        if life.call is None:
            channels = life.stretch.channels()
            rows, values, pauses = life.stretch.table(channels)
            if len(rows) >= _LEAST_SISTER and channels:
                self._pool.join(life.key, sister_of(life.held.serial, channels, rows, values, pauses))
        self._setup += 1
        life.key = f"{life.held.design}|{self._setup}"
        life.stretch, life.call, life.carried, life.accepted, life.question = Stretch(), None, None, [], ""
        self._judge_by_sisters(life, [life.held.design])

    def _next_batch(self, life: Life, n: int) -> None:
        """A print batch of single-use halves is used up: a change that came with it goes with it."""
        life.events.append((n, "batch"))
        began = max((at for at, kind in life.events if kind == "batch" and at < n), default=None)
        if life.call is not None and began is not None and life.call.onset.high >= began and life.call.cause == BATCH:
            life.stretch.skipped.append((began, n - 1))
            life.stretch.frozen_at = None
            life.call = life.pause = None
            life.stretch.run_again()

    def _learn(self, life: Life) -> None:
        """Take stock of the noise of a first insert, and shorten a long life."""
        stretch, prior = life.stretch, life.stretch.prior
        if life.call is not None:
            return
        if len(stretch.rows) >= _LONGEST:
            self._shorten(life)
            return
        own = prior is None or prior.n_sisters == 0
        if not own:
            self._learn_noise(life)
            return
        if len(stretch.rows) not in OWN_SCHEDULE:
            return
        until = self._suspected(life)
        settings = self._settings(life.held.design)
        channels = stretch.channels()
        n, values, pauses = stretch.table(channels, until)
        if channels and len(n) >= (10 if prior is None else 14):
            least, settled = settings.least_change, settings.settling_shots
            self._adopt(life, first_prior(channels, n, values, pauses, stretch.batches(), least, settled))

    def _learn_noise(self, life: Life) -> None:
        """Let the shots so far count for the noise, while few sisters have shown it."""
        stretch, prior = life.stretch, life.stretch.prior
        if prior is None or not life.pool or prior.dof > _ENOUGH_DOF or len(stretch.rows) not in JOIN_SCHEDULE:
            return
        if life.accepted or (life.carried is not None and life.carried.outcome == "stays"):
            return
        n, values, pauses = stretch.table(prior.channels, self._suspected(life))
        if len(n) < JOIN_SCHEDULE[0] - 4:
            return
        noise = own_noise(prior.channels, n, values, pauses)
        least = self._settings(life.held.design).least_change
        made = self._pool.with_own_noise(life.pool, prior.channels, least, noise)
        if made is not None:
            self._adopt(life, made)

    def _suspected(self, life: Life) -> int | None:
        """Return the early edge of a change that is likelier than not, though not called: noise is learnt before it."""
        n = life.stretch.rows[-1].n
        post = self._weighed(life, n, 0.0)
        if not isinstance(post, Posterior) or post.log_odds <= 0.0:
            return None
        return onset_of(post.onsets, post.by_onset, n).low

    def _shorten(self, life: Life) -> None:
        rows = life.stretch.rows[-_KEPT:]
        prior, filt = life.stretch.prior, life.stretch.filter
        life.stretch = Stretch(rows=rows, skipped=[s for s in life.stretch.skipped if s[1] >= rows[0].n])
        if prior is None or filt is None:
            return
        if prior.n_sisters == 0:
            channels = life.stretch.channels()
            n, values, pauses = life.stretch.table(channels)
            if channels and len(n) >= 20:
                least = self._settings(life.held.design).least_change
                made = first_prior(channels, n, values, pauses, life.stretch.batches(), least, prior.settled)
                same = made.channels == prior.channels
                self._adopt(life, replace(made, pause_sd=np.maximum(made.pause_sd, prior.pause_sd)) if same else made)
                return
        self._adopt(life, freed(prior, filt.level()[0], np.full(len(prior.channels), 50.0)))

    # the judgement

    def _bar(self, life: Life) -> float:
        rate = call_rate(self._rate, self._settings(life.held.design).cost)
        prior = life.stretch.prior
        return log_odds_threshold(rate, prior.n_sisters, len(prior.channels)) if prior else np.inf

    def _weighed(self, life: Life, n: int, at_least: float = -np.inf) -> Posterior | float | None:
        """Return the posterior, or an upper bound of its log odds where they cannot reach `at_least`.

        None before a baseline, or before an onset is looked for.
        """
        prior, filt = life.stretch.prior, life.stretch.filter
        if prior is None or filt is None or life.hypotheses is None or filt.last < _FIRST_ONSET:
            return None
        sums = filt.sums()
        return weigh(sums, life.hypotheses, n, prior.dof, _FIRST_ONSET, self._factors(life, sums.onsets), at_least)

    @staticmethod
    def _factors(life: Life, onsets: NDArray[np.int64]) -> F | None:
        """Return how much likelier the log makes each cause at each onset; None where it says nothing."""
        if not life.events:
            return None
        factors = np.ones((len(CAUSES), len(onsets)))
        for at, kind in life.events:
            if kind in EVENT_FACTORS:
                near = (onsets >= at - 1) & (onsets <= at + (1 if kind == "batch" else 8))
                factors[:, near] *= EVENT_FACTORS[kind][:, None]
        return factors

    def _settling(self, life: Life, n: int) -> bool:
        prior, filt = life.stretch.prior, life.stretch.filter
        if prior is None or filt is None:
            return n <= self._settings(life.held.design).settling_shots
        return n <= prior.settled or filt.curve_unknown(n)

    def _judge(self, life: Life, shot: LoggedShot, n: int) -> Verdict:
        settling = self._settling(life, n)
        bar = self._bar(life)
        post = self._weighed(life, n, bar if life.call is None else -np.inf)
        self._ask_the_swap(life, n)
        if isinstance(post, Posterior):
            self._call_or_clear(life, post, n, bar, settling)
            self._accept(life, post, n)
        statistic = post.log_odds if isinstance(post, Posterior) else post
        settings, lives = self._settings(life.held.design), self._pool.lives(life.held.design)
        if life.call is not None and isinstance(post, Posterior):
            return verdicts.called(life, settings, lives, shot, post, settling, bar)
        return verdicts.quiet(life, settings, lives, shot, settling, statistic, bar)

    def _call_or_clear(self, life: Life, post: Posterior, n: int, bar: float, settling: bool) -> None:
        prior, call = life.stretch.prior, life.call
        if prior is None:
            return
        sized = bool((np.abs(post.effect) >= prior.least).any()) or post.growing_spread > 0.5
        if call is None:
            if post.log_odds >= bar and sized and not settling and self._seen_twice(life, post, n):
                life.call = Call(n, onset_of(post.onsets, post.by_onset, n), "", "", 0.0)
                life.stretch.frozen_at = n
            return
        if call.carried:
            self._mended(life, post, n, bar, sized)
            return
        call.onset = onset_of(post.onsets, post.by_onset, n)
        call.low_for = call.low_for + 1 if post.log_odds < clear_log_odds(bar) else 0
        if call.low_for >= 3:
            life.call, life.stretch.frozen_at = None, None
            life.stretch.run_again()

    @staticmethod
    def _seen_twice(life: Life, post: Posterior, n: int) -> bool:
        """Whether more than the last shot speaks for the change, or something was logged just now."""
        earlier = float(post.by_onset[post.onsets < n].sum())
        return earlier >= 0.5 or any(at >= n - 1 and kind in ("lot", "setup", "batch") for at, kind in life.events)

    def _mended(self, life: Life, post: Posterior, n: int, bar: float, sized: bool) -> None:
        """End a press fault that outlived a swap when the level comes back."""
        prior, carried = life.stretch.prior, life.carried
        if prior is None or carried is None or post.log_odds < bar or not sized or n < 12:
            return
        if carried.weights.get("check-ring leak", 0.0) > 0.5:
            return
        before = _by_channel(prior, carried.effect) / prior.sigma
        along = float(post.effect @ before) / (np.linalg.norm(post.effect) * np.linalg.norm(before) + 1e-12)
        size = np.linalg.norm(post.effect) / max(float(np.linalg.norm(before)), 1e-9)
        if along < -0.7 and 0.5 < size < 1.6 and post.growing_spread < 0.2:
            onset = onset_of(post.onsets, post.by_onset, n)
            life.call, carried.outcome = None, "mended"
            life.accepted.append(Accepted(onset.low, "press", "the press fault was put right"))
            life.stretch.accept(onset.low, n)
            life.pause = None

    def _accept(self, life: Life, post: Posterior, n: int) -> None:
        """Take a change as the new level once that is what it is."""
        call = life.call
        if call is None or call.carried:
            return
        since = n - call.onset.shot + 1
        logged = any(kind == "lot" and abs(at - call.onset.shot) <= 10 for at, kind in life.events)
        material = call.group == "material" and call.weight >= (0.7 if logged else 0.9) and since > _MATERIAL_AFTER
        elsewhere = (call.group != "insert" or call.cause == UNKNOWN) and since > _STEADY_AFTER
        if n - call.at < 5 or not (((material or elsewhere) and post.gradual < 0.3) or n - call.at > _ANY_AFTER):
            return
        base = life.first - 1
        life.accepted.append(
            Accepted(call.onset.low, call.group, f"level since shot {base + call.onset.shot} taken as normal")
        )
        del life.accepted[:-4]
        life.call = life.pause = None
        life.stretch.accept(call.onset.low, max(min(call.onset.high + 4, n - 4), call.onset.low))

    def _ask_the_swap(self, life: Life, n: int) -> None:
        """Compare the warmed-up level with what it was before the swap."""
        carried, prior, filt = life.carried, life.stretch.prior, life.stretch.filter
        if carried is None or carried.outcome or prior is None or filt is None or n < 4 or life.call is not None:
            return
        effect = _by_channel(prior, carried.effect) / prior.sigma
        level, var = filt.level()
        survives = sum(w * STAYS[CAUSES[c].group] for c, w in carried.weights.items())
        odds = stays_log_odds(
            level,
            var,
            prior.mean[:, 0],
            prior.cov[:, 0, 0],
            effect,
            prior.correlation,
            survives,
        )
        if odds < -DECIDED:
            carried.outcome = "reset"
            self._note_swap(
                carried, "confirmed", f"the change on {carried.insert} reset with the swap: it was the insert"
            )
        elif odds > DECIDED:
            carried.outcome = "stays"
            self._note_swap(
                carried, "refuted", f"the change on {carried.insert} outlived the swap: it was not the insert"
            )
            self._take_over(life, carried, n)
        elif n > _MOST_SETTLING:
            carried.outcome = "open"

    def _note_swap(self, carried: Carried, outcome: str, text: str) -> None:
        self._findings = [
            *self._findings[-19:],
            SwapFinding(self._press, carried.insert, carried.at_shot, outcome, text),
        ]

    def _take_over(self, life: Life, carried: Carried, n: int) -> None:
        """Carry a change that outlived the swap on as what it must be: material or press."""
        if life.stretch.prior is not None:
            effect = _by_channel(life.stretch.prior, carried.effect) / life.stretch.prior.sigma
            level = life.stretch.prior.mean[:, 0] + effect
            self._adopt(life, freed(life.stretch.prior, level, _STAYED_SHARE * np.abs(effect)))
        blame = 0.5 if carried.other_half else 0.0
        rest = {c: w * (blame if CAUSES[c].group == "insert" else 1.0) for c, w in carried.weights.items()}
        groups = group_weights(rest)
        total = sum(groups.values())
        group = max(groups, key=lambda g: groups[g]) if total > 0.02 else "press"
        clear = total > 0 and groups[group] >= _CLEAR_SHARE * total
        if group == "material" or not clear or carried.swaps >= _MOST_SWAPS:
            self._pool.move(life.key, carried.effect)
            return
        among = [c for c in CAUSES if CAUSES[c].group == group]
        cause = max(among, key=lambda c: rest.get(c, 0.0))
        weight = groups[group] / total if total > 0.02 else 0.7
        base = life.first - 1
        onset = Onset(carried.onset - base, carried.low - base, carried.high - base)
        life.call = Call(n, onset, group, cause, weight, carried=True)

    def _start_elsewhere(self, life: Life, n: int) -> None:
        """Where an insert starts far from its sisters (a lot nobody called, another press), learn its level afresh."""
        prior, filt = life.stretch.prior, life.stretch.filter
        asked = life.carried is not None and not life.carried.outcome
        if n != _STARTED or asked or prior is None or filt is None or not prior.n_sisters:
            return
        level, var = filt.level()
        own, own_var = own_level(level, var, prior.mean[:, 0], prior.cov[:, 0, 0])
        off = np.abs(own - prior.mean[:, 0])
        if (off > _ELSEWHERE * np.sqrt(prior.cov[:, 0, 0] + own_var)).any():
            self._adopt(life, freed(prior, prior.mean[:, 0], off))

    def _look_for_forgotten_swap(self, life: Life, n: int) -> None:
        """After a pause, ask whether a fresh insert explains the shots since better than the old one after a wait."""
        prior, filt = life.stretch.prior, life.stretch.filter
        if life.pause is None or prior is None or filt is None or not prior.n_sisters:
            return
        at, before = life.pause
        if at < 8 or n - at != _SHADOW_AFTER:
            return
        fresh = Filter(prior)
        for row in life.stretch.rows:
            if row.n >= at and row.n not in life.stretch.odd:
                raw = np.array([row.values.get(c, np.nan) for c in prior.channels])
                fresh.step(row.n - at + 1, (raw - prior.reference) / prior.sigma)
        if fresh.log_likelihood - (filt.log_likelihood - before) > _SHADOW_BAR:
            life.question = f"was an insert changed before shot {life.first - 1 + at}?"

    def evidence(self) -> Evidence:
        """Return the evidence behind the last verdict.

        Raises
        ------
        NotEnoughShots
            There is no verdict, or no baseline, yet.
        """
        life, last = self._life, self._last
        if life is None or last is None:
            raise NotEnoughShots(f"press {self._press}: no shot has been judged yet")
        post = self._weighed(life, last.shots_on_insert)
        settings = self._settings(life.held.design)
        return grounds_of(life, settings, last, post, self._bar(life), tuple(self._findings))

    # state

    def save(self) -> list[object]:
        """Return the whole state as JSON data."""
        return [
            _STATE,
            self._cadence.save(),
            to_plain(self._mould),
            self._setup,
            to_plain(self._pool),
            to_plain(self._findings),
            to_plain(self._life),
            to_plain(self._last),
        ]

    def restore(self, state: Sequence[object]) -> None:
        """Take up a saved state; the filter is run again over the shots of the insert in the mould."""
        _, cadence, mould, setup, pool, findings, life, last = state
        self._cadence.restore(from_plain(list[object], cadence))
        self._mould = from_plain(Mould, mould)
        self._setup = from_plain(int, setup)
        self._pool = from_plain(Pool, pool)
        self._findings = from_plain(list[SwapFinding], findings)
        self._last = None if last is None else from_plain(Verdict, last)
        self._life = None if life is None else from_plain(Life, life)
        if self._life is not None and self._life.stretch.prior is not None:
            self._life.hypotheses = self._hypotheses(self._life, self._life.stretch.prior)
            self._life.stretch.run_again()


def _by_channel(prior: Prior, values: Mapping[str, float]) -> F:
    return np.array([values.get(name, 0.0) for name in prior.channels])
