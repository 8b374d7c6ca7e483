"""Several statements in one message to a server: each answers as it would alone, none runs after one that failed."""

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import bindparam, create_engine, select, text
from sqlalchemy.exc import DBAPIError

from shotlog.clock import HandClock
from shotlog.errors import ShotlogError
from shotlog.recorder import Judge
from shotlog.records import Event
from shotlog.store.log import schema
from shotlog.store.log.log import open_log
from shotlog.store.log.one_way import OneWay
from shotlog.store.log.prepared import Prepared, row_to_add
from tests.made_shots import shots

ODD = "a;b'c\"d\\e %s %(name)s $1 -- µΩ\n\U0001f9ea"
OF_NAME = Prepared(
    select(schema.presses.c.id, schema.presses.c.name).where(schema.presses.c.name == bindparam("name")).limit(1)
)
OF_ODD = (OF_NAME, {"name": ODD})
BEGIN = "BEGIN"


@pytest.fixture
def way(server_url: str) -> Iterator[OneWay]:
    engine = create_engine(server_url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        yield OneWay(connection)
    engine.dispose()


def adding(name: str) -> tuple[Prepared, dict[str, str]]:
    statement, row = row_to_add(schema.presses, {"name": name, "time": ""})
    return statement, {**row}


def test_each_statement_answers_as_it_would_alone(way: OneWay) -> None:
    none, added, found, _, found_after = way.send(
        [
            (OF_NAME, {"name": ODD}),
            adding(ODD),
            (OF_NAME, {"name": ODD}),
            "SET LOCAL jit = off",
            (OF_NAME, {"name": ODD}),
        ]
    )
    ((number,),) = added
    assert (none, found, found_after) == ([], [(number, ODD)], [(number, ODD)])


def test_none_runs_after_one_that_failed_and_what_was_prepared_is_prepared_anew(way: OneWay) -> None:
    way.send([adding("P1")])
    with pytest.raises(DBAPIError, match="duplicate key"):
        way.send([BEGIN, adding("P2"), adding("P1"), "COMMIT"])
    way.undo()
    assert way.send([(OF_NAME, {"name": "P2"})]) == [[]]
    assert len(way.send([BEGIN, adding("P2"), "COMMIT"])[1]) == 1


@pytest.mark.parametrize("driver_prepares", [False, True])
def test_each_statement_is_at_the_server_once_however_often_it_is_undone(way: OneWay, driver_prepares: bool) -> None:
    """A writer that waits for another undoes each time; the driver takes away ours with its own, if it has any."""
    driver: Any = way._connection.connection.dbapi_connection
    for number in range(3):
        if number == 2:
            way = OneWay(way._connection)  # as where the pool gives out again what was given back
        way.send([BEGIN, adding("P1"), OF_ODD])
        if driver_prepares:
            driver.execute("SELECT 1", prepare=True)
        way.undo()
    ((kept,),) = way.send([BEGIN, adding("P1"), OF_ODD, "SELECT count(*) FROM pg_prepared_statements"])[-1]
    assert kept == 2


def test_transactions_that_fail_leave_nothing_at_the_server(server_url: str) -> None:
    with open_log(server_url, read_only=False) as log:
        prepared = []
        for _ in range(4):
            with suppress(ShotlogError), log.transaction() as work:
                prepared.append(work.connection.execute(text("SELECT name FROM pg_prepared_statements")).all())
                raise ShotlogError
        assert prepared[1:] == prepared[:1] * 3


def test_a_shot_goes_to_a_server_and_back_twice_and_its_verdict_seven_times(server_url: str, tmp_path: Path) -> None:
    """More would be seen over a network alone. A log that is read is asked first whether it is still there."""
    with open_log(server_url, read_only=False) as log, (tmp_path / "sent").open("w+b") as sent:
        judge = Judge(log, "P25", {}, HandClock())
        for number in range(1, 9):
            log.append(shots(number, number))
            judge.catch_up()
        assert log._writing is not None
        with log._reader.connect() as reader:
            drivers: list[Any] = [log._writing._kept[0][0].connection.dbapi_connection]
            drivers.append(reader.connection.dbapi_connection)
        for driver in drivers:
            driver.pgconn.trace(sent.fileno())
        log.append(shots(9, 9))
        stored = ways(tmp_path / "sent")
        assert judge.catch_up() == 1
        assert (stored, ways(tmp_path / "sent") - stored) == (2, 7)


def test_shots_that_go_in_together_take_no_more_ways_than_one(server_url: str, tmp_path: Path) -> None:
    """They wait for the commit, but for whatever is asked or added meanwhile: then they are in before it."""
    with open_log(server_url, read_only=False) as log, (tmp_path / "sent").open("w+b") as sent:
        for first in (1, 2):  # with the first of all, its press is met
            log.append(shots(first, first))
        assert log._writing is not None
        driver: Any = log._writing._kept[0][0].connection.dbapi_connection
        driver.pgconn.trace(sent.fileno())
        log.append(shots(3, 6))
        assert ways(tmp_path / "sent") == 2
        note = Event("P25", 7, "note", "looked at", shots(7, 7)[0].time)
        log.append([*shots(7, 8), *shots(8, 8), note, *shots(9, 9)])
        assert [shot.shot for shot in log.logged("P25")] == [*range(1, 10)]
        assert log.verify()[0] == 4
    with open_log(server_url, read_only=False) as log, log.transaction() as work:
        assert work.connection.execute(text("SELECT count(*), max(id) FROM shots")).one() == (9, 9)


def ways(sent: Path) -> int:
    """Count what is answered by itself, as the driver's library wrote down what was sent."""
    messages = [line.split("\t")[3:4] for line in sent.read_text(encoding="utf-8").splitlines()]
    return messages.count(["Query"]) + messages.count(["Sync"])
