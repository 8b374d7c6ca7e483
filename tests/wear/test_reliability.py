"""Stated weights are worth what they say: of calls said with a weight, as many are right."""

import numpy as np
import pytest

from shotlog.wear.change.causes import CAUSES, GROUPS, group_weights
from shotlog.wear.change.tempering import tempered
from shotlog.wear.constants import SOMETHING_ELSE
from tests.benchmark.bench_call import run
from tests.benchmark.lives.reliability import BEYOND, Tenth, by_tenth, reliability_table, said_of, surplus
from tests.benchmark.lives.score import Row

NAMES = tuple(CAUSES)

PRESSES = 16
"""Presses of seven lives each, half of them with a fault: some 100 calls."""

ENOUGH, OFF = 40, 0.10
"""A tenth with so many calls is held to so much, and twice the error that so few calls leave."""


def test_no_cause_is_surer_than_the_table_and_none_is_ruled_out() -> None:
    sure = np.zeros(len(NAMES))
    sure[NAMES.index("gate erosion")] = 1.0
    weights = tempered(NAMES, sure)
    groups = group_weights(weights)
    assert sum(weights.values()) == pytest.approx(1.0)
    assert groups["insert"] == pytest.approx(1.0 - 0.75 * SOMETHING_ELSE)
    assert [groups[name] for name in GROUPS[1:]] == pytest.approx([0.25 * SOMETHING_ELSE] * 3)


def test_what_is_likelier_stays_likelier() -> None:
    weights = np.random.default_rng(3).dirichlet(np.full(len(NAMES), 0.2))
    groups = group_weights(dict(zip(NAMES, weights.tolist(), strict=True)))
    after = group_weights(tempered(NAMES, weights))
    assert sorted(groups, key=groups.__getitem__) == sorted(after, key=after.__getitem__)


def test_a_reliability_table_counts_what_was_said_by_tenth() -> None:
    said = [(0.91, True), (0.95, False), (1.0, True), (0.35, False)]
    assert by_tenth(said) == [Tenth(0.3, 1, 0.35, 0.0), Tenth(0.9, 3, pytest.approx(2.86 / 3), pytest.approx(2 / 3))]
    assert surplus(said) == pytest.approx((2.86 + 0.35 - 2.0) / 4)
    row = {"weight": 0.91, "group": True, "weight_end": 0.35, "group_end": False, "carried": False}
    assert said_of([row, {"carried": False}, row | {"carried": True}]) == [(0.35, False)]
    assert "| 0.9 to 1.0 | at the call | 1 | 0.91 | 1.00 | +0.09 +- 0.29 |" in reliability_table([row])


@pytest.fixture(scope="module", params=[3, pytest.param(9, marks=pytest.mark.long)])
def rows(request: pytest.FixtureRequest) -> list[Row]:
    """Lives of which the faults leave the usual kinds by a share; a seed that no constant was read from."""
    return run(90210, PRESSES, request.param, best=False, beyond=BEYOND)


def test_of_calls_said_with_a_weight_as_many_are_right(rows: list[Row]) -> None:
    for when in ("", "_end"):
        said = said_of(rows, when)
        assert len(said) > 40
        for one in by_tenth(said):
            assert one.n < ENOUGH or abs(one.off) <= OFF + 2.0 * one.error, one
        error = np.std([weight - right for weight, right in said]) / np.sqrt(len(said))
        assert abs(surplus(said)) <= 0.05 + 2.0 * error


def test_nothing_is_said_for_sure(rows: list[Row]) -> None:
    assert max(weight for weight, _ in said_of(rows)) <= 1.0 - 0.75 * SOMETHING_ELSE + 1e-9
