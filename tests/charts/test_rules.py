import numpy as np
import pytest

from shotlog.charts import Individuals
from shotlog.charts.rules import RULES, rule_names
from shotlog.errors import UsageError

CASES: dict[str, tuple[list[float], int]] = {
    "same-side-9": ([0.1] * 9, 8),
    "same-side-8": ([-0.1] * 8, 7),
    "same-side-7": ([0.1] * 7, 6),
    "trend-6": ([-0.5, -0.3, -0.1, 0.1, 0.3, 0.5], 5),
    "trend-7": ([0.6, 0.4, 0.2, 0.0, -0.2, -0.4, -0.6], 6),
    "alternating-14": ([0.5, -0.5] * 7, 13),
    "two-of-three": ([2.1, 0.0, 2.2], 2),
    "four-of-five": ([-1.1, -1.2, 0.0, -1.1, -1.3], 4),
    "near-centre-15": ([0.5, -0.4, 0.3, 0.6, -0.2] * 3, 14),
    "away-8": ([1.1, -1.2] * 4, 7),
}


def fired(rule: str, z: list[float]) -> list[int]:
    return [i for i, name in Individuals(centre=0.0, sigma=1.0, rules=(rule,)).run(z).signals if name == rule]


def test_every_rule_has_its_case() -> None:
    assert set(CASES) == set(RULES) - {"beyond"}


@pytest.mark.parametrize("rule", CASES)
def test_rule_fires_at_the_last_of_its_readings_and_not_before(rule: str) -> None:
    z, at = CASES[rule]
    assert fired(rule, z) == [at]
    assert fired(rule, z[:at]) == []


@pytest.mark.parametrize("rule", CASES)
def test_one_reading_that_breaks_the_pattern_silences_the_rule(rule: str) -> None:
    z, at = CASES[rule]
    broken = list(z)
    broken[at - 1] = {"near-centre-15": 1.5, "away-8": 0.0}.get(rule, 0.0 if rule != "alternating-14" else -0.5)
    if rule.startswith("trend"):
        broken[at - 1] = z[at - 2]
    if rule == "alternating-14":
        broken[at - 1] = z[at - 2]
    if rule in ("two-of-three", "four-of-five"):
        broken = [*[v for v in z if v != 0.0][:-1], 0.0]
        broken = broken[-RULES[rule].arms[0].m :]
        assert len(fired(rule, broken)) == 0
        return
    assert at not in fired(rule, broken)


def test_a_reading_on_the_centre_is_on_neither_side() -> None:
    assert fired("same-side-9", [0.1] * 8 + [0.0] + [0.1] * 8) == []


def test_two_of_three_needs_the_same_side() -> None:
    assert fired("two-of-three", [2.1, -2.2, 0.0, -2.1]) == [3]


def test_a_missing_shot_does_not_break_a_run() -> None:
    assert fired("same-side-9", [0.1] * 4 + [float("nan")] + [0.1] * 5) == [9]


def test_rules_by_number_and_by_name_in_the_order_of_the_table() -> None:
    assert rule_names(["5", "1", "2"]) == ("beyond", "same-side-9", "two-of-three")
    assert rule_names(["four-of-five", "beyond"]) == ("beyond", "four-of-five")
    assert {str(rule.number) for rule in RULES.values()} == {str(n) for n in range(1, 9)}


def test_an_unknown_rule_is_refused() -> None:
    with pytest.raises(UsageError, match="given 9, allowed: beyond, same-side-9"):
        rule_names(["9"])


def test_zones_are_thirds_of_the_limits_where_those_promise_a_rate() -> None:
    chart = Individuals(baseline=5, width=None, rules=("beyond", "two-of-three"))
    chart.run([1.0, 2.0, 1.0, 2.0, 1.0])
    assert chart.limits is not None
    centre, _, upper, _, _ = chart.limits
    third = (upper - centre) / 3.0
    assert chart.run(np.full(2, centre + 1.9 * third)).signals == []
    assert chart.run(np.full(2, centre + 2.1 * third)).signals == [(1, "two-of-three")]
