"""Shots that are still missing: what the gaps hold, less what was taken in later."""

from datetime import UTC, datetime, timedelta

from shotlog.records import Gap, Shot
from shotlog.store.asked.missed import filled, unseen
from shotlog.store.log.log import Log

START = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def make(log: Log, *shots: int) -> None:
    log.append([Shot("P25", n, n, START + timedelta(minutes=n), {"cushion": 3.0}) for n in shots])


def missing(log: Log) -> list[tuple[int, int, str]]:
    return [(gap.first, gap.last, gap.reason) for gap in unseen(log, "P25")]


def test_shots_taken_in_later_split_and_close_a_gap(log: Log) -> None:
    make(log, 1, 2)
    log.append([Gap("P25", 3, 9, START, "the counter jumped")])
    make(log, 10)
    assert (missing(log), filled(log, "P25")) == ([(3, 9, "the counter jumped")], [])
    make(log, 5, 6)
    assert missing(log) == [(3, 4, "the counter jumped"), (7, 9, "the counter jumped")]
    assert filled(log, "P25") == [(5, 6)]
    make(log, 3, 4, 7, 8, 9)
    assert (missing(log), filled(log, "P25")) == ([], [(3, 9)])
    log.verify()


def test_a_gap_of_another_press_is_not_filled(log: Log) -> None:
    log.append([Gap("P25", 3, 4, START, "the counter jumped"), Gap("P50", 3, 4, START, "the counter jumped")])
    log.append([Shot("P50", 3, 3, START, {})])
    assert [(gap.first, gap.last) for gap in unseen(log, "P25")] == [(3, 4)]
    assert [(gap.first, gap.last) for gap in unseen(log, "P50")] == [(4, 4)]
    assert unseen(log, "P25", 5) == []
