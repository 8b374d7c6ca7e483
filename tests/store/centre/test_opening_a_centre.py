"""A centre is made, brought up, told from a log and a log from it; what is asked of one edge sees that edge alone."""

import pytest
from sqlalchemy import create_engine, insert, text

from shotlog.errors import CentreAway, StoreDamaged, StoreUnreachable, UsageError
from shotlog.store.centre.centre import edges, open_centre
from shotlog.store.centre.making import LOCK
from shotlog.store.centre.tables import AT_CENTRE, TABLES
from shotlog.store.centre.tables import edges as edge_table
from shotlog.store.log import schema
from shotlog.store.log.engine import SCHEMA
from shotlog.store.log.log import open_log
from tests.postgres import Server

pytestmark = pytest.mark.usefixtures("by_migrations")


def add_edges(url: str, *names: str) -> None:
    with open_centre(url, "1.0") as centre, centre.transaction() as connection:
        for name in names:
            connection.execute(insert(edge_table).values(name=name, uid=f"log of {name}"))


def sql(url: str, *statements: str) -> None:
    engine = create_engine(url)
    with engine.begin() as connection:
        for statement in statements:
            connection.execute(text(statement))
    engine.dispose()


def test_the_edges_are_listed_by_name(centre_url: str) -> None:
    add_edges(centre_url, "hall-2", "hall-1")
    assert [(one.name, one.uid, one.links) for one in edges(centre_url)] == [
        ("hall-1", "log of hall-1", 0),
        ("hall-2", "log of hall-2", 0),
    ]
    assert all(one.silent_s < 60 for one in edges(centre_url))


def test_each_edge_is_a_log_of_its_own_that_is_only_read(centre_url: str) -> None:
    add_edges(centre_url, "hall-1", "hall 2/ä")
    with open_centre(centre_url) as centre:
        with centre.transaction() as connection:
            numbers = {one.name: one.number for one in centre.edges()}
            for name, press in (("hall-1", "P1"), ("hall 2/ä", "P2")):
                connection.execute(
                    insert(AT_CENTRE["presses"]).values(
                        edge=numbers[name], id=1, name=press, time="2026-01-05T06:00:00Z"
                    )
                )
        for name, press in (("hall-1", "P1"), ("hall 2/ä", "P2")):
            with open_log(centre.address(name)) as log:
                assert log.presses() == [press]
                with pytest.raises(StoreUnreachable, match="reading only"), log.transaction():
                    pass
                with pytest.raises(Exception, match="read-only"), log.reading() as connection:
                    connection.execute(text("DELETE FROM centre.presses"))
        with pytest.raises(UsageError, match="only read"):
            open_log(centre.address("hall-1"), read_only=False)


def test_a_centre_is_no_log_and_says_which_it_holds(centre_url: str) -> None:
    add_edges(centre_url, "hall-2", "hall-1")
    for read_only in (True, False):
        with pytest.raises(UsageError, match=r"many edges.*hall-1, hall-2"):
            open_log(centre_url, read_only=read_only)
    with pytest.raises(UsageError, match=r"given edge 'hall-3'.*allowed: hall-1, hall-2"):
        open_log(f"{centre_url}?edge=hall-3")


