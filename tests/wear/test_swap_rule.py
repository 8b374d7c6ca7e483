"""When a swap is the cheaper: the chance of a bad part, and the rule against a table and against brute force."""

import csv
from pathlib import Path

import numpy as np
import pytest
from made import THREE, life, sisters
from numpy.typing import NDArray

from shotlog.parts.bad import beyond, share_bad
from shotlog.parts.renewal import age_replacement
from shotlog.records import Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.constants import BAD_BEFORE_CALL
from shotlog.wear.level.baseline import Prior, first_prior
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.bad_chance import chance_bad_of_standing
from shotlog.wear.verdict.swap_cost import swap_costs

F = NDArray[np.float64]

COSTS = {"part": 4.0, "insert": 18.0, "changeover": 12.0, "late_find": 9.0}
TABLE = Path(__file__).parents[1] / "reference" / "age_replacement.csv"


def rows() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8") as file:
        file.readline()
        return [row for row in csv.DictReader(file) if float(row["cost_failure"]) > 2.0]


def test_a_part_is_bad_beyond_the_limit_sound_below_what_matters_and_evenly_between() -> None:
    size = np.array([0.0, 1.0, 2.0, 3.5, 6.0, 9.0])
    assert share_bad(size, np.full(6, 1.0), np.full(6, 6.0)).tolist() == [0.0, 0.0, 0.2, 0.5, 1.0, 1.0]
    assert share_bad(size, np.full(6, 1.0), np.full(6, np.inf)).tolist() == [0.0] * 6
    near = np.full(6, 0.5), np.full(6, 4.0)
    assert share_bad(size, near[1], near[0]).tolist() == [0.0, 1.0, 1.0, 1.0, 1.0, 1.0], "a limit closer than that"
    assert share_bad(size, near[1], np.zeros(6)).tolist() == [1.0] * 6, "no room at all"


def test_at_the_limit_is_within() -> None:
    assert beyond(2.0, 5.0, 2.0) is None
    assert (beyond(2.0, 5.0, 1.9), beyond(2.0, 5.0, 5.1), beyond(None, None, 9.0)) == (2.0, 5.0, None)


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"shape {row['shape']}, costs 1 to {row['cost_failure']}")
def test_the_rule_stops_where_the_table_does(row: dict[str, str]) -> None:
    """Told of failures at once, a further shot is expected to cost the share of inserts that go off at it times what a
    failure costs more than a plan; the first shot that costs more than an accepted part does in the long run is the
    one after the best plan."""
    shape, scale = float(row["shape"]), float(row["scale"])
    planned, failure = float(row["cost_planned"]), float(row["cost_failure"])
    per_part = age_replacement(shape, scale, planned, failure).cost
    assert per_part == pytest.approx(float(row["cost_per_shot_integer"]), rel=1e-6)
    lives = Weibull(scale, shape)
    alive = np.array([lives.survival(n) for n in range(121)])
    hazard = 1.0 - alive[1:] / alive[:-1]
    stop = int(np.argmax(hazard * (failure - planned) > per_part))
    assert stop == int(row["optimal_integer_shots"])


def test_both_sides_of_the_rule_by_hand() -> None:
    """A bad part costs 13 and a planned swap 30; a failure costs 8 bad parts more, 134. Of lives of scale 100 and shape
    3 the table has 1 to 5 at 0.030314 a shot: near 134/30 = 4.47 that is about 30 x 0.0292."""
    costs = swap_costs(DesignSettings("d", cost=COSTS), Weibull(100.0, 3.0), 0.1)
    assert costs is not None
    assert BAD_BEFORE_CALL == 8.0
    assert costs.next_shot == pytest.approx(1.3)
    assert costs.per_part == pytest.approx(30.0 * 0.0292, rel=0.01)
    assert costs.swap


class Unseen:
    """An insert that goes off unseen with chance `hazard` a shot; from then on every part is bad and a reading lies
    `step` spreads off. What is known before a shot is the chance that it has gone off, on a grid."""

    def __init__(self, hazard: float, step: float, new: float, bad: float) -> None:
        self.new, self.bad = new, bad
        self.known = np.linspace(0.0, 1.0, 201)
        self.next = self.known + (1.0 - self.known) * hazard
        nodes, weights = np.polynomial.hermite_e.hermegauss(21)
        self._weights = weights / weights.sum()
        self._after = [self._learnt(nodes, step), self._learnt(nodes + step, step)]

    def _learnt(self, reading: F, step: float) -> F:
        odds = self.next[:, None] * np.exp(step * reading[None, :] - step**2 / 2.0)
        return np.asarray(odds / (odds + 1.0 - self.next[:, None]))

    def ahead(self, value: F) -> F:
        """Return what a value is expected to be after one more shot."""
        sound, off = (np.interp(after, self.known, value) @ self._weights for after in self._after)
        return np.asarray((1.0 - self.next) * sound + self.next * off)

    def cost(self, stop: NDArray[np.bool_]) -> float:
        """Return the long-run cost per accepted part of swapping where `stop` says so."""
        spent, accepted = np.zeros(len(self.known)), np.zeros(len(self.known))
        for _ in range(4000):
            before = accepted[0]
            spent = np.where(stop, 0.0, self.bad * self.next + self.ahead(spent))
            accepted = np.where(stop, 0.0, 1.0 - self.next + self.ahead(accepted))
            if accepted[0] - before < 1e-7:
                break
        return float((self.new + spent[0]) / accepted[0])

    def best(self) -> float:
        """Return the least long-run cost per accepted part of any rule on what is known."""
        low, high = 0.0, self.new
        for _ in range(14):
            cost = (low + high) / 2.0
            value = np.zeros(len(self.known))
            for _ in range(2000):
                before = value
                value = np.minimum(0.0, self.bad * self.next - cost * (1.0 - self.next) + self.ahead(value))
                if np.abs(value - before).max() < 1e-5:
                    break
            low, high = (low, cost) if value[0] + self.new < 0.0 else (cost, high)
        return (low + high) / 2.0


