"""The connections that a log is written through: kept between transactions, and given back when the log is closed."""

from collections.abc import Iterator

import pytest
from sqlalchemy import Connection, event, text

from shotlog.store.log.log import Log, open_log
from tests.made_shots import shots


@pytest.fixture
def log(url: str) -> Iterator[Log]:
    with open_log(url, read_only=False) as opened:
        yield opened


def taken(log: Log) -> list[object]:
    """Return a list that grows with each connection that is taken out of the pool for writing."""
    found: list[object] = []
    assert log._writer is not None
    event.listen(log._writer, "checkout", lambda connection, *_: found.append(connection))
    return found


def in_use(log: Log) -> int:
    assert log._writer is not None
    return int(log._writer.pool.checkedout())  # type: ignore[attr-defined]


def test_a_connection_is_kept_from_shot_to_shot(log: Log) -> None:
    found = taken(log)
    for number in range(1, 11):
        log.append(shots(number, number))
    assert len(found) == 1


def test_a_connection_on_which_something_failed_is_given_back_and_undone(log: Log) -> None:
    def fail(connection: Connection) -> None:
        connection.execute(text("INSERT INTO presses (name, time) VALUES ('never', '')"))
        raise KeyError("on purpose")

    with pytest.raises(KeyError), log.transaction() as work:
        fail(work.connection)
    assert in_use(log) == 0
    log.append(shots(1, 1))
    assert "never" not in log.presses()
    assert log.verify()[0] == 1


def test_a_closed_log_keeps_no_connection_and_may_be_written_again(log: Log) -> None:
    log.append(shots(1, 1))
    assert in_use(log) == 1
    log.close()
    assert in_use(log) == 0
    log.append(shots(2, 2))
    assert log.verify()[0] == 2


def test_a_log_that_is_closed_while_it_is_written_keeps_no_connection_either(log: Log) -> None:
    with log.transaction():
        log.close()
        assert in_use(log) == 0  # of the new pool
    assert log._writing is not None
    assert not log._writing.is_open
