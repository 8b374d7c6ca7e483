"""Which press needs a person first, by every need alone, two at once, and of those alike."""

from itertools import combinations, permutations
from random import Random
from typing import Any

import pytest

from shotlog.answers.needs import NEEDS, PressFacts, needs, needy_first

ALONE: dict[str, dict[str, Any]] = {
    "swap": {"verdict": "swap"},
    "held": {"held": 4, "loose": 4},
    "limit": {"limit": True},
    "watch": {"verdict": "watch"},
    "away": {"away": True},
    "unjudged": {"unjudged": 14},
    "bath": {"overdue": 2},
    "pieces": {"few_pieces": True},
    "asked": {"asked": True},
    "quiet": {"quiet": True},
}


def named(facts: list[PressFacts]) -> list[str]:
    return [one.press for one in facts]


@pytest.mark.parametrize("need", NEEDS)
def test_each_need_is_seen_alone(need: str) -> None:
    assert needs(PressFacts("P1", **{"verdict": "keep"} | ALONE[need])) == (need,)


def test_nothing_is_needed_of_a_press_that_stands_still_in_its_values_or_is_not_judged_yet() -> None:
    assert needs(PressFacts("P1", "keep")) == needs(PressFacts("P1")) == ()
    assert needs(PressFacts("P1", "keep", held=5, loose=0)) == ()
    assert needs(PressFacts("P1", away=True, unjudged=1)) == ("away",), "nobody judges where nobody logs"


def test_presses_come_in_the_order_of_their_most_urgent_need_however_they_are_given() -> None:
    presses = [PressFacts(need, **ALONE[need]) for need in NEEDS] + [PressFacts("none", "keep")]
    for seed in range(20):
        mixed = Random(seed).sample(presses, len(presses))
        assert named(needy_first(mixed)) == [*NEEDS, "none"]


def test_a_more_urgent_need_outweighs_any_number_of_others() -> None:
    for first, *others in combinations(NEEDS, 4):
        many: dict[str, Any] = {}
        for one in others:
            many |= ALONE[one]
        many["verdict"] = ALONE[others[0]].get("verdict", "keep") if first != "swap" else many.get("verdict", "keep")
        alone, rest = PressFacts("alone", **ALONE[first]), PressFacts("many", **many)
        assert named(needy_first([rest, alone])) == ["alone", "many"]


def test_of_two_with_the_same_need_the_one_that_needs_more_comes_first() -> None:
    plain, more = PressFacts("plain", "swap"), PressFacts("more", "swap", overdue=1)
    assert named(needy_first([plain, more])) == ["more", "plain"]


def test_what_was_called_when_a_press_was_last_heard_still_needs_a_person() -> None:
    called = PressFacts("called", "swap", limit=True, away=True, away_s=10.0)
    watched = PressFacts("watched", "watch", away=True, away_s=9000.0)
    long_ago, unknown = PressFacts("long", "keep", away=True, away_s=500.0), PressFacts("unknown", away=True)
    assert needs(called) == ("swap", "limit", "away")
    assert needs(watched) == ("watch", "away")
    for given in permutations([called, watched, long_ago, unknown]):
        assert named(needy_first(given)) == ["called", "watched", "long", "unknown"]


def test_few_shots_left_go_before_many_and_before_none_known() -> None:
    soon, later = PressFacts("soon", "watch", left=3.0), PressFacts("later", "watch", left=30.0)
    unknown = PressFacts("unknown", "watch")
    assert named(needy_first([unknown, later, soon])) == ["soon", "later", "unknown"]


def test_more_loose_parts_go_first_and_those_alike_stay_as_they_came() -> None:
    few, many = PressFacts("few", held=40, loose=2), PressFacts("many", held=9, loose=9)
    assert named(needy_first([few, many])) == ["many", "few"]
    alike = [PressFacts(name, "keep") for name in ("P9", "P10", "P1")]
    assert named(needy_first(alike)) == ["P9", "P10", "P1"]
