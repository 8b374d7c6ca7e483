"""Before a trial: what to print, how long the press runs, what an accepted part will cost, and how certain that is.

The figures come from this log where it has any, from the person who asks where one is given, else they are assumed;
each says which. How they become plays of the trial is in `plan_run`, how lives are learnt from few in `plan_lives`.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from math import ceil, isfinite
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import StoreUnreachable, UsageError
from shotlog.parts.plan import CERTAINTIES, Plan, PlanFigure, PlanRow, Stock
from shotlog.review import plan_assumed as assumed
from shotlog.review.plan_asked import PlanAsked, check_asked
from shotlog.review.plan_facts import OnRecord, known_of
from shotlog.review.plan_lives import ENOUGH, SHAPE, LifeBelief, given_lives, learnt_lives, lives_by_press
from shotlog.review.plan_run import PlannedHalf, Plays, Share, TrialPlan, need, play
from shotlog.review.source import silent
from shotlog.settings import DesignSettings, Settings
from shotlog.store.log.log import open_log

__all__ = ["bath_hours", "plan_for", "plan_of"]

F = NDArray[np.float64]


_PLAYS = 1 << 14
_FEW_PLAYS = 1 << 11
_LONG_TRIAL = 100.0
"""Inserts from which a trial is played fewer times: its stock is the surer, and each play the longer."""

_LADDER = tuple(base * 10**tens for tens in range(4) for base in (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8))
_MOST_ROWS = 12


def plan_of(asked: PlanAsked, known: Sequence[OnRecord], designs: Mapping[str, DesignSettings]) -> Plan:
    """Return the plan; `known`: what the log says of the design asked for, first, and of those mounted with it.

    Raises
    ------
    UsageError
        A figure that was given cannot be.
    """
    check_asked(asked)
    mould = _Mould(asked, known, designs)
    chosen, plays = mould.row(asked.planned)
    rows: list[PlanRow] = []
    if mould.reused:
        rows = [chosen if one == asked.planned else mould.row(one)[0] for one in mould.ladder()]
    priced = [(row.cost, -n) for n, row in enumerate(rows) if row.cost is not None]
    best = -min(priced)[1] if priced else None
    return Plan(
        asked.design,
        asked.parts,
        tuple(one.design for one in known[1:]),
        tuple(one.design for one in mould.once),
        mould.reused[0].design if mould.reused else "",
        asked.design in designs or known[0].n_cycles > 0 or bool(known[0].sound),
        tuple(mould.figures),
        chosen,
        _enough(mould.costs(plays), CERTAINTIES[-1]),
        tuple(replace(row, cheapest=n == best) for n, row in enumerate(rows)),
    )


def plan_for(settings: Settings, asked: PlanAsked, tell: Callable[[str], None] = silent) -> tuple[Plan, str]:
    """Return the plan from the log of a configuration, and why that log was not read, empty where it was.

    Before the first trial there is no log, and a plan is wanted all the same.

    Raises
    ------
    UsageError
        A figure that was given cannot be, or no design is named.
    """
    if not asked.design.strip():
        raise UsageError("design: given nothing, allowed: the name of a design")
    check_asked(asked)
    unread = ""
    try:
        with open_log(settings.store) as log:
            known = known_of(log, settings, asked.design, tell)
    except StoreUnreachable as error:
        unread = str(error)
        known = (OnRecord(asked.design, False, settings.trial.resin if settings.trial is not None else ""),)
    return plan_of(asked, known, settings.designs), unread


def bath_hours(press_h: float, parts: float, dissolve_h: float, at_once: int | None) -> float:
    """Return hours from the first shot until the last part is out, the bath taking `at_once` parts (None: any number).

    A load goes in when it is moulded and the bath is free.

    References
    ----------
    Own. Loads come ready evenly, so either the first one waits for nothing and the rest for the bath, or the last one
    waits for nothing.
    """
    if at_once is None or parts <= at_once:
        return press_h + dissolve_h
    loads = ceil(parts / at_once)
    return max(press_h + dissolve_h, press_h * at_once / parts + loads * dissolve_h)


class _Mould:
    """The halves of the mould with every figure of theirs settled, and where it is from."""

    def __init__(self, asked: PlanAsked, known: Sequence[OnRecord], designs: Mapping[str, DesignSettings]) -> None:
        self._asked, self._designs, self.figures = asked, designs, list[PlanFigure]()
        first = known[0] if asked.single_use is None else replace(known[0], single_use=asked.single_use)
        mounted = (first, *known[1:])
        self.reused = [one for one in mounted if not one.single_use]
        self.once = [one for one in mounted if one.single_use]
        self._lives = [self._life(one, asked.life if one is first else None) for one in self.reused]
        self._late = [self._bad_shots(one) for one in self.reused]
        self._settling = [self._settles(one) for one in (self.reused or [first])]
        self._scrap = self._share("scrap", first.design, asked.scrap, first.inspected, first.bad, assumed.SCRAP)
        self._breakage = self._share("breakage", "", asked.breakage, 0, 0, assumed.BREAKAGE) if self.once else None
        self._cycle_s = self._time("cycle_s", asked.cycle_s, first.cycle_s, first.n_cycles, assumed.CYCLE_S)
        minutes = first if first in self.reused or not self.reused else self.reused[0]
        self._changeover_min = self._time(
            "changeover_min", asked.changeover_min, minutes.changeover_min, minutes.n_changes, assumed.CHANGEOVER_MIN
        )
        self._cavities = max(self._settings(one.design).cavities for one in mounted)
        self._dissolve_h = asked.dissolve_h
        if asked.dissolve_h is None:
            hours = [self._settings(one.design).dissolve_h for one in mounted]
            self._dissolve_h = None if None in hours else max(hour for hour in hours if hour is not None)
        self._costs = self._prices(first.design, mounted)

    def _settings(self, design: str) -> DesignSettings:
        return self._designs.get(design, DesignSettings())

    def _say(self, name: str, design: str, value: float, ends: tuple[float, float], source: str, **more: Any) -> None:
        """Put down a figure, once where two halves are of one design."""
        figure = PlanFigure(name, design, value, *ends, source, **more)
        if figure not in self.figures:
            self.figures.append(figure)

    def _life(self, one: OnRecord, given: float | None) -> LifeBelief:
        family = self._settings(one.design).resin_family
        level, of_these = assumed.assumed_life(one.moulded, family)
        n = len(one.sound)
        shape = SHAPE if self._asked.shape is None else self._asked.shape
        elsewhere = sum(place != one.press for place in one.places)
        apart = elsewhere > 0 and sum(one.gone_off) >= ENOUGH
        if given is not None:
            belief = given_lives(given, shape)
        elif apart:
            belief = lives_by_press(one.sound, one.gone_off, one.places, one.press)
        else:
            belief = learnt_lives(one.sound, one.gone_off, level)
        source = "given" if given is not None else "log" if n else "assumed"
        more: dict[str, Any] = {}
        if source == "given":
            more = {"shape": shape, "shape_assumed": self._asked.shape is None}
        elif source == "log":
            more = {"n": n, "n_bad": sum(one.gone_off), "elsewhere": elsewhere if apart else None}
        elif of_these:
            more = {"moulded": one.moulded, "family": family}
        ends = belief.quantile(0.1), belief.quantile(0.9)
        self._say("life", one.design, belief.quantile(0.5), ends, source, **more)
        return belief

    def _bad_shots(self, one: OnRecord) -> int:
        given, own = self._asked.late, one.late
        value = given if given is not None else round(sum(own) / len(own)) if own else assumed.LATE
        source = "given" if given is not None else "log" if own else "assumed"
        self._say("late", one.design, value, (value, value), source, n=len(own) if source == "log" else 0)
        return value

    def _settles(self, one: OnRecord) -> int:
        """Return the settling shots that make no accepted part: all of them, until some were looked at."""
        given, more = self._asked.settling, dict[str, Any]()
        value = self._settings(one.design).settling_shots if given is None else given
        source = "given" if given is not None else "configuration" if one.design in self._designs else "assumed"
        if given is None and one.settling >= ENOUGH:
            source, more = "log", {"n": one.settling, "n_bad": one.settling_bad, "settling": value}
            value = round(value * (one.settling_bad + 0.5) / (one.settling + 1.0))
        self._say("settling", one.design, value, (value, value), source, **more)
        return value

    def _share(self, name: str, design: str, given: float | None, n: int, bad: int, known: Share) -> Share:
        if given is not None:
            share, source = Share(given), "given"
        elif n:
            share, source = Share(bad / n, bad + 0.5, n + 1.0), "log"
        else:
            share, source = known, "assumed"
        low, high = (float(share.drawn(np.array([at]))[0]) for at in (0.1, 0.9))
        if (
            source == "log"
        ):  # what was seen of none, or of all, lies within (Brown, Cai, DasGupta 2001, Jeffreys; memory)
            low, high = min(low, share.value), max(high, share.value)
        more = {"n": n, "n_bad": bad} if source == "log" else {}
        self._say(name, design, share.value, (low, high), source, **more)
        return share

    def _time(self, name: str, given: float | None, own: float | None, n: int, known: float) -> float:
        value = given if given is not None else own if own is not None else known
        source = "given" if given is not None else "log" if own is not None else "assumed"
        self._say(name, "", value, (value, value), source, n=n if source == "log" else 0)
        return value

    def _prices(self, first: str, mounted: Sequence[OnRecord]) -> Mapping[str, Mapping[str, float]]:
        """Return costs by design; where none has any, those of trade practice."""
        found = {one.design: self._settings(one.design).cost for one in mounted}
        if not any(found.values()):
            found = {one.design: assumed.COSTS for one in mounted}
        source = (
            "configuration" if self._settings(first).cost or any(self._settings(d).cost for d in found) else "assumed"
        )
        main = found[first] or next(cost for cost in found.values() if cost)
        for name in ("part", "late_find"):
            self._say(name, "", main.get(name, 0.0), (main.get(name, 0.0),) * 2, source, costs=True)
        for design, cost in found.items():
            for name in ("insert", "changeover"):
                self._say(name, design, cost.get(name, 0.0), (cost.get(name, 0.0),) * 2, source, costs=True)
        return {"": main, **found}

    def row(self, planned: int | None) -> tuple[PlanRow, Plays]:
        """Return the plan with a planned swap, and its plays."""
        plays = self._play(planned)
        stocks = tuple(self._stock(plays, certainty) for certainty in CERTAINTIES)
        return PlanRow(planned, stocks, _expected(self.costs(plays))), plays

    def _play(self, planned: int | None) -> Plays:
        halves = tuple(
            PlannedHalf(lives, late, settling, planned if one.design == self.reused[0].design else None)
            for one, lives, late, settling in zip(self.reused, self._lives, self._late, self._settling, strict=False)
        )
        asked = self._asked
        trial = TrialPlan(asked.parts, self._cavities, self._scrap, halves, max(self._settling), self._breakage)
        few = play(trial, _FEW_PLAYS)
        long = max((float(np.median(one)) for one in few.inserts), default=0.0) > _LONG_TRIAL
        return few if long else play(trial, _PLAYS)

    def _stock(self, plays: Plays, certainty: float) -> Stock:
        takes = [*plays.inserts, *([plays.pieces] if self.once else [])]
        enough = need(takes, certainty)
        pieces = {one.design: _whole(enough[-1]) for one in self.once}
        shots, press_h = _enough(plays.shots, certainty), _enough(self._hours(plays), certainty)
        bath = None
        if self._dissolve_h is not None and press_h is not None and shots is not None:
            into = need([self._soaked(plays)], certainty)[0]
            bath = bath_hours(press_h, into, self._dissolve_h, self._asked.bath_parts)
        together: dict[str, float] = {}
        for one, count in zip(self.reused, enough, strict=False):
            together[one.design] = together.get(one.design, 0.0) + count
        inserts = {design: _whole(count) for design, count in together.items()}
        return Stock(certainty, inserts, pieces, None if shots is None else int(shots), press_h, bath)

    def _soaked(self, plays: Plays) -> F:
        """Return the parts that go into the bath: those of settling shots are thrown out at the press."""
        fit = np.ceil((self._asked.parts + plays.scrap) / self._cavities)
        return np.asarray((fit + np.where(np.isfinite(plays.bad), plays.bad, 0.0)) * self._cavities)

    def _hours(self, plays: Plays) -> F:
        return np.asarray(plays.shots * self._cycle_s / 3600.0 + plays.changes * self._changeover_min / 60.0)

    def costs(self, plays: Plays) -> F:
        """Return the cost per accepted part of each play: as the ledger counts, an insert brings a changeover."""
        main, run = self._costs[""], np.isfinite(plays.shots)
        total = np.where(run, plays.shots, 0.0) * self._cavities * main.get("part", 0.0)
        bad = np.where(run, plays.bad, 0.0) * self._cavities + plays.scrap
        total = total + bad * main.get("late_find", 0.0)
        for one, n in zip(self.reused, plays.inserts, strict=True):
            own = self._costs[one.design]
            total = total + np.where(run, n, 0.0) * (own.get("insert", 0.0) + own.get("changeover", 0.0))
        for one in self.once:
            total = total + np.where(run, plays.pieces, 0.0) * self._costs[one.design].get("insert", 0.0)
        return np.where(run, total / self._asked.parts, np.inf)

    def ladder(self) -> list[int | None]:
        """Return the planned lives to compare: round numbers that an insert may reach and that leave shots to use."""
        least, most = self._settling[0] + 1, self._lives[0].quantile(0.9)
        found = [int(one) for one in _LADDER if one == int(one) and least < one <= max(most, least + 1)]
        step = max(1, ceil(len(found) / _MOST_ROWS))
        kept = {*found[::-step], *([self._asked.planned] if self._asked.planned is not None else [])}
        return [*sorted(kept), None]


def _whole(count: float) -> int | None:
    return int(count) if isfinite(count) else None


def _expected(costs: F) -> float | None:
    """Return the expected cost, the dearest trial of twenty, which nobody would run to its end, as the next dearest."""
    most = _enough(costs, 0.95)
    return None if most is None else float(np.minimum(costs, most).mean())


def _enough(takes: F, certainty: float) -> float | None:
    """Return what is enough in that share of plays; None where nothing is."""
    found = need([takes], certainty)[0]
    return found if isfinite(found) else None
