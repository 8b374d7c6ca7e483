"""What the latch pawl day demands: the sheet's "what a good monitor should end up saying", and what it must never say.

Where the sheet gives no number, a share wanted is 0.9 (0.95 where nothing may be said), a delay that of the
better of its rules.
"""

from functools import partial

from tests.benchmark.examiner.cases.base import Goal
from tests.benchmark.examiner.trials.demand import Demand, Score, all_keep, held_from, held_share
from tests.benchmark.examiner.trials.watched import Watched

__all__ = ["DEMANDS"]

_OFTEN, _NEARLY_ALWAYS, _SELDOM = Goal(low=0.9), Goal(low=0.95), Goal(high=0.05)
_SUSPECT = ((59, 92), (152, 168), (206, 282), (297, 345))
"""Parts to quarantine, as the sheet has them."""
_GATE, _RING = "gate erosion", "check-ring leak"
_CAME_IN = {"B-11": 1, "B-12": 93, "B-13": 169, "B-14": 263, "B-15": 325, "A-08": 283}


def _called(group: str, first: int, last: int, since: int) -> Score:
    return lambda w: float(w.first_open(first, last, group, since) is not None)


def _not_called(group: str, first: int, last: int, since: int) -> Score:
    return lambda w: float(w.first_open(first, last, group, since) is None)


def _delay(group: str, onset: int, last: int, since: int) -> Score:
    """Return shots from the onset to the first verdict that has the change; one that is missed counts as the span."""

    def delay(w: Watched) -> float:
        found = w.first_open(onset, last, group, since)
        return (last + 1 if found is None else found) - onset

    return delay


def _decides(shot: int, *, insert: str = "", group: str = "insert", cause: str = "", verdict: str = "") -> Score:
    def decides(w: Watched) -> float:
        said = w.at(shot)
        named = not insert or said.insert == insert
        worded = (not cause or said.cause == cause) and (not verdict or said.verdict == verdict)
        return float(said.group == group and named and worded)

    return decides


def _dated(shot: int, truth: int, *, insert: str = "", group: str = "insert") -> Score:
    """Say whether the interval of the onset holds the truth; None where the verdict is of something else."""

    def dated(w: Watched) -> float | None:
        said = w.at(shot)
        if said.group != group or (insert and said.insert != insert) or said.onset_low is None:
            return None
        assert said.onset_high is not None
        return float(said.onset_low - w.before <= truth <= said.onset_high - w.before)

    return dated


def _own_clock(w: Watched) -> float:
    """Return at which share of shots the insert named has made as many shots as is said; A-07 since it was logged."""
    came_in = _CAME_IN | {"A-07": -185 if w.before else 1}
    right = [said.shots_on_insert == shot - came_in[said.insert] + 1 for shot, said in enumerate(w.of_day, 1)]
    return sum(right) / len(right)


def _no_keep(first: int, last: int, since: int) -> Score:
    """Say whether no keep follows the first verdict of a span that has the change; None where none has."""

    def no_keep(w: Watched) -> float | None:
        found = w.first_open(first, last, "insert", since)
        if found is None:
            return None
        return float(all(verdict.verdict != "keep" for verdict in w.span(found, last)))

    return no_keep


def _no_insert_change(shot: int) -> Score:
    return lambda w: float(all(group != "insert" for group, _, _ in w.open_at(shot)))


def _centred_again(w: Watched) -> float | None:
    return all_keep(w, 140, 140) if "lot" in w.entered else None


def _keeps(w: Watched) -> float:
    return sum(verdict.verdict == "keep" for verdict in w.span(154, 168))


def _no_keep_while_it_stays(w: Watched) -> float:
    return float(all(verdict.verdict != "keep" for verdict in w.span(263, 282)))


def _mended_by_b15(w: Watched) -> float:
    return float(not any(group == "press" and 290 <= onset <= 324 for group, _, onset in w.open_at(345)))


def _a07_blamed_for_b(w: Watched) -> float:
    return float(any(v.group == "insert" and v.insert == "A-07" for v in w.span(59, 205)))


def _b_blamed(w: Watched) -> float:
    return float(w.at(282).group == "insert" and w.at(282).insert.startswith("B"))


def _sound_held(w: Watched) -> float:
    suspect = {shot for first, last in _SUSPECT for shot in range(first, last + 1)}
    sound = set(range(1, 346)) - suspect
    return len(w.held & sound) / len(sound)


def _shares() -> tuple[Demand, ...]:
    wanted = {59: Goal(low=0.8), 152: Goal(low=0.99), 206: _OFTEN, 297: Goal(low=0.85)}
    return tuple(
        Demand(f"{first}-{last}: share of parts held", wanted[first], partial(held_share, first=first, last=last))
        for first, last in _SUSPECT
    )


