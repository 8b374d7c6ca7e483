"""The monitor of one press: one shot in, one verdict out.

A life runs through: settling (the first of a design only), watching, called; after a call the next change is looked
for (`looking_on`), so that several may stand open. A change stays open until the insert is swapped, the evidence has
gone (well below the bar for three shots), or something closes it (`closing`); that it has lasted closes nothing. What
a swap does to a change is an experiment (`carried`). An insert is judged by its sisters or its own shots (`learning`);
the healthy part of a finished life joins its sisters, of a called one only the shots before the change may have begun.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from shotlog.entries import KINDS, clock_step
from shotlog.errors import NotEnoughShots
from shotlog.facts import Noted, Seated, SwapFinding
from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.bars import log_odds_threshold, raised
from shotlog.wear.change.causes import CHECK_RING
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import MOST_FINDINGS, MOST_SETTLING, SCATTER_MORE
from shotlog.wear.level.settling import CadenceWatch
from shotlog.wear.level.still import StillWatch
from shotlog.wear.life.calling import call_or_clear, weighed
from shotlog.wear.life.carried import ask_the_swap
from shotlog.wear.life.closing import accept_material, found_sound
from shotlog.wear.life.ends import Ends
from shotlog.wear.life.fitted import fitted_of, name_call
from shotlog.wear.life.forgotten_swap import look_for_forgotten_swap
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.halves import Laid, laid, name_by_course
from shotlog.wear.life.labels import label_sound
from shotlog.wear.life.learning import learn, start_elsewhere
from shotlog.wear.life.lifetimes import EndedLife
from shotlog.wear.life.looking_on import look_on
from shotlog.wear.life.marks import StretchShot
from shotlog.wear.life.mould import Mould
from shotlog.wear.life.other_swap import answer_others, ask_other_swap
from shotlog.wear.mounted import Mounted
from shotlog.wear.plain import STATE, from_plain, to_plain
from shotlog.wear.replacing import replaced
from shotlog.wear.verdict.called import called
from shotlog.wear.verdict.deciding import deciding
from shotlog.wear.verdict.evidence import Evidence, evidence_of
from shotlog.wear.verdict.finding import beside_findings, found_sound_at, lay_to_the_rest
from shotlog.wear.verdict.frozen import beside_frozen
from shotlog.wear.verdict.known import kept, seated, with_noted
from shotlog.wear.verdict.limits import LimitWatch
from shotlog.wear.verdict.quiet import quiet
from shotlog.wear.verdict.rhythm import beside_rhythm

__all__ = ["Monitor"]


@dataclass(frozen=True, slots=True)
class _Looked:
    """What the shots of one insert say after the last of them."""

    settling: bool
    bar: float
    post: Posterior | float | None


class Monitor:
    """Says, shot by shot, whether something has changed, what, since when, and how many shots are left.

    Parameters
    ----------
    press: name of the press. designs: what is known of insert designs, by name. false_calls: in 100 sound insert lives,
    as stated; where they are not (None), `FALSE_CALLS_PER_100`, moved by what the design's inserts and parts cost.

    Notes
    -----
    State: the last 240 shots of the insert, more only while a change is called; at most 24 sisters per design and
    set-up, eight where lives are long. Cost of a shot does not grow with the length of the history. `restore(save())`
    at any shot gives the same verdicts afterwards, bit for bit. `waited` says whether the last shot taken came after a
    pause or purge on its insert.
    """

    def __init__(self, press: str, designs: Mapping[str, DesignSettings], false_calls: float | None = None) -> None:
        self._press = press
        self._cadence, self._mould = CadenceWatch(), Mould()
        self.waited = False
        self._mounted = Mounted(designs=designs, false_calls=false_calls)
        self._limits, self._still = LimitWatch(), StillWatch()
        self._findings: list[SwapFinding] = []
        self._noted: list[Noted] = []
        self._last: Verdict | None = None

    def step(self, shot: LoggedShot) -> Verdict:
        """Take in the next shot of the press and return the verdict after it (its `signals` are left empty)."""
        mounted, new_batch = self._mould.take(shot)
        kinds = [kind for kind, _ in shot.events]
        effects = [KINDS[kind].effect for kind in kinds]
        self._noted = kept(self._noted, shot)
        new_setup = any(effect.new_baseline for effect in effects)
        steps = [clock_step(text) for kind, text in shot.events if KINDS[kind].effect.clock_set]
        known = [step for step in steps if step is not None]
        unknown = len(known) < len(steps)
        wait_min = self._cadence.waited(shot.shot, shot.time, None if unknown else sum(known))
        # who does not know how long it was takes it for a stop: what follows settles again
        waited = wait_min is not None or unknown or any(effect.stood for effect in effects)
        self._mounted.hear(self._press, shot.events)
        swapped = self._mounted.change(mounted, shot, new_setup, any(effect.new_scale for effect in effects))
        if swapped or new_setup:
            self._limits.begin()
        self.waited = waited and self._mould.newest() not in swapped
        # a dry shot fills nothing: what the press reports of it says nothing about the insert
        reported = {} if any(effect.no_part for effect in effects) else dict(shot.values)
        died = self._still.take(shot.shot, reported)
        values = {name: value for name, value in reported.items() if name not in self._still.frozen}
        seen, heard, cleared = {}, self._findings, []
        looked_at = found_sound_at(shot, self._mounted.lives)
        lay_to_the_rest(self._mounted.lives, looked_at)
        for half, life in self._mounted.lives.items():
            fresh, n = half in swapped, shot.shot - life.first + 1
            life.note(n, kinds)
            if new_batch and not fresh:
                life.begin_batch(n)
            mark = "" if fresh else "swap" if swapped else "pause" if waited else ""
            took_s = None if fresh or waited else self._took(shot)
            row = StretchShot(n, values, mark, wait_min if mark and waited else None, took_s, new_batch and not fresh)
            life.take(row, waited and mark == "pause")
            if died:
                life.leave_out(died)
            settings = self._mounted.settings(life.held.design)
            learn(life, self._mounted.pool, settings)
            start_elsewhere(life, n, settings)
            look_for_forgotten_swap(life)
            if half in looked_at:
                label_sound(life, n, self._mounted.pool)
                cleared += found_sound(life, n)
            seen[half] = self._look(life, n)
            life.hear()
        self._mounted.pool.clear(cleared)  # one answer, whichever halves had the change
        name_by_course(self._mounted.lives)
        changes = laid(self._mounted.lives, self._mounted.pool)
        mould = seated(self._mould.since)
        said = {
            half: self._say(life, shot, seen[half], changes[half], mould) for half, life in self._mounted.lives.items()
        }
        said = beside_findings(said, self._mounted.lives, shot, self._mould.newest())
        verdict = deciding(said, self._mould.newest())
        if self._findings is not heard and verdict.facts is not None:
            verdict = replaced(verdict, facts=replaced(verdict.facts, swap=self._findings[-1]))
        verdict = self._limits.judge(
            self._beside_rhythm(verdict),
            list(self._mounted.lives.values()),
            shot,
            reported,
            self._mounted.settings,
            self._still.frozen,
        )
        for half, life in self._mounted.lives.items():
            one = verdict if life.held.serial == verdict.insert else said[half]
            onset = None if one.onset is None else one.onset - life.first + 1
            life.take_verdict(shot.shot - life.first + 1, one.verdict, one.group, onset)
        self._last = with_noted(beside_frozen(verdict, self._still.frozen), self._noted)
        return self._last

    def _took(self, shot: LoggedShot) -> float | None:
        """Return the time since the shot before in seconds, by the clock, or as reported in a recording played fast."""
        return shot.values.get("cycle_time") if self._cadence.at_speed else self._cadence.took_s

    @property
    def newest(self) -> tuple[InForce, int]:
        """The insert changed last, on which the charts run, and the shots made on it."""
        life = self._mounted.lives[self._mould.newest()]
        return life.held, life.stretch.rows[-1].n

    @property
    def moved(self) -> bool:
        """Whether the insert changed last has gone on from another level than its first: a lot, a change closed."""
        return bool(self._mounted.lives[self._mould.newest()].accepted)

    # the judgement

    def _bar(self, life: HalfState) -> float:
        prior, rate, tried = life.stretch.prior, self._mounted.rate(life.held.design), self._mounted.pool.tried
        if prior is None:
            return log_odds_threshold(rate, 0, len(life.stretch.channels())) + raised(rate, tried)
        scatters = any(one.cause == CHECK_RING for one in life.standing)
        table = log_odds_threshold(rate, prior.n_sisters, len(prior.channels))
        return table + raised(rate, tried) + (SCATTER_MORE if scatters else 0.0)

    def _settling(self, life: HalfState, n: int) -> bool:
        prior, filt = life.stretch.prior, life.stretch.filter
        if prior is None or filt is None:
            return n <= self._mounted.settings(life.held.design).settling_shots
        return n <= prior.settled or filt.curve_unknown(n)

    def _look(self, life: HalfState, n: int) -> _Looked:
        """Let an insert's shots say what they do of a change: calls, their names, and their end."""
        settling = self._settling(life, n)
        bar = self._bar(life)
        settings = self._mounted.settings(life.held.design)
        found = ask_the_swap(life, n, MOST_SETTLING, self._press, self._mounted.pool, settings)
        if found is not None:
            answer_others(self._mounted.lives.values(), found)
        found = ask_other_swap(life, n, MOST_SETTLING, self._press, self._mounted.pool) or found
        if found is not None and found.outcome == "refuted":
            self._mounted.pool.acquit(found.insert)
        if found is not None:
            self._findings = [*self._findings[1 - MOST_FINDINGS :], found]
        post = weighed(life, n, bar if life.call is None else -inf)
        if isinstance(post, Posterior):
            was_called = life.call is not None
            call_or_clear(life, post, n, bar, settling)
            self._follow(life, post, n)
            if look_on(life, post, n, bar):
                post = weighed(life, n)
                self._follow(life, post, n)
            elif was_called and life.call is None:
                post = weighed(life, n, bar)
        return _Looked(settling, bar, post)

    def _say(
        self, life: HalfState, shot: LoggedShot, seen: _Looked, changes: Sequence[Laid], mould: tuple[Seated, ...]
    ) -> Verdict:
        """Return the verdict on one insert; `changes`: those laid to it; `mould`: who sits in it."""
        ends = self._mounted.pool.ends(life.held.design)
        said = self._said_of(life, shot, seen, changes, ends, mould)
        if ends.n_elsewhere and said.facts is not None:
            rests_on = replaced(said.facts, lives_here=ends.n_here, lives_elsewhere=ends.n_elsewhere)
            return replaced(said, facts=rests_on)
        return said

    def _said_of(
        self,
        life: HalfState,
        shot: LoggedShot,
        seen: _Looked,
        changes: Sequence[Laid],
        ends: Ends,
        mould: tuple[Seated, ...],
    ) -> Verdict:
        settings, post = self._mounted.settings(life.held.design), seen.post
        statistic = post.log_odds if isinstance(post, Posterior) else post
        if changes:
            followed = post if isinstance(post, Posterior) and life.call is not None else None
            return called(life, changes, settings, ends, shot, followed, seen.settling, statistic, seen.bar, mould)
        return quiet(life, settings, ends, shot, seen.settling, statistic, seen.bar, mould)

    def _follow(self, life: HalfState, post: Posterior | float | None, n: int) -> None:
        """Name the change that is followed, and take it as the level where it is surely the material."""
        if life.call is not None and isinstance(post, Posterior):
            name_call(life, fitted_of(life, post))
            accept_material(life, post, n)

    def _beside_rhythm(self, verdict: Verdict) -> Verdict:
        life = next((one for one in self._mounted.lives.values() if one.held.serial == verdict.insert), None)
        return verdict if life is None else beside_rhythm(verdict, life.rhythm, life.stretch.prior, life.first)

    def evidence(self) -> Evidence:
        """Return the evidence behind the last verdict.

        Raises
        ------
        NotEnoughShots
            There is no verdict, or no baseline, yet.
        """
        last = self._last
        if last is None:
            raise NotEnoughShots(f"press {self._press}: no shot has been judged yet")
        life = next(life for life in self._mounted.lives.values() if life.held.serial == last.insert)
        post = weighed(life, last.shot - life.first + 1)
        settings = self._mounted.settings(life.held.design)
        set_for = (self._bar(life), self._mounted.rate(life.held.design), self._mounted.pool.tried.cleared)
        found = evidence_of(life, settings, last, post, set_for, tuple(self._findings))
        ends = self._mounted.pool.ends(life.held.design)
        return replaced(found, lives_here=ends.n_here, lives_elsewhere=ends.n_elsewhere)

    @property
    def lives(self) -> Mapping[str, list[EndedLife]]:
        """The lives that ended on this press, by design, oldest first, as far as they are kept."""
        return self._mounted.pool.ended

    @property
    def n_ended(self) -> int:
        """A number that goes up whenever one of `lives` ends, or is known otherwise than before."""
        return self._mounted.pool.n_ended

    # state

    def save(self) -> list[object]:
        """Return the whole state as JSON data."""
        return [
            STATE,
            self._cadence.save(),
            to_plain(self._mould),
            to_plain(self._mounted),
            to_plain(self._limits),
            to_plain(self._still),
            to_plain(self._findings),
            to_plain(self._noted),
            to_plain(self._last),
        ]

    def restore(self, state: Sequence[object]) -> None:
        """Take up a saved state; the filters are run again over the shots of the inserts in the mould."""
        _, cadence, mould, mounted, limits, still, findings, noted, last = state
        self._cadence.restore(from_plain(list[object], cadence))
        self._mould = from_plain(Mould, mould)
        known = self._mounted
        self._mounted = replaced(from_plain(Mounted, mounted), designs=known.designs, false_calls=known.false_calls)
        self._mounted.run_again()
        self._limits = from_plain(LimitWatch, limits)
        self._still = from_plain(StillWatch, still)
        self._findings = from_plain(list[SwapFinding], findings)
        self._noted = from_plain(list[Noted], noted)
        self._last = None if last is None else from_plain(Verdict, last)
