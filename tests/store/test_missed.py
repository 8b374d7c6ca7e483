"""Shots that are still missing: what the gaps hold, less what was taken in later."""

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


def test_a_gap_of_another_press_is_not_filled(log: Log) -> None:
    log.append([Gap("P25", 3, 4, START, "the counter jumped"), Gap("P50", 3, 4, START, "the counter jumped")])
    log.append([shot(3, "P50")])
    assert [(gap.first, gap.last) for gap in unseen(log, "P25")] == [(3, 4)]
    assert [(gap.first, gap.last) for gap in unseen(log, "P50")] == [(4, 4)]
    assert unseen(log, "P25", 5) == []