def test_a_centre_that_somebody_brings_up_for_too_long_counts_as_away(
    centre_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever holds that lock may have lost power: it is told, and tried again, in place of a wait without an end."""
    monkeypatch.setattr("shotlog.store.log.server.BUSY_S", 0.2)
    engine = create_engine(centre_url)
    with engine.connect() as holds:
        holds.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": LOCK})
        with pytest.raises(CentreAway, match="lock timeout"):
            open_centre(centre_url, "1.0")
    engine.dispose()
    open_centre(centre_url, "1.0").close()


def test_a_log_is_no_centre(empty_database: str) -> None:
    open_log(empty_database, read_only=False).close()
    with pytest.raises(UsageError, match="log of one edge"):
        open_centre(empty_database, "1.0")
    for asks in (lambda: edges(empty_database), lambda: open_log(f"{empty_database}?edge=hall-1")):
        with pytest.raises(UsageError, match="nothing was ever shipped"):
            asks()


def test_a_database_that_holds_something_else_is_left_alone(server: Server, empty_database: str, url: str) -> None:
    sql(empty_database, "CREATE SCHEMA edge")
    with pytest.raises(UsageError, match="something else under the name edge"):
        open_centre(empty_database, "1.0")
    latin = server.make(template="template0", more="ENCODING 'LATIN1' LOCALE 'C'")
    with pytest.raises(UsageError, match="LATIN1"):
        open_centre(latin.render_as_string(hide_password=False), "1.0")
    server.drop(latin)
    for given in (url, f"{empty_database}?edge=hall-1"):
        with pytest.raises(UsageError, match=r"allowed: postgresql\+psycopg"):
            open_centre(given, "1.0")


def test_a_centre_of_an_earlier_release_is_brought_up(centre_url: str) -> None:
    add_edges(centre_url, "hall-1")
    sql(
        centre_url,
        "DROP VIEW edge.told, edge.verdicts",
        "CREATE VIEW edge.verdicts AS SELECT id FROM centre.verdicts",
        "DROP TABLE centre.told, centre.entered",
        "ALTER TABLE centre.events DROP COLUMN half CASCADE",
        "ALTER TABLE centre.edges DROP COLUMN behind",
        "DROP INDEX centre.ledger_of_entries, centre.verdicts_odd",
        "UPDATE centre.about SET schema = '0001'",
    )
    with pytest.raises(StoreDamaged, match="0001"):
        open_log(f"{centre_url}?edge=hall-1")
    open_centre(centre_url, "1.1").close()
    assert as_made(centre_url) == wanted()
    assert edges(centre_url)[0].behind == 0
    with open_log(f"{centre_url}?edge=hall-1") as log:
        assert log.verify()[0] == 0
        with log.reading() as connection:
            asked = text("SELECT indexname FROM pg_indexes WHERE schemaname = 'centre'")
            assert {"ledger_of_entries", "verdicts_odd"} <= set(connection.execute(asked).scalars())


def test_a_centre_of_a_newer_release_is_refused(centre_url: str) -> None:
    add_edges(centre_url, "hall-1")
    newer = f"{int(SCHEMA) + 1:04}"
    sql(centre_url, f"UPDATE centre.about SET schema = '{newer}', release = '9.9'")
    with pytest.raises(StoreDamaged, match=r"newer release \(9.9"):
        open_centre(centre_url, "1.0")
    with pytest.raises(StoreDamaged, match="newer release"):
        open_log(f"{centre_url}?edge=hall-1")


def as_made(url: str) -> dict[str, set[str]]:
    engine = create_engine(url)
    with engine.connect() as connection:
        found = connection.execute(
            text(
                "SELECT table_name, column_name FROM information_schema.columns c JOIN information_schema.tables t "
                "USING (table_schema, table_name) WHERE table_schema = 'centre' AND table_type = 'BASE TABLE'"
            )
        ).all()
    engine.dispose()
    made: dict[str, set[str]] = {}
    for table, column in found:
        made.setdefault(table, set()).add(column)
    return made


def wanted() -> dict[str, set[str]]:
    return {table.name: set(table.columns.keys()) for table in TABLES.sorted_tables}


def test_every_table_of_the_record_has_its_place(empty_database: str) -> None:
    open_centre(empty_database, "1.0").close()
    assert as_made(empty_database) == wanted()
    assert {*schema.RECORD_TABLES, "ledger", "presence"} <= set(AT_CENTRE)
    for name, table in AT_CENTRE.items():
        assert {"edge", *schema.METADATA.tables[name].columns.keys()} == set(table.columns.keys()) - {"month"}
        assert not {"edge", "month"} & set(schema.METADATA.tables[name].columns.keys())
