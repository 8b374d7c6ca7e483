"""A log at a centre is the log: same rows, same numbers, same digest, whatever happened on the way."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from shotlog.errors import CentreAway, StoreDamaged, StoreReplaced, UsageError
from shotlog.settings import Settings
from shotlog.store.asked.presence import last_seen, touch
from shotlog.store.asked.state import press_state
from shotlog.store.centre import batch, shipping
from shotlog.store.centre.centre import Centre, open_centre
from shotlog.store.centre.delivery import Moved
from shotlog.store.centre.shipping import Shipping
from shotlog.store.centre.tables import BY_MONTH
from shotlog.store.centre.verified import verify_edge
from shotlog.store.keeping.head import head_of
from shotlog.store.log import schema
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.prepared import add_row
from tests.made_shots import START, shots


@pytest.fixture
def centre(centre_url: str) -> Iterator[Centre]:
    with open_centre(centre_url, "1.0") as opened:
        yield opened


def ship(log: Log, centre: Centre, name: str = "hall-1", anew: bool = False) -> Shipping:
    """Ship all that a log has."""
    shipping = Shipping(log, centre, name, "pc-1", "1.0")
    shipping.agree(anew)
    list(shipping.ship())
    return shipping


def same(log: Log, centre: Centre, name: str = "hall-1") -> bool:
    """Say whether a log and what the centre holds are one, by the rows themselves."""
    with centre.log(name) as there:
        found, edge = there.verify(), centre.edge(name)
    return found == log.verify() == (edge.links, edge.digest)


def test_what_is_there_is_the_log(afternoon: Settings, centre: Centre) -> None:
    with open_log(afternoon.store) as log:
        ship(log, centre)
        assert same(log, centre)
        with centre.log("hall-1") as there:
            assert there.presses() == log.presses()
            for press in log.presses():
                assert list(there.logged(press)) == list(log.logged(press))
                assert press_state(there, press) == press_state(log, press)
            for frame in ("shots", "inserts", "signals", "verdicts", "set_points"):
                assert getattr(there, frame)().equals(getattr(log, frame)()), frame


def test_it_goes_on_where_it_was_and_twice_is_once(log: Log, centre: Centre, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(batch, "_LINKS", 3)
    for first in range(1, 21, 4):
        log.append(shots(first, first + 1))
        log.append(shots(first + 2, first + 3))
    shipping = Shipping(log, centre, "hall-1", "pc-1", "1.0")
    assert shipping.agree().to_go == 10
    first = next(shipping.ship())
    assert (first.head.number, first.to_go) == (3, 7)
    assert [at.to_go for at in ship_on(log, centre)] == [4, 1, 0]
    assert list(ship_on(log, centre)) == []
    assert same(log, centre)
    with pytest.raises(Moved):  # the first knows nothing of the second
        list(shipping.ship())
    assert same(log, centre)


def ship_on(log: Log, centre: Centre) -> Iterator[shipping.AtCentre]:
    again = Shipping(log, centre, "hall-1", "pc-1", "1.0")
    again.agree()
    yield from again.ship()


def test_a_batch_that_fails_leaves_nothing(log: Log, centre: Centre, monkeypatch: pytest.MonkeyPatch) -> None:
    log.append(shots(1, 5))
    shipping = Shipping(log, centre, "hall-1", "pc-1", "1.0")
    shipping.agree()
    copied = []

    def fail(*given: object) -> None:
        if copied:
            raise CentreAway("away in the middle")
        copied.append(copy(*given))

    from shotlog.store.centre import delivery

    copy = delivery._copy
    monkeypatch.setattr(delivery, "_copy", fail)
    with pytest.raises(CentreAway):
        list(shipping.ship())
    with centre.log("hall-1") as there:
        assert there.verify()[0] == 0 == centre.edge("hall-1").links
    monkeypatch.undo()
    list(shipping.ship())
    assert same(log, centre)


def test_edges_stay_apart(log: Log, centre: Centre, tmp_path: Path) -> None:
    log.append(shots(1, 5))
    ship(log, centre)
    with open_log(f"sqlite:///{tmp_path / 'other.db'}", read_only=False) as other:
        other.append(shots(1, 3, "P25", 5.5))
        with pytest.raises(UsageError, match=r"belongs to another log .*5? ?transactions.*--as NAME"):
            ship(other, centre)
        ship(other, centre, "hall-2")
        assert same(log, centre, "hall-1")
        assert same(other, centre, "hall-2")
        with pytest.raises(UsageError, match="holds this log as 'hall-2' already"):
            ship(other, centre, "hall-3")
    assert [one.name for one in centre.edges()] == ["hall-1", "hall-2"]


def test_a_log_put_back_from_a_backup_loses_nothing_at_the_centre(
    url: str, fresh: Path, tmp_path: Path, centre: Centre
) -> None:
    path = tmp_path / "trial.db"
    shutil.copy(fresh, path)
    with open_log(url, read_only=False) as log:
        log.append(shots(1, 2))
        log.append(shots(3, 4))
    shutil.copy(path, tmp_path / "backup.db")
    with open_log(url, read_only=False) as log:
        ship(log, centre)  # up to where the backup is: it goes on from there
        log.append(shots(5, 6))
        log.append(shots(7, 8))
        ship(log, centre)
        was = log.verify()
    open_before = centre.log("hall-1")
    assert len(open_before.shots()) == 8
    shutil.copy(tmp_path / "backup.db", path)
    with open_log(url, read_only=False) as log:
        with pytest.raises(UsageError, match=r"up to transaction 2; .* alone holds 2 more\. .*--anew"):
            ship(log, centre)
        with log.transaction() as work:
            work.name("restored", follows="the one before", digest="")
        log.append(shots(5, 5, cushion=5.1))
        with pytest.raises(UsageError, match="up to transaction 2"):
            ship(log, centre)
        ship(log, centre, anew=True)
        assert same(log, centre)
    with open_before, pytest.raises(StoreReplaced, match="set aside at the centre"):
        open_before.shots()
    assert isinstance(open_before.trouble, StoreReplaced)  # whoever holds it opens it again
    kept = next(one.name for one in centre.edges() if one.name.startswith("hall-1 until"))
    with centre.log(kept) as there:
        assert there.verify() == was


def test_a_restored_log_goes_on_where_the_centre_has_no_more(
    url: str, fresh: Path, tmp_path: Path, centre: Centre
) -> None:
    shutil.copy(fresh, tmp_path / "trial.db")
    with open_log(url, read_only=False) as log:
        log.append(shots(1, 2))
        ship(log, centre)
        before = centre.edge("hall-1").uid
        with log.transaction() as work:
            work.name("restored", follows=before, digest=head_of(log).digest)
        ship(log, centre)
        assert same(log, centre)
        assert centre.edge("hall-1").uid != before


def test_what_was_changed_at_the_edge_does_not_go(log: Log, centre: Centre, tmp_path: Path) -> None:
    log.append(shots(1, 2))
    log.append(shots(3, 4))
    with closing(sqlite3.connect(tmp_path / "trial.db")) as connection:
        connection.execute("UPDATE shots SET cushion = 9 WHERE shot = 3")
        connection.commit()
    with pytest.raises(StoreDamaged, match=r"transaction 2 .*neither it nor what came after"):
        ship(log, centre)
    assert centre.edge("hall-1").links == 0


def test_what_is_changed_at_the_centre_is_seen(log: Log, centre: Centre, centre_url: str) -> None:
    log.append(shots(1, 4))
    ship(log, centre)
    sql(centre_url, "UPDATE centre.shots SET cushion = 9 WHERE shot = 3")
    with centre.log("hall-1") as there, pytest.raises(StoreDamaged, match="changed later"):
        there.verify()


def sql(url: str, statement: str) -> list[tuple[object, ...]]:
    engine = create_engine(url)
    with engine.begin() as connection:
        result = connection.execute(text(statement))
        found = [tuple(row) for row in result] if result.returns_rows else []
    engine.dispose()
    return found


@pytest.mark.either
def test_who_is_at_work_goes_along(log: Log, centre: Centre) -> None:
    touch(log, "run", "a", START)
    touch(log, "shot of P1", "1 moulded", START)
    shipping = ship(log, centre)
    shipping.say_present()
    touch(log, "run", "b", shots(9, 9)[0].time)
    shipping.say_present()
    with centre.log("hall-1") as there:
        assert last_seen(there, "run") == shots(9, 9)[0].time
        assert last_seen(there, "shot of P1") == START
    ship(log, centre).say_present()
    with centre.log("hall-1") as there:
        assert last_seen(there, "run") == shots(9, 9)[0].time


def test_rows_lie_in_the_month_they_arrived_in_and_the_next_is_ready(
    log: Log, centre: Centre, centre_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    log.append(shots(1, 3))
    ship(log, centre)
    names = {
        str(row[0]) for row in sql(centre_url, "SELECT relname FROM pg_class WHERE relname ~ '_[0-9]{4}_[0-9]{2}$'")
    }
    assert {name[:-8] for name in names} == set(BY_MONTH)
    assert len(names) == 2 * len(BY_MONTH)
    where = "SELECT DISTINCT tableoid::regclass::text, month = date_trunc('month', now() AT TIME ZONE 'UTC') FROM "
    ((part, is_this_month),) = sql(centre_url, f"{where} centre.shots")
    assert is_this_month
    assert part in {f"centre.{name}" for name in names}


def test_a_month_may_go_by_the_name_of_a_program_that_parts_tables(log: Log, centre: Centre, centre_url: str) -> None:
    log.append(shots(1, 2))
    ship(log, centre)
    parts = f"SELECT tablename FROM pg_tables WHERE tablename ~ '^({'|'.join(BY_MONTH)})_' ORDER BY 1"
    for (name,) in sql(centre_url, parts):
        table, _, month = str(name).partition("_")
        sql(centre_url, f"ALTER TABLE centre.{name} RENAME TO {table}_p{month}")
    made = sql(centre_url, parts)
    log.append(shots(3, 4))
    ship(log, centre)
    assert same(log, centre)
    assert sql(centre_url, parts) == made


def test_two_edges_that_make_a_month_at_once_wait_for_each_other(
    log: Log, centre: Centre, centre_url: str, tmp_path: Path
) -> None:
    """The second one waits for the lock, and finds the month made: no error, no deadlock."""
    from threading import Thread

    from shotlog.store.centre.months import Months

    done: list[bool] = []

    def other() -> None:
        with open_centre(centre_url) as second, second.transaction() as connection:
            Months().ensure(connection)
        done.append(True)

    thread = Thread(target=other)
    with centre.transaction() as connection:
        Months().ensure(connection)
        thread.start()
        waits = text("SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND NOT granted")
        while not connection.execute(waits).scalar_one():
            assert thread.is_alive()
    thread.join(30)
    assert done == [True]


def test_links_whose_rows_went_into_an_archive_are_told_apart(log: Log, centre: Centre, tmp_path: Path) -> None:
    """Plain verdicts of a finished trial lie in its archive; a link of theirs goes there by its word."""
    log.append(shots(1, 2))
    log.append(shots(3, 4))
    log.append(shots(5, 6))
    with log.reading() as connection:
        (gone,) = connection.execute(text("SELECT rows FROM ledger WHERE id = 2")).one()
    assert gone.count("shots:") == 2
    with log.transaction() as work:
        trial = work.trial_id("trial 7", "", "", "2026-01-05T06:00:00Z")
        work.add(
            schema.archives, trial_id=trial, file="a.db", file_digest="0", first_link=2, last_link=2, links=1,
            rows=2, time="2026-01-05T06:00:00Z",
        )  # fmt: skip
    with closing(sqlite3.connect(tmp_path / "trial.db")) as connection:
        connection.execute("DELETE FROM shots WHERE shot IN (3, 4)")
        connection.commit()
    ship(log, centre)
    assert same(log, centre)


def test_rows_taken_out_at_a_centre_are_missed_whatever_stands_beside_the_chain(
    log: Log, centre: Centre, centre_url: str
) -> None:
    """Only what the record of the edge itself tells of an archive explains that rows are not there."""
    log.append(shots(1, 2))
    log.append(shots(3, 4))
    ship(log, centre)
    number = centre.edge("hall-1").number
    ((rows,),) = sql(centre_url, "SELECT rows FROM centre.ledger WHERE id = 2")
    for word in str(rows).split():
        table, _, row = word.partition(":")
        sql(centre_url, f"DELETE FROM centre.{table} WHERE id = {row}")
    sql(centre_url, f"INSERT INTO centre.gone VALUES ({number}, 2, 2, 1, {len(str(rows).split())})")
    with pytest.raises(StoreDamaged, match="was taken out, and the record tells of no archive"):
        verify_edge(centre, "hall-1")


def test_a_name_that_nothing_came_under_yet_takes_no_log_that_is_there(log: Log, centre: Centre) -> None:
    """Its first shipping was broken off before the first batch; parts of a log under two names would count twice."""
    log.append(shots(1, 4))
    agreed = Shipping(log, centre, "hall-1", "pc-1", "1.0")
    agreed.agree()
    ship(log, centre, "hall-2")
    for again in (lambda: list(agreed.ship()), lambda: ship(log, centre)):
        with pytest.raises(UsageError, match="holds this log as 'hall-2' already"):
            again()
    assert [(one.name, one.links) for one in centre.edges()] == [("hall-1", 0), ("hall-2", 1)]


def test_what_came_before_it_was_archived_stays_at_the_centre(log: Log, centre: Centre, tmp_path: Path) -> None:
    log.append(shots(1, 2))
    log.append(shots(3, 4))
    ship(log, centre)
    with log.transaction() as work:
        trial = work.trial_id("trial 7", "", "", "2026-01-05T06:00:00Z")
        work.add(
            schema.archives, trial_id=trial, file="a.db", file_digest="0", first_link=2, last_link=2, links=1,
            rows=2, time="2026-01-05T06:00:00Z",
        )  # fmt: skip
    with closing(sqlite3.connect(tmp_path / "trial.db")) as connection:
        connection.execute("DELETE FROM shots WHERE shot IN (3, 4)")
        connection.commit()
    ship(log, centre)
    assert same(log, centre)
    with centre.log("hall-1") as there:
        assert len(list(there.logged("P25"))) == 4


def test_the_log_of_an_edge_may_lie_on_a_server_too(server_url: str, centre: Centre) -> None:
    """Numbers of rows have holes there, where a transaction was undone."""
    with open_log(server_url, read_only=False) as log:
        log.append(shots(1, 2))
        with suppress(RuntimeError), log.transaction() as work:
            work.append(shots(3, 3)[0])
            add_row(work.connection, schema.ledger, {"rows": "shots:3", "digest": "0", "origin": None})
            raise RuntimeError("undone")
        log.append(shots(3, 4))
        to_go = Shipping(log, centre, "hall-1", "pc-1", "1.0").agree().to_go
        assert to_go == 2  # transactions, not numbers
        ship(log, centre)
        log.append(shots(5, 6))
        ship(log, centre)
        assert same(log, centre)
        edge = centre.edge("hall-1")
        assert edge.links == 3 < edge.link
