"""The tables of signatures and causes hang together, and every signature can be told as rows."""

import numpy as np
import pytest
from made import CENTRE, SPREAD, prior_of

from shotlog.channels import CHANNELS
from shotlog.wear.change.causes import (
    BATCH,
    CAUSES,
    FROZEN,
    GROUPS,
    RHYTHM,
    SENSOR,
    UNKNOWN,
    UNKNOWN_MELT,
    UNKNOWN_UPSTREAM,
    UNSEEN_MELT,
    group_weights,
)
from shotlog.wear.change.hypotheses import Hypotheses, hypotheses
from shotlog.wear.change.signatures import SHAPES, SIGNATURES

FREE = (SENSOR, FROZEN, RHYTHM, UNKNOWN, UNKNOWN_MELT, UNKNOWN_UPSTREAM)


def test_every_cause_names_a_group_a_signature_and_what_to_do() -> None:
    for name, cause in CAUSES.items():
        assert cause.group in GROUPS
        assert cause.check
        assert cause.action
        assert (cause.signature in SIGNATURES) != (name in FREE)


def test_priors_are_shares() -> None:
    assert sum(cause.prior for cause in CAUSES.values()) == pytest.approx(1.0, abs=0.12)


@pytest.mark.parametrize("name", SIGNATURES)
def test_a_signature_is_well_formed(name: str) -> None:
    signature = SIGNATURES[name]
    assert set(signature.effect) <= set(CHANNELS)
    assert set(signature.shapes) <= set(SHAPES)
    assert sum(signature.shapes.values()) == pytest.approx(1.0)
    assert all(low <= high for low, high in signature.effect.values())
    assert any(cause.signature == name for cause in CAUSES.values())


def test_rows_carry_the_prior_of_every_cause_that_can_show() -> None:
    table = hypotheses(prior_of())
    shares = np.bincount(table.cause, table.share, len(table.names))
    for at, share in zip(table.spread_cause, table.spread_share, strict=True):
        shares[at] += share
    shown = {table.names[at] for at in np.flatnonzero(shares)}
    assert {"gate erosion", "lot change", "check-ring leak", SENSOR, UNKNOWN} <= shown
    for name in shown:
        assert shares[table.names.index(name)] == pytest.approx(CAUSES[name].prior)


def test_group_weights_add_up() -> None:
    weights = {"gate erosion": 0.5, "lot change": 0.3, BATCH: 0.1, "short dosing": 0.1}
    assert group_weights(weights) == pytest.approx({"insert": 0.6, "material": 0.3, "press": 0.1, "measurement": 0.0})


SEVEN = ("cushion", "peak_pressure", "fill_time", "switchover_pressure", "switchover_position", "recovery_time")
SHARED = {**CENTRE, "switchover_pressure": 520.0, "switchover_position": 9.0}


def directions(table: Hypotheses, cause: str, shape: str = "ramp") -> np.ndarray:
    return table.direction[(table.cause == table.names.index(cause)) & (table.shape == SHAPES.index(shape))]


def test_what_is_read_from_one_transducer_drifts_by_the_same_amount(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plug that works loose moved peak and switchover pressure alike, and was called a wider gate."""
    for name, spread in (("switchover_pressure", 2.0), ("switchover_position", 0.02)):
        monkeypatch.setitem(SPREAD, name, spread)
    prior = prior_of(SEVEN, SHARED)
    found = directions(hypotheses(prior), SENSOR) * prior.sigma
    for together in (("peak_pressure", "switchover_pressure"), ("cushion", "switchover_position")):
        apart = [c for c, name in enumerate(SEVEN) if name not in together]
        of = [c for c, name in enumerate(SEVEN) if name in together]
        same = [v for v in found if not v[apart].any() and v[of[0]] == pytest.approx(v[of[1]]) and v[of[0]]]
        assert len(same) == 2
    assert not found[:, [SEVEN.index(one) for one in ("fill_time", "recovery_time")]].any(), "a clock does not drift"


def test_a_press_sees_a_signature_in_its_own_noise() -> None:
    """Twice the pressure within the same spread: the gate that takes 4 % off takes twice as many spreads."""
    usual = directions(hypotheses(prior_of()), "gate erosion")
    high = directions(
        hypotheses(prior_of(centre={**CENTRE, "peak_pressure": 2.0 * CENTRE["peak_pressure"]})), "gate erosion"
    )
    assert usual[:, 1] == pytest.approx(-1.0)
    assert (high[:, 0] / high[:, 1]).mean() == pytest.approx((usual[:, 0] / usual[:, 1]).mean() / 2.0)


def test_a_hidden_melt_moves_what_a_wider_gate_moves() -> None:
    table = hypotheses(prior_of())
    assert np.array_equal(directions(table, UNSEEN_MELT), directions(table, "gate erosion"))


def test_in_every_group_but_measurement_a_direction_is_free() -> None:
    table = hypotheses(prior_of((*CENTRE,)))
    free = ~table.direction.any(axis=1)
    assert {CAUSES[table.names[at]].group for at in table.cause[free]} == set(GROUPS) - {"measurement"}
    upstream = [CHANNELS[name].upstream for name in CENTRE]
    own = table.beside[free & (table.cause == table.names.index(UNKNOWN))]
    assert (own[:, upstream] == 0.0).all()
    assert (own[:, ~np.array(upstream)] > 0.0).all()
    for shape in np.unique(table.shape[free]):
        block = free[table.shape == shape]
        assert block[-block.sum() :].all(), "after all others of its shape, which tell its size"
