"""Statements made into text once: what they answer and raise is what the library would."""

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import bindparam, select, text
from sqlalchemy.exc import OperationalError

from shotlog.store.log import schema
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.prepared import Prepared, add_row, row_to_add
from shotlog.store.log.shots import last_shot
from tests.made_shots import shots

PRESS = {"name": "P25", "time": "2026-11-01T08:00:00Z"}
OF_NAME = Prepared(select(schema.presses.c.id).where(schema.presses.c.name == bindparam("name")).limit(1))


@pytest.fixture
def log(tmp_path: Path) -> Log:
    return open_log(f"sqlite:///{tmp_path}/log.db", read_only=False)


def test_it_answers_with_plain_rows_and_none_where_there_is_none(log: Log) -> None:
    with log, log.transaction() as work:
        assert OF_NAME.first(work.connection, name="P25") is None
        assert OF_NAME.scalar(work.connection, name="P25") is None
        assert OF_NAME.all(work.connection, name="P25") == []
        number = add_row(work.connection, schema.presses, PRESS)
        assert OF_NAME.all(work.connection, name="P25") == [(number,)]


def test_an_error_of_the_driver_is_told_as_the_library_tells_it(log: Log) -> None:
    nowhere = Prepared(text("SELECT id FROM nowhere"))
    with log, log.reading() as connection:
        with pytest.raises(OperationalError, match="no such table: nowhere") as raised:
            nowhere.all(connection)
        assert isinstance(raised.value.orig, sqlite3.OperationalError)


def test_a_file_tells_the_number_of_a_row_without_being_asked(log: Log) -> None:
    statement, given = row_to_add(schema.presses, {**PRESS, "id": 7, "name": "P07"})
    with log, log.transaction() as work:
        assert "RETURNING" not in statement.bound(work.connection, given)[0]
        assert statement.run(work.connection, given) == [(7,)]
        assert add_row(work.connection, schema.presses, PRESS) == 8


def test_rows_that_fill_other_columns_are_other_statements(log: Log) -> None:
    shot = {"press_id": 1, "shot": 1, "counter": 1, "time": PRESS["time"], "trial_id": None}
    with log, log.transaction() as work:
        add_row(work.connection, schema.presses, PRESS)
        add_row(work.connection, schema.shots, {**shot, "cushion": 4.9})
        add_row(work.connection, schema.shots, {**shot, "shot": 2, "fill_time": 0.7})
        found = work.connection.execute(select(schema.shots.c.cushion, schema.shots.c.fill_time))
        assert [tuple(row) for row in found] == [(4.9, None), (None, 0.7)]


def test_all_that_is_read_on_one_connection_is_of_one_state(tmp_path: Path) -> None:
    url = f"sqlite:///{(tmp_path / 'trial.db').as_posix()}"
    with open_log(url, read_only=False) as log:
        log.append(shots(1, 4))
        (press,) = log.presses()
        with open_log(url) as reader:
            with reader.reading() as connection:
                before = last_shot(connection, press)
                log.append(shots(5, 9))
                assert last_shot(connection, press) == before
            with reader.reading() as connection:
                assert last_shot(connection, press) == (9, 9)
