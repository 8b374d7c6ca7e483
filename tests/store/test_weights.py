"""Which shot a weighing belongs to: each on its own, so that none is shifted by another."""

from datetime import datetime, timedelta

import pytest

from shotlog.errors import UsageError
from shotlog.records import Shot, Weighing
from shotlog.store.log.log import Log
from shotlog.store.log.shots import channels_present, columns
from shotlog.store.parts.weights import match_by_hand, match_new, weighings
from shotlog.wording.weighings import say_proposal
from tests.made_shots import START, shot, shots

CYCLE_S = 60.0


def at(seconds: float) -> datetime:
    return START + timedelta(seconds=seconds)


def weigh(log: Log, grams: float, seconds: float, g_per_mm: float | None = None) -> None:
    """Weigh at a time and match at once, as the recorder does."""
    log.append(
        [Weighing("P25", "balance-1", grams, at(seconds), 90.0, b"raw", g_per_mm, None if g_per_mm is None else 40.0)]
    )
    match_new(log, "P25", at(seconds), say_proposal)


def matched(log: Log) -> list[tuple[float, int | None]]:
    return [(one.grams, one.shot) for one in weighings(log, "P25")]


def test_a_skipped_weighing_shifts_nothing(log: Log) -> None:
    for n in range(1, 6):
        log.append([shot(n)])
        if n != 3:
            weigh(log, 10.0 + n, n * CYCLE_S + 20.0)
    assert matched(log) == [(11.0, 1), (12.0, 2), (14.0, 4), (15.0, 5)]


def test_a_part_weighed_twice_leaves_one_weighing_over_and_shifts_nothing(log: Log) -> None:
    log.append(shots(1, 1))
    weigh(log, 11.0, 80.0)
    weigh(log, 11.001, 100.0)
    log.append(shots(2, 2))
    weigh(log, 12.0, 140.0)
    assert matched(log) == [(11.0, 1), (11.001, None), (12.0, 2)]
    assert "no shot without a weight" in weighings(log, "P25")[1].why


def test_a_weighing_too_late_for_any_shot_is_kept_and_shown(log: Log) -> None:
    log.append(shots(1, 1))
    weigh(log, 11.0, 60.0 + 91.0)
    assert matched(log) == [(11.0, None)]


def test_a_weight_before_any_shot_is_kept(log: Log) -> None:
    weigh(log, 11.0, 1.0)
    assert matched(log) == [(11.0, None)]


def test_a_choice_between_two_shots_is_said(log: Log) -> None:
    log.append(shots(1, 2))
    weigh(log, 11.0, 130.0)
    (one,) = weighings(log, "P25")
    assert (one.shot, one.others, one.why) == (2, (1,), "newest shot before it; could be 1 as well")


def test_what_is_known_of_a_choice_does_not_hang_on_its_words(log: Log) -> None:
    log.append(shots(1, 3))
    log.append([Weighing("P25", "balance-1", 11.0, at(190.0), 150.0, b"raw")])
    match_new(log, "P25", at(190.0), lambda proposal: "reworded")
    (one,) = weighings(log, "P25")
    assert (one.shot, one.others, one.why) == (3, (2, 1), "reworded")
    match_by_hand(log, "P25", {1: 2}, at(200.0), reason="the one before; could be 3 as well")
    assert weighings(log, "P25")[0].others == ()


def test_order_is_kept(log: Log) -> None:
    """A shot left unweighed is not weighed after a later one by itself."""
    log.append(shots(1, 2))
    weigh(log, 11.0, 130.0)
    weigh(log, 12.0, 140.0)
    assert matched(log) == [(11.0, 2), (12.0, None)]
    assert "meant for another shot than 2" in weighings(log, "P25")[1].why


def test_people_correct_matches_together_and_only_those(log: Log) -> None:
    log.append(shots(1, 3))
    weigh(log, 11.0, 130.0)
    weigh(log, 12.0, 140.0)
    weigh(log, 13.0, 190.0)
    match_by_hand(log, "P25", {1: 1, 2: 2}, at(300.0), reason="weighed two together", initials="AB")
    assert matched(log) == [(11.0, 1), (12.0, 2), (13.0, 3)]
    assert [one.by_hand for one in weighings(log, "P25")] == [True, True, False]
    assert [shot.values["part_weight"] for shot in log.logged("P25")] == [11.0, 12.0, 13.0]
    match_by_hand(log, "P25", {2: None}, at(300.0), reason="a loose sprue")
    assert [shot.values.get("part_weight") for shot in log.logged("P25")] == [11.0, None, 13.0]
    log.verify()


@pytest.mark.parametrize(
    ("chosen", "reason", "said"),
    [
        ({1: 2}, "x", "shot 2: weighings 1 and 2 would be taken for it, allowed: one weight a shot"),
        ({9: 1}, "x", "weighing 9: there is none for P25"),
        ({1: 9}, "x", "shot 9 of P25: the press has counted no such shot"),
        ({1: None}, " ", "reason: given nothing"),
    ],
)
def test_a_match_that_cannot_be_is_refused(log: Log, chosen: dict[int, int | None], reason: str, said: str) -> None:
    log.append(shots(1, 1))
    weigh(log, 11.0, 80.0)
    log.append(shots(2, 2))
    weigh(log, 12.0, 140.0)
    with pytest.raises(UsageError, match=said):
        match_by_hand(log, "P25", chosen, at(300.0), reason=reason)
    assert matched(log) == [(11.0, 1), (12.0, 2)]


def test_two_weighings_may_change_places(log: Log) -> None:
    log.append(shots(1, 1))
    weigh(log, 11.0, 80.0)
    log.append(shots(2, 2))
    weigh(log, 12.0, 140.0)
    match_by_hand(log, "P25", {1: 2, 2: 1}, at(300.0), reason="swapped on the tray")
    assert matched(log) == [(11.0, 2), (12.0, 1)]


@pytest.mark.either
def test_the_mass_balance_is_what_was_pushed_less_what_was_weighed(log: Log) -> None:
    """0.3 g/mm * (40 mm - 5 mm) = 10.5 g pushed; 10.2 g weighed: 0.3 g went elsewhere."""
    log.append(shots(1, 2, cushion=5.0))
    weigh(log, 10.2, 130.0, g_per_mm=0.3)
    values = list(log.logged("P25"))[-1].values
    assert values == {"cushion": 5.0, "part_weight": 10.2, "mass_balance": pytest.approx(0.3)}
    with log.reading() as connection:
        present = channels_present(connection, ["P25"])
        _, _, table = columns(connection, "P25", ["mass_balance", "cushion", "part_weight"])
    assert present == {"cushion", "part_weight", "mass_balance"}
    assert table[1].tolist() == [pytest.approx(0.3), 5.0, 10.2]
    assert table[0].tolist()[1] == 5.0
    assert table[0].tolist()[0] != table[0].tolist()[0]


def test_a_weight_the_press_gave_itself_is_kept(log: Log) -> None:
    log.append([Shot("P25", 1, 1, at(60.0), {"part_weight": 9.9})])
    weigh(log, 10.2, 80.0)
    assert next(log.logged("P25")).values["part_weight"] == 9.9


def test_matching_again_looks_only_at_what_is_new(log: Log) -> None:
    log.append(shots(1, 1))
    weigh(log, 11.0, 80.0)
    before = log.verify()
    assert match_new(log, "P25", at(90.0), say_proposal) == 0
    assert log.verify() == before
