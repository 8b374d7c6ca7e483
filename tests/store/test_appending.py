"""What is appended is in the log once, exactly, and is never changed by the log itself."""

import threading
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection, event, select

from shotlog.channels import CHANNELS
from shotlog.clock import HandClock
from shotlog.errors import StoreUnreachable
from shotlog.recorder import Judge
from shotlog.records import Fault, Gap, Link, Shot
from shotlog.store.asked import state
from shotlog.store.asked.faults import faults
from shotlog.store.asked.presence import last_seen, touch
from shotlog.store.inserts import entries
from shotlog.store.log import schema
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.prepared import Prepared
from shotlog.store.log.shots import columns
from shotlog.store.undo import take_back
from tests.made_shots import shot

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def test_records_of_every_kind_read_back_as_they_were(log: Log) -> None:
    records = [
        Link("P25", NOW, "connected", "the press answers"),
        Gap("P25", 1, 6, NOW, "counter went on from 0 to 7"),
        Fault("P25", NOW, "torn", "the counter moved", bytes(range(256)), 7),
        shot(7),
    ]
    log.append(records)
    assert state.gaps(log, "P25") == [records[1]]
    assert faults(log, "P25") == [records[2]]
    stands = state.press_state(log, "P25")
    assert (stands.shot, stands.time, stands.values) == (7, shot(7).time, {"cushion": 4.97})
    assert stands.link == records[0]
    assert (stands.n_shots, stands.n_missed, stands.n_faults) == (1, 6, 1)