def _edges() -> tuple[Demand, ...]:
    within = {59: Goal(49, 69), 152: Goal(148, 153), 206: Goal(190, 222), 297: Goal(287, 307)}
    return tuple(
        Demand(
            f"{first}-{last}: held from shot", within[first], partial(held_from, first=first, last=last), middle=True
        )
        for first, last in _SUSPECT
    )


DEMANDS: tuple[Demand, ...] = (
    Demand("1-35: settling, nothing but keep", _NEARLY_ALWAYS, lambda w: all_keep(w, 1, 35)),
    Demand("36-58: nothing but keep", _NEARLY_ALWAYS, lambda w: all_keep(w, 36, 58)),
    Demand("59-92 gate: called as the insert by 92", _OFTEN, _called("insert", 59, 92, 45)),
    Demand("59-92 gate: shots after 59", Goal(high=12), _delay("insert", 59, 92, 45), middle=True),
    Demand("59-92 gate: said at 92, of B-11", Goal(low=0.8), _decides(92, insert="B-11", cause=_GATE)),
    Demand("59-92 gate: 59 in the interval at 92", Goal(low=0.75), _dated(92, 59, insert="B-11")),
    Demand("93-117: no insert change stands at 117", _OFTEN, _no_insert_change(117)),
    Demand("59-205: A-07 ever blamed", Goal(high=0.1), _a07_blamed_for_b),
    Demand("118 lot: material said by 130", _OFTEN, _called("material", 118, 130, 110)),
    Demand("118 lot: new change laid to the insert by 140", Goal(high=0.15), _called("insert", 118, 140, 112)),
    Demand("118 lot: keep again at 140, where noted", Goal(low=0.8), _centred_again),
    Demand("141-151 pause: no new change", _NEARLY_ALWAYS, _not_called("", 141, 151, 139)),
    Demand("152 blade: called as the insert by 168", _NEARLY_ALWAYS, _called("insert", 152, 168, 149)),
    Demand("152 blade: shots after 152", Goal(high=2), _delay("insert", 152, 168, 149), middle=True),
    Demand("152 blade: swap of B-12 at 167", _OFTEN, _decides(167, insert="B-12", verdict="swap")),
    Demand("152 blade: as crack or breakage at 167", Goal(low=0.8), _decides(167, cause="crack or breakage")),
    Demand("152 blade: no keep from the call to 168", _NEARLY_ALWAYS, _no_keep(152, 168, 149)),
    Demand("152 blade: keeps said in 154-168", Goal(high=0.0), _keeps),
    Demand("169-205: no new insert change", _NEARLY_ALWAYS, _not_called("insert", 169, 205, 169)),
    Demand("169-205: no insert change stands at 205", _OFTEN, _no_insert_change(205)),
    Demand("206 flash: called as the insert by 262", _NEARLY_ALWAYS, _called("insert", 206, 262, 190)),
    Demand("206 flash: shots after 206", Goal(high=18), _delay("insert", 206, 262, 190), middle=True),
    Demand("206 flash: parting-line wear decides at 262", Goal(low=0.8), _decides(262, cause="parting-line wear")),
    Demand("206 flash: 206 in the interval at 262", Goal(low=0.75), _dated(262, 206)),
    Demand("206 flash: A-07 named at 262 (cannot be known)", None, _decides(262, insert="A-07")),
    Demand("263-282 flash stays: no keep", _NEARLY_ALWAYS, _no_keep_while_it_stays),
    Demand("263-282 flash stays: A-07 named at 282", _OFTEN, _decides(282, insert="A-07")),
    Demand("263-282 flash stays: a B half named at 282", _SELDOM, _b_blamed),
    Demand("283 reset: no insert change stands at 296", _OFTEN, _no_insert_change(296)),
    Demand("297 ring: press said by 324", _OFTEN, _called("press", 297, 324, 290)),
    Demand("297 ring: shots after 297", Goal(high=10), _delay("press", 297, 324, 290), middle=True),
    Demand("297 ring: said as the check ring at 324", Goal(low=0.8), _decides(324, group="press", cause=_RING)),
    Demand("297 ring: said as mended by B-15 at 345", Goal(high=0.1), _mended_by_b15),
    Demand("297-345: new change laid to an insert", Goal(high=0.1), _called("insert", 297, 345, 294)),
    Demand("every half its own clock, share of shots", Goal(low=1.0), _own_clock),
    *_shares(),
    *_edges(),
    Demand("share of sound parts held", Goal(high=0.1), _sound_held),
)  # fmt: skip
