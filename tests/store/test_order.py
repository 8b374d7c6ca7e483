"""What came first in the log is told by its chain, whatever the clocks said and however it is asked."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from shotlog.parts.part import Part
from shotlog.records import EVER, Shot, Verdict
from shotlog.store.inserts import entries
from shotlog.store.log import judgements
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.order import EntryOrder
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.doubts import far_out_on
from shotlog.store.parts.inspections import inspect

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def judged(log: Log, shot: int) -> None:
    with log.transaction() as work:
        press_id = work.press_id("P25", NOON.isoformat())
        number = judgements.open_judging(work, press_id, shot, "by hand", "a test", NOON.isoformat())
        judgements.record(work, press_id, number, [Verdict("P25", shot, "B-1", shot, False, "keep")])


def test_entries_of_all_tables_and_verdicts_stand_in_one_order(tmp_path: Path) -> None:
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        log.append([Shot("P25", n, n, NOON, {"cushion": 5.0}) for n in (1, 2, 3)])
        judged(log, 1)
        first = entries.note(log, "P25", "finding", "flash", NOON, at_shot=1).entry_id
        judged(log, 2)
        result = inspect(log, Part("P25", 1), NOON - timedelta(hours=9), finding="burn").entry_id
        with log.reading() as connection:
            before = log.order(connection).place("inspections", result)
        judged(log, 3)
        log.append([Shot("P25", 4, 4, NOON, {"cushion": 5.0})])
        (decision,) = enter_decision(
            log, [Part("P25", 1)], "scrapped", NOON - timedelta(days=1), reason="burn", initials="QA"
        )
        out = entries.mount(log, "P25", "B-1", NOON, at_shot=1) and entries.remove(log, "P25", "B-1", NOON, reason="x")
        with log.reading() as connection:
            grown, fresh = log.order(connection), EntryOrder()
            fresh.read(connection)
        for order in (grown, fresh):
            places = [
                order.of_verdict(1),
                order.place("events", first),
                order.of_verdict(2),
                order.place("inspections", result),
                order.of_verdict(3),
                order.place("dispositions", decision.entry_id),
                order.place("removals", out.entry_id),
            ]
            assert places == sorted(places)
            assert len(set(places)) == len(places)
            assert order.place("inspections", result) == before, "a place stays what it was"
        assert grown.place("events", 99) == 0


def test_what_is_seldom_in_a_long_log_is_found_by_an_index(tmp_path: Path) -> None:
    """Links of entries and shots far out alone: asked otherwise, a log of a million shots is gone through for them."""
    asked: list[str] = []
    path = tmp_path / "trial.db"
    with open_log(f"sqlite:///{path.as_posix()}", read_only=False) as log:
        log.append([Shot("P25", 1, 1, NOON, {"cushion": 5.0})])
        with log.one_moment(), log.reading() as connection:
            driver = connection.connection.dbapi_connection
            assert isinstance(driver, sqlite3.Connection)
            driver.set_trace_callback(asked.append)
            far_out_on(log, "P25", 0, EVER)
            driver.set_trace_callback(None)
    with closing(sqlite3.connect(path)) as connection:
        plans = [str(connection.execute(f"EXPLAIN QUERY PLAN {one}").fetchall()) for one in asked if "LIKE" in one]
    for index in ("ledger_of_entries", "verdicts_odd"):
        assert any(index in plan for plan in plans), plans
