"""The tables of signatures and causes hang together, and every signature can be told as rows."""

import numpy as np
import pytest

from shotlog.channels import CHANNELS
from shotlog.wear.change.causes import (
    BATCH,
    CAUSES,
    FROZEN,
    GROUPS,
    RHYTHM,
    SENSOR,
    UNKNOWN,
    UNKNOWN_UPSTREAM,
    group_weights,
)
from shotlog.wear.change.hypotheses import hypotheses
from shotlog.wear.change.signatures import SHAPES, SIGNATURES

FREE = (SENSOR, FROZEN, RHYTHM, UNKNOWN, UNKNOWN_UPSTREAM)


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
    assert max(max(abs(low), abs(high)) for low, high in signature.effect.values()) >= 0.9
    assert any(cause.signature == name for cause in CAUSES.values())


def test_rows_carry_the_prior_of_every_cause_that_can_show() -> None:
    table = hypotheses(("cushion", "peak_pressure", "fill_time"))
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
