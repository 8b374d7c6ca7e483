"""The pool: what finished lives leave to the inserts after them, by design and set-up, and how long they lived."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from shotlog.life_text import LifeTold
from shotlog.wear.change.bars import Tried
from shotlog.wear.change.labelled import Labelled
from shotlog.wear.constants import (
    ENOUGH_DOF,
    LIVES_FROM,
    MOST_ELSEWHERE,
    MOST_ENDED,
    MOST_LABELLED,
    MOST_OUT,
    MOST_SISTERS,
    OTHER_SETUP_SIGMA,
)
from shotlog.wear.level.baseline import Prior, freed
from shotlog.wear.level.sister import Sister, moved
from shotlog.wear.level.sisters import pooled_prior
from shotlog.wear.level.whitening import Profile
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.ends import Ends, ends_of
from shotlog.wear.life.lifetimes import EndedLife, Weibull, fit
from shotlog.wear.life.press_lives import lives_here
from shotlog.wear.life.taken_out import TakenOut

__all__ = ["Pool"]


@dataclass
class Pool:
    """Sisters by ``design|set-up``, oldest first, ended lives by design, inserts that are out by serial, labelled
    changes by design, and how the bars of the press have proved. `elsewhere`: lives that ended on other presses, by
    design, in the order in which they were told.

    The life curves are worked out when asked for.
    """

    sisters: dict[str, list[Sister]] = field(default_factory=dict)
    ended: dict[str, list[EndedLife]] = field(default_factory=dict)
    out: dict[str, TakenOut] = field(default_factory=dict)
    labelled: dict[str, list[Labelled]] = field(default_factory=dict)
    tried: Tried = field(default_factory=Tried)
    elsewhere: dict[str, list[LifeTold]] = field(default_factory=dict)
    n_ended: int = field(default=0, metadata={"saved": False})
    _curves: dict[str, Weibull | None] = field(default_factory=dict, metadata={"saved": False})
    _ends: dict[str, Ends] = field(default_factory=dict, metadata={"saved": False})

    def prior(self, designs: Sequence[str], setup: int, least_change: Mapping[str, float]) -> tuple[Prior, str] | None:
        """Return the prior from the first of the designs that has sisters, and the key of the pool it comes from.

        From an earlier set-up the level is left free and the key is empty: its sisters tell the noise only.
        """
        for design in designs:
            for at in range(setup, -1, -1):
                key = f"{design}|{at}"
                sisters = self.sisters.get(key, [])
                channels = tuple(dict.fromkeys(c for s in sisters for c in s.channels))
                prior = pooled_prior(sisters, channels, least_change)
                if prior is not None and at == setup:
                    return prior, key
                if prior is not None:
                    p = len(prior.channels)
                    return freed(prior, np.zeros(p), np.full(p, OTHER_SETUP_SIGMA)), ""
        return None

    def with_own_noise(
        self, key: str, channels: tuple[str, ...], least_change: Mapping[str, float], own: Mapping[str, Profile]
    ) -> Prior | None:
        """Return the prior of a pool, the insert's own noise so far counted in."""
        return pooled_prior(self.sisters[key], channels, least_change, own)

    def join(self, key: str, sister: Sister) -> None:
        """Take in a finished life; where a material change was accepted in it, the older levels move with it."""
        if not sister.channels:
            return
        shift = {name: one.shift for name, one in sister.channels.items()}
        if any(shift.values()):
            self.move(key, shift)
        pool = self.sisters.setdefault(key, [])
        pool.append(sister)
        del pool[: -_as_many(pool)]

    def move(self, key: str, by: Mapping[str, float]) -> None:
        """Move the levels of a pool, by channel in its unit: a change that holds for the inserts to come."""
        self.sisters[key] = [moved(one, by) for one in self.sisters.get(key, [])]
        self.out = {serial: one.moved(by) if one.key == key else one for serial, one in self.out.items()}

    def forget_values(self) -> None:
        """Forget all that was learnt from values, which are in another scale from here on; lives keep their lengths."""
        self.sisters, self.labelled = {}, {}
        self.ended = {design: [replace(one, worn=None) for one in ended] for design, ended in self.ended.items()}
        self._ends = {}

    def hear(self, life: LifeTold) -> None:
        """Take in a life that ended on another press, in place of what was told of that insert before; one without a
        shot says that there was none.
        """
        self._leave(life.known_by)
        if life.made > 0:
            told = self.elsewhere.setdefault(life.design, [])
            told.append(life)
            del told[:-MOST_ELSEWHERE]
            self._forget(life.design)

    def leave(self, serial: str) -> int:
        """Forget what was told of an insert that is here now; return the shots it had made on other presses of the log.

        One of the same serial in another log is another insert: small shops count alike, and its shots are not carried.
        """
        return self._leave(("", serial))

    def _leave(self, known_by: tuple[str, str]) -> int:
        made = 0
        for design, told in self.elsewhere.items():
            of_it = [one.made for one in told if one.known_by == known_by]
            if of_it:
                made = max(made, *of_it)
                told[:] = [one for one in told if one.known_by != known_by]
                self._forget(design)
        return made

    def known(self, design: str) -> tuple[list[EndedLife], list[LifeTold]]:
        """Return the lives of a design that ended here, and those that ended elsewhere: of an insert that was on both
        (which only presses of one log can say), the one with the more shots.
        """
        ended, told = self.ended.get(design, []), self.elsewhere.get(design, [])
        if not told:
            return ended, told
        here = {one.serial: one.made for one in ended if one.serial}
        there = {one.serial: one.made for one in told if not one.site}
        return (
            [one for one in ended if there.get(one.serial, 0) <= one.made],
            [one for one in told if one.site or here.get(one.serial, -1) < one.made],
        )

    def end(self, design: str, life: EndedLife) -> None:
        """Note how a life ended; of an insert that had come back, in place of how it ended before."""
        ended = self.ended.setdefault(design, [])
        ended[:] = [one for one in ended if not life.serial or one.serial != life.serial]
        ended.append(life)
        del ended[:-MOST_ENDED]
        self._forget(design)

    def prove(self, false_calls: float) -> None:
        """Note that a life has ended, judged by a bar for so many `false_calls` in 100."""
        self.tried = self.tried.with_ended(false_calls)

    def clear(self, called: Collection[OpenChange]) -> None:
        """Note what had been called on an insert that a person found sound; nothing where that is empty."""
        if called:
            self.tried = self.tried.with_cleared(max(one.over for one in called))

    def gone_off(self, serial: str, failed: bool) -> None:
        """Correct whether an insert had gone off when it came out, once a swap has spoken and people found nothing."""
        for design, ended in self.ended.items():
            if any(one.serial == serial for one in ended):
                ended[:] = [_gone_off(one, failed) if one.serial == serial else one for one in ended]
                self._forget(design)

    def take_out(self, serial: str, left: TakenOut) -> None:
        """Keep what an insert was when it came out; of many the last."""
        kept = {name: one for name, one in self.out.items() if name != serial}
        self.out = dict([*kept.items(), (serial, left)][-MOST_OUT:])

    def put_back(self, design: str, serial: str) -> TakenOut | None:
        """Return what an insert was that comes back, None for one never seen; its life has not ended after all."""
        left = self.out.pop(serial, None)
        if left is not None:
            self.ended[design] = [one for one in self.ended.get(design, []) if one.serial != serial]
            self._forget(design)
        return left

    def acquit(self, serial: str) -> None:
        """Take from an insert that is out what was laid to it: the swap has shown that it stayed."""
        if serial in self.out:
            self.out[serial] = self.out[serial].acquitted()

    def label(self, design: str, one: Labelled) -> None:
        """Take in a change of which it is known what it was: of many the last."""
        self.labelled[design] = [*self.labelled.get(design, []), one][-MOST_LABELLED:]

    def answer(self, design: str, one: Labelled, told: Collection[str], stayed: bool) -> None:
        """Take in a change that a swap says is of the causes `told`; what people had said of it is narrowed by that.

        Where the two contradict each other, a change that has `stayed` was not what they took it for, and is forgotten;
        one that went was mended at the same stop, and people know by what.
        """
        known = self.labelled.get(design, [])
        same = [at for at, other in enumerate(known) if (other.serial, other.at_shot) == (one.serial, one.at_shot)]
        if not same:
            self.label(design, one)
            return
        left = [other.narrowed(told) or (None if stayed else other) if at in same else other
                for at, other in enumerate(known)]  # fmt: skip
        self.labelled[design] = [other for other in left if other is not None]

    def lives(self, design: str) -> Weibull | None:
        """Return how long inserts of the design live, once enough have ended, and gone off, to tell."""
        return self._curve(design, "sound")

    def kept(self, design: str) -> Weibull | None:
        """Return how long inserts of the design were made to last, once enough have: those that went off till they
        came out.
        """
        return self._curve(design, "kept")

    def ends(self, design: str) -> Ends:
        """Return what the ended lives of the design say of how much longer an insert will do."""
        if design not in self._ends:
            ended, elsewhere = self.known(design)
            self._ends[design] = ends_of(ended, self.lives(design), self.kept(design), elsewhere)
        return self._ends[design]

    def _curve(self, design: str, until: str) -> Weibull | None:
        key = f"{design}|{until}"
        if key not in self._curves:
            ended, elsewhere = self.known(design)
            n_failed = sum(one.failed for one in ended) + sum(one.gone_off for one in elsewhere)
            enough = len(ended) + len(elsewhere) >= LIVES_FROM[0] and n_failed >= LIVES_FROM[1]
            counted = ended if until == "sound" else [replace(one, n_shots=one.made) for one in ended]
            self._curves[key] = _fitted(counted, elsewhere, until) if enough else None
        return self._curves[key]

    def _forget(self, design: str) -> None:
        self.n_ended += 1
        self._ends.pop(design, None)
        for until in ("sound", "kept"):
            self._curves.pop(f"{design}|{until}", None)


def _fitted(here: Sequence[EndedLife], elsewhere: Sequence[LifeTold], until: str) -> Weibull:
    if not elsewhere:
        return fit(here)
    presses: dict[str, list[tuple[float, bool]]] = {}
    for one in elsewhere:
        presses.setdefault(one.where, []).append((one.sound if until == "sound" else one.made, one.gone_off))
    return lives_here([(one.n_shots, one.failed) for one in here], list(presses.values())).as_one()


def _gone_off(life: EndedLife, failed: bool) -> EndedLife:
    if life.found:
        return life
    n_shots = life.made if not failed or life.sound is None else life.sound
    return replace(life, failed=failed, n_shots=n_shots, worn=life.worn if failed else None)


def _as_many(sisters: Sequence[Sister]) -> int:
    """Return how many of the last sisters are kept: more of them where their lives are too short to tell the noise."""
    kept, told = 0, 0.0
    for one in reversed(sisters[-MOST_SISTERS[1] :]):
        if kept >= MOST_SISTERS[0] and told >= ENOUGH_DOF:
            break
        kept, told = kept + 1, told + one.freedom
    return kept
