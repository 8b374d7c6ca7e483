"""Action limits that the technician configured: what is beyond one at a shot, and what the verdict must be then.

A limit speaks of the part that was just made, not of what changed: it holds from the first shot of an insert on, while
it settles, without a baseline, and for channels that are never judged. One reading beyond may be a torn value or an odd
shot: its part is held and it is said, no more. Two running, or a level that lies beyond, are no chance: no shot now is
a sound one. Whether a swap mends that is another question. Where an open change is laid to something else than the
insert, that is to be looked at first; and an insert that still settles is given its shots to do so.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from shotlog.channels import CHANNELS
from shotlog.facts import PassedLimit
from shotlog.parts.bad import beyond
from shotlog.records import LoggedShot, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.change.causes import BATCH
from shotlog.wear.constants import BEYOND_FOR
from shotlog.wear.life.half import HalfState
from shotlog.wear.replacing import replaced

__all__ = ["LimitWatch", "beyond_limits", "laid_elsewhere", "level_at", "tightest"]


@dataclass
class LimitWatch:
    """For how many shots running each channel has been reported beyond its limit, by channel, since the last swap.

    A shot that does not report the channel, a dry one too, neither ends nor lengthens a run. `last`: what was passed at
    the last report of a channel, which stands while it is not reported if it was no single reading.
    """

    running: dict[str, int] = field(default_factory=dict)
    last: dict[str, PassedLimit] = field(default_factory=dict)

    def begin(self) -> None:
        """Start over: another insert is in the mould, or another set-up in force."""
        self.running, self.last = {}, {}

    def take(
        self, bounds: Mapping[str, Bound], values: Mapping[str, float], level: Mapping[str, float]
    ) -> tuple[PassedLimit, ...]:
        """Take in a shot and return the limits passed at it, in the order of the table of channels.

        `level`: what the fitted level says this shot is, by channel in its unit, where that is known.
        """
        passed = []
        for name in CHANNELS:
            if name not in bounds:
                continue
            if name not in values:
                if values and self.running.get(name, 0) >= BEYOND_FOR:
                    passed.append(self.last[name])
                continue
            self.last.pop(name, None)
            reported = beyond(bounds[name].low, bounds[name].high, values[name])
            self.running[name] = 0 if reported is None else self.running.get(name, 0) + 1
            lies = beyond(bounds[name].low, bounds[name].high, level[name]) if name in level else None
            limit = reported if reported is not None else lies
            if limit is not None:
                value = values[name] if reported is not None else level[name]
                self.last[name] = PassedLimit(name, limit, False, value, self.running[name], lies is not None)
                passed.append(self.last[name])
        return tuple(passed)

    def judge(
        self,
        verdict: Verdict,
        lives: Sequence[HalfState],
        shot: LoggedShot,
        values: Mapping[str, float],
        settings: Callable[[str], DesignSettings],
        frozen: Collection[str],
    ) -> Verdict:
        """Return a verdict as the limits of every half in the mould leave it.

        `lives`: of the reused halves. `values`: as reported, none of a dry shot. `settings`: of a design by its name.
        `frozen`: dead channels, whose limits are the sensor's affair.
        """
        designs = dict.fromkeys(held.design for held in (*(life.held for life in lives), *shot.halves.values()))
        bounds = tightest(settings(design).limits for design in designs)
        if not bounds:
            return verdict
        judged = next(life for life in lives if life.held.serial == verdict.insert)
        passed = self.take(bounds, values, level_at(judged, shot.shot - judged.first + 1))
        dead = bool(passed) and all(one.channel in frozen for one in passed)
        elsewhere = dead or any(laid_elsewhere(life) for life in lives)
        return beyond_limits(verdict, passed, elsewhere, settings(judged.held.design).settling_shots + judged.made)


def tightest(every: Iterable[Mapping[str, Bound]]) -> dict[str, Bound]:
    """Return, of the limits of several halves, the ones that are passed first."""
    found: dict[str, Bound] = {}
    for bounds in every:
        for name, one in bounds.items():
            other = found.get(name, Bound())
            lows = [end for end in (one.low, other.low) if end is not None]
            highs = [end for end in (one.high, other.high) if end is not None]
            found[name] = Bound(max(lows, default=None), min(highs, default=None))
    return found


def level_at(life: HalfState, n: int) -> dict[str, float]:
    """Return what the fitted level says shot `n` of an insert is, by channel in its unit; nothing before a baseline.

    While a change is followed it is the level beyond it, once there is one.
    """
    stretch, since = life.stretch, 0
    if life.ahead is not None and life.beyond is not None:
        stretch, since = life.ahead, life.beyond.high + 1
    prior, filt = stretch.prior, stretch.filter
    if prior is None or filt is None or filt.last <= since:
        return {}
    return dict(zip(prior.channels, (prior.reference + filt.fitted(n) * prior.sigma).tolist(), strict=True))


def laid_elsewhere(life: HalfState) -> bool:
    """Say whether an open change is laid to something that a swap of the insert does not mend."""
    return any(one.group != "insert" or one.cause == BATCH or one.carried for one in life.open())


def beyond_limits(verdict: Verdict, passed: tuple[PassedLimit, ...], elsewhere: bool, settling_shots: int) -> Verdict:
    """Return a verdict as it must be at a shot at which limits are passed: never keep, and nothing left.

    `elsewhere`: an open change is laid to something else than the insert. `settling_shots`: of its design.
    """
    if not passed:
        return verdict
    lasting = any(one.level or one.running >= BEYOND_FOR for one in passed)
    settled = not verdict.settling and verdict.shots_on_insert > settling_shots
    swap = verdict.verdict == "swap" or (lasting and settled and not elsewhere)
    facts = verdict.facts
    if facts is not None:
        # beyond a limit a part counts as bad: a chance and a cost of less than that would contradict it
        facts = replaced(facts, limits=passed, bad_chance=None, next_shot_cost=None, swap_cost=None)
    return replaced(
        verdict,
        verdict="swap" if swap else "watch",
        left_median=0.0,
        left_low=0.0,
        left_high=0.0,
        limits=tuple(one.channel for one in passed),
        facts=facts,
    )
