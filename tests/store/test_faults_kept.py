"""Faults as pages read them: counted for what they stand for, and never longer than what is kept of one."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import insert

from shotlog.cut_short import RAW_MOST, TEXT_MOST
from shotlog.records import Fault
from shotlog.store.asked.faults import FaultKind, fault_kinds, faults, faults_since
from shotlog.store.asked.tally import Tally
from shotlog.store.log import schema
from shotlog.store.log.log import Log

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def later(seconds: float) -> datetime:
    return NOW + timedelta(seconds=seconds)


def test_a_row_of_an_earlier_release_with_megabytes_is_read_cut(log: Log) -> None:
    """A peer that flooded left 11 MB in one row, and every refresh of the page sent them again."""
    with log.transaction() as work:
        press_id = work.press_id("P25", "2026-01-05T06:00:00.000000Z")
        row = {"shot": None, "kind": "bad answer", "detail": "x" * 50_000, "time": "2026-01-05T06:00:00.000000Z"}
        work.connection.execute(insert(schema.faults).values(press_id=press_id, raw=b"\xa5" * 11_534_336, **row))
    (one,) = faults(log, "P25")
    assert one.raw == b"\xa5" * RAW_MOST
    assert len(one.detail) == TEXT_MOST
    (two,) = faults_since(log, "P25")
    assert two.raw == b""


def test_what_is_stored_says_how_much_came(log: Log) -> None:
    log.append([Fault("P25", NOW, "bad answer", "no answer in them", b"\xa5" * 11_534_336)])
    (one,) = faults(log, "P25")
    assert one.detail == "no answer in them (11,534,336 bytes came, the first 4,096 kept)"
    assert len(one.raw) == RAW_MOST


@pytest.mark.either
def test_faults_that_were_counted_and_not_kept_are_counted(log: Log) -> None:
    tally = Tally()
    log.append([Fault("P25", NOW, "damaged", "noise", b"\xff"), Fault("P25", later(1), "range", "too high", shot=4)])
    assert dict(tally.counts(log, "P25").faults) == {"damaged": 1, "range": 1}
    log.append([Fault("P25", later(60), "damaged", "noise, 19 more", b"\xff", more=18)])
    assert dict(tally.counts(log, "P25").faults) == {"damaged": 20, "range": 1}
    assert fault_kinds(log, "P25") == [
        FaultKind("damaged", 20, NOW, later(60), None, "noise", "noise, 19 more"),
        FaultKind("range", 1, later(1), later(1), 4, "too high", "too high"),
    ]