measured = st.dictionaries(
    st.sampled_from(sorted(CHANNELS)), st.floats(allow_nan=False, allow_infinity=False, width=64), max_size=4
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(values=measured)
def test_a_value_is_stored_to_the_last_bit_and_verifies(log: Log, values: dict[str, float]) -> None:
    """Minus zero did not: the database gives back zero, and the chain was taken over the other."""
    number = (log.last_shot("P25") or (0, 0))[0] + 1
    log.append([Shot("P25", number, 0, NOW, values)])
    assert [dict(stored.values) for stored in log.logged("P25", number - 1)] == [values]
    log.verify()


def test_a_shot_delivered_twice_is_stored_once(log: Log) -> None:
    log.append([shot(1), shot(2)])
    log.append([shot(2), shot(3)])
    assert [stored.shot for stored in log.logged("P25")] == [1, 2, 3]
    assert faults(log, "P25") == []


def test_second_values_for_a_shot_are_kept_as_a_fault_beside_the_first(log: Log) -> None:
    log.append([shot(1)])
    log.append([shot(1, cushion=3.0)])
    assert [stored.values["cushion"] for stored in log.logged("P25")] == [4.97]
    (fault,) = faults(log, "P25")
    assert fault.kind == "second values"
    assert "3.0" in fault.detail


def test_the_same_number_on_another_press_is_another_shot(log: Log) -> None:
    log.append([shot(1), shot(1, "P50", 2.5)])
    assert [stored.values["cushion"] for press in log.presses() for stored in log.logged(press)] == [4.97, 2.5]


def test_a_delivery_with_an_origin_is_taken_once(log: Log) -> None:
    batch = [Gap("P25", 1, 6, NOW, "counter went on"), shot(7)]
    for _ in range(3):
        log.append(batch, origin="a:1")
    log.append(batch, origin="a:2")
    assert len(state.gaps(log, "P25")) == 2
    assert log.verify()[0] == 2


def test_a_transaction_that_fails_leaves_nothing(log: Log) -> None:
    def fail() -> None:
        with log.transaction() as work:
            work.append(shot(1))
            raise KeyError("on purpose")

    with pytest.raises(KeyError):
        fail()
    assert list(log.logged("P25")) == []
    assert log.verify()[0] == 0


def test_a_log_opened_for_reading_takes_nothing(url: str) -> None:
    open_log(url, read_only=False).close()
    with open_log(url) as log, pytest.raises(StoreUnreachable, match="opened for reading only"):
        log.append([shot(1)])


def test_reading_connections_of_a_writing_log_cannot_write(log: Log) -> None:
    with pytest.raises(StoreUnreachable, match=r"readonly|read-only"), log.reading() as connection:
        connection.exec_driver_sql("DELETE FROM shots")


def test_every_kind_of_work_only_ever_adds_rows(log: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    """SQL is listened to while all sorts of records, entries and judgements are made: the library's, and what was made
    into text once.
    """
    said: list[str] = []
    bound = Prepared.bound

    def listening(self: Prepared, connection: Connection, given: Mapping[str, Any]) -> tuple[str, Any]:
        said.append(bound(self, connection, given)[0])
        return bound(self, connection, given)

    monkeypatch.setattr(Prepared, "bound", listening)
    assert log._writer is not None
    event.listen(log._writer, "before_cursor_execute", lambda c, cursor, statement, *rest: said.append(statement))
    log.use_trial("trial 7", "cap", "PA66", "2026-01-05T06:00:00Z")
    entries.mount(log, "P25", "M-1", NOW, design="cap-r2")
    judge = Judge(log, "P25", {}, HandClock())
    for number in range(1, 121):
        log.append([shot(number, cushion=5.0 - 0.01 * (number % 7))])
        touch(log, "run", "1 press", NOW)
        if number % 10 == 0:
            judge.catch_up()
    log.append([shot(120, cushion=1.0), Gap("P25", 121, 124, NOW, "x"), Link("P25", NOW, "lost", "x"), shot(125)])
    entries.mount(log, "P25", "M-1", NOW, at_shot=3)
    entries.mount(log, "P25", "M-2", NOW, at_shot=60)
    entries.remove(log, "P25", "M-2", NOW, reason="flash", at_shot=90)
    entries.note(log, "P25", "lot", "L2", NOW, at_shot=70)
    take_back(log, "events", 1, NOW, "mistyped")
    judge.catch_up()
    words = [statement.split() for statement in said]
    changes = {" ".join(each[:3]) for each in words if each[0] not in ("INSERT", "SELECT", "BEGIN", "SET")}
    assert changes == {"DELETE FROM presence", "DELETE FROM checkpoints"}
    assert set(schema.RECORD_TABLES).isdisjoint({"presence", "checkpoints"})
    assert not any("REPLACE" in statement or "ON CONFLICT" in statement for statement in said)
    log.verify()


@pytest.mark.either
def test_writers_in_several_threads_wait_for_each_other(log: Log) -> None:
    def write(press: str) -> None:
        for number in range(1, 21):
            log.append([shot(number, press)])

    threads = [threading.Thread(target=write, args=(f"P{n}",)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert {press: len(list(log.logged(press))) for press in log.presses()} == {f"P{n}": 20 for n in range(4)}
    assert log.verify()[0] == 80


def test_bulk_columns_are_the_values_with_holes_as_nan(log: Log) -> None:
    log.append([shot(1), Shot("P25", 2, 2, NOW, {"fill_time": 0.38}), shot(3)])
    with log.reading() as connection:
        numbers, times, values = columns(connection, "P25", ("cushion", "fill_time"), 2)
    assert numbers.tolist() == [2, 3]
    assert times[0] == "2026-01-05T06:00:00.000000Z"
    np.testing.assert_array_equal(values, [[np.nan, 0.38], [4.97, np.nan]])


@pytest.mark.either
def test_a_trial_described_otherwise_is_another_trial(log: Log) -> None:
    for part in ("cap", "cap", "lid"):
        log.use_trial("trial 7", part, "PA66", "2026-01-05T06:00:00Z")
        log.append([shot((log.last_shot("P25") or (0, 0))[0] + 1)])
    with log.reading() as connection:
        rows = connection.execute(
            select(schema.trials.c.part).join(schema.shots, schema.shots.c.trial_id == schema.trials.c.id)
        ).scalars()
        assert list(rows) == ["cap", "cap", "lid"]


def test_presence_says_when_a_role_was_last_at_work(log: Log) -> None:
    assert last_seen(log, "run") is None
    for second in (0, 5):
        touch(log, "run", "2 presses", NOW + timedelta(seconds=second))
    assert last_seen(log, "run") == NOW + timedelta(seconds=5)
    assert last_seen(log, "pages") is None
