"""When a lot reached the mould: as the values show it, and nothing where they do not."""

from collections.abc import Callable

import numpy as np

from shotlog.records import Event
from shotlog.review.lots import LotChange, lot_changes
from tests.review.made_up_press import at, mounting, record, verdict


def change(level: Callable[[int], float], *more: Event, spread: float = 0.04, seed: int = 1) -> LotChange:
    events = [Event("P1", 60, "lot", "L2", at(60)), *more]
    press = record(120, lambda shot: 5.0, [mounting("B-1", 1)], events=events, seed=seed)
    noise = np.random.default_rng(seed).normal(0.0, spread, len(press.shots))
    values = press.values.copy()
    values[:, 1] = [level(int(shot)) for shot in press.shots] + noise
    named = {name: getattr(press, name) for name in press.__dataclass_fields__}
    named |= {"values": values, "channels": ("cushion", "recovery_time")}
    (found,) = lot_changes(type(press)(**named))
    return found


def test_the_step_of_the_screw_tells_when_the_lot_came_through() -> None:
    found = change(lambda shot: 4.6 - 0.3 * (shot >= 68))
    assert (found.lot, found.noted, found.channel, found.told_from) == ("L2", 60, "recovery_time", 68)
    assert found.moved is not None
    assert abs(found.moved + 0.3) < 0.05


def test_lots_that_are_alike_show_nothing_and_nothing_is_said() -> None:
    said = [change(lambda shot: 4.6, seed=seed).told_from for seed in range(1, 41)]
    assert [at_ for at_ in said if at_ is not None] == []


def test_a_half_that_settles_hides_no_lot_from_the_screw() -> None:
    """Settling shots count for what lies upstream; for a pressure there is nothing before the note to hold against."""
    cold = [verdict(shot, "B-1", settling=shot < 60) for shot in range(1, 121)]
    press = record(
        120, lambda shot: 5.0, [mounting("B-1", 1)], verdicts=cold, events=[Event("P1", 60, "lot", "L2", at(60))]
    )
    values = press.values.copy()
    values[:, 0] = 4.6 - 0.3 * (press.shots >= 64) + np.random.default_rng(2).normal(0.0, 0.04, 120)
    named = {name: getattr(press, name) for name in press.__dataclass_fields__} | {"values": values}
    (by_screw,) = lot_changes(type(press)(**named | {"channels": ("recovery_time", "cushion")}))
    assert by_screw.told_from == 64
    (by_pressure,) = lot_changes(type(press)(**named | {"channels": ("switchover_pressure", "cushion")}))
    assert (by_pressure.told_from, by_pressure.why_not) == (None, "too few shots beside it to tell")


def test_a_set_up_change_is_not_taken_for_the_lot() -> None:
    found = change(lambda shot: 4.6 - 0.3 * (shot >= 66), Event("P1", 66, "setup", "back pressure 60", at(66)))
    assert (found.told_from, found.why_not) == (None, "no value shows where it began")


def test_a_purge_soon_after_is_told() -> None:
    assert change(lambda shot: 4.6, Event("P1", 63, "purge", "10 shots", at(63))).purged == 63
    assert change(lambda shot: 4.6, Event("P1", 110, "purge", "10 shots", at(110))).purged is None


def test_a_lot_noted_before_the_first_shot_changed_nothing() -> None:
    press = record(40, lambda shot: 5.0, [mounting("B-1", 1)], events=[Event("P1", 1, "lot", "L1", at(0))])
    assert lot_changes(press) == ()
