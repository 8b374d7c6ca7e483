"""Shots that are still missing: what the gaps hold, less what was taken in later."""

import pytest

from shotlog.records import Gap
from shotlog.store.asked.missed import filled, unseen
from shotlog.store.log.log import Log
from tests.made_shots import START, shot, shots


def missing(log: Log) -> list[tuple[int, int, str]]:
    return [(gap.first, gap.last, gap.reason) for gap in unseen(log, "P25")]


def test_shots_taken_in_later_split_and_close_a_gap(log: Log) -> None:
    log.append(shots(1, 2))
    log.append([Gap("P25", 3, 9, START, "the counter jumped")])
    log.append([shot(10)])
    assert (missing(log), filled(log, "P25")) == ([(3, 9, "the counter jumped")], [])
    log.append(shots(5, 6))
    assert missing(log) == [(3, 4, "the counter jumped"), (7, 9, "the counter jumped")]
    assert filled(log, "P25") == [(5, 6)]
    log.append(shots(3, 4) + shots(7, 9))
    assert (missing(log), filled(log, "P25")) == ([], [(3, 9)])
    log.verify()


@pytest.mark.either
def test_a_gap_of_another_press_is_not_filled(log: Log) -> None:
    log.append([Gap("P25", 3, 4, START, "the counter jumped"), Gap("P50", 3, 4, START, "the counter jumped")])
    log.append([shot(3, "P50")])
    assert [(gap.first, gap.last) for gap in unseen(log, "P25")] == [(3, 4)]
    assert [(gap.first, gap.last) for gap in unseen(log, "P50")] == [(4, 4)]
    assert unseen(log, "P25", 5) == []


def test_of_a_gap_of_uncertain_size_the_last_piece_tells_how_many_more_it_may_have_been(log: Log) -> None:
    log.append([Gap("P25", 3, 9, START, "rolled over or began again", 7, 1439)])
    assert [(gap.least, gap.most) for gap in unseen(log, "P25")] == [(7, 1439)]
    log.append(shots(5, 6))
    assert [(gap.first, gap.last, gap.least, gap.most) for gap in unseen(log, "P25")] == [
        (3, 4, None, None),
        (7, 9, 3, 1435),
    ]