@pytest.mark.parametrize("hazard", [1.0 / 80.0, 1.0 / 40.0])
def test_of_called_changes_the_rule_costs_hardly_more_than_the_best_one(hazard: float) -> None:
    """Brute force: value iteration over all rules on the chance that the insert has gone off, which costs nothing but
    time. A step of two spreads, costs of a usual trial. At the bar of a call (odds of 3.5 to 1) the rule lies within a
    twentieth of the best; asked of every shot, before anything is called, it would swap far too soon."""
    unseen = Unseen(hazard, 2.0, 30.0, 13.0)
    best = unseen.best()
    costs = [swap_costs(DesignSettings("d", cost=COSTS), Weibull(1.0 / hazard, 1.0), chance) for chance in unseen.known]
    by_costs = np.array([one is not None and one.swap for one in costs])
    called = unseen.known >= 3.5 / 4.5
    assert by_costs[called].all()
    assert best <= unseen.cost(by_costs & called) < 1.05 * best
    assert unseen.cost(by_costs) > 1.1 * best


def known() -> Prior:
    shots = life(3, "A", 40)
    n = np.array([float(shot.shot) for shot in shots])
    values = np.array([[shot.values[name] for name in THREE] for shot in shots])
    return first_prior(THREE, n, values, [], [], {}, 10)


def test_the_chance_adds_up_over_causes_and_a_break_spoils_every_part() -> None:
    prior = known()
    rooms = np.full(3, 6.0), np.full(3, 6.0)
    half = (prior.least + 6.0) / 2.0
    moved = np.array([-half[0], 0.0, 0.0])
    weights = {"gate erosion": 0.4, "crack or breakage": 0.3, "lot change": 0.3}
    assert chance_bad_of_standing(weights, moved, prior, rooms) == pytest.approx(0.3 + 0.4 * 0.5)
    assert chance_bad_of_standing({"lot change": 1.0}, moved, prior, rooms) == 0.0
    one_sided = np.full(3, np.inf), np.full(3, 6.0)
    assert chance_bad_of_standing({"gate erosion": 1.0}, moved, prior, one_sided) == 0.0
    assert chance_bad_of_standing({"gate erosion": 1.0}, -moved, prior, one_sided) == pytest.approx(0.5)


def judged(costs: dict[str, float], change: dict[str, tuple[str, float]]) -> list[Verdict]:
    monitor = Monitor("p", {"d": DesignSettings("d", cost=costs)})
    for shot in sisters(4):
        monitor.step(shot)
    return [monitor.step(shot) for shot in life(7, "B", 70, first=241, change=change, onset=30, hours=13)]


def test_parts_are_not_held_while_the_next_shot_costs_nothing() -> None:
    """A gate that opens: the cost grows with it, and word and costs never contradict each other."""
    called = [one for one in judged(COSTS, {"peak_pressure": ("ramp", -0.15)}) if one.cause]
    laid = [one for one in called if one.group == "insert"]
    assert len(laid) > 15
    for one in laid:
        assert one.facts is not None
        assert one.facts.next_shot_cost is not None
        assert one.facts.swap_cost is not None
        assert one.facts.bad_chance is not None
        assert 0.0 < one.facts.bad_chance <= 1.0
        assert one.facts.next_shot_cost == pytest.approx(13.0 * one.facts.bad_chance)
        assert one.verdict == ("swap" if one.facts.next_shot_cost > one.facts.swap_cost else "watch")
    costs = [one.facts.next_shot_cost for one in laid if one.facts is not None and one.facts.next_shot_cost is not None]
    assert costs[-1] > 2.5 * costs[0]
    assert laid[-1].verdict == "swap"


def test_dear_inserts_are_kept_longer() -> None:
    dear = judged({**COSTS, "insert": 900.0}, {"peak_pressure": ("ramp", -0.15)})
    usual = judged(COSTS, {"peak_pressure": ("ramp", -0.15)})
    first = [next((one.shot for one in said if one.verdict == "swap"), 999) for said in (usual, dear)]
    assert first[0] < first[1]


def test_what_is_not_the_inserts_has_no_costs_of_a_swap() -> None:
    lot = {"peak_pressure": ("step", 6.0), "cushion": ("step", 0.6)}
    called = [one for one in judged(COSTS, lot) if CAUSES.get(one.cause) and CAUSES[one.cause].group != "insert"]
    assert called
    for one in called:
        assert one.facts is not None
        assert (one.facts.next_shot_cost, one.verdict) == (None, "watch")
