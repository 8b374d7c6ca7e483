"""A log on a server of the schema before comes to this one with its rows, and its numbers go on past 32 bits."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from sqlalchemy import Connection, create_engine, insert, text

from shotlog.store.log import engine, schema
from shotlog.store.log.log import open_log
from tests.made_shots import shots
from tests.postgres import Server

EARLIER = Path(__file__).parent / "earlier" / "0011.sql"
BEYOND = 3_000_000_000
"""Past the end of an integer, 2,147,483,647: PostgreSQL manual, "Numeric Types"."""


def rows_of_0011(connection: Connection) -> None:
    """Put the rows of the small log of schema 0011 into tables of that schema on a server."""
    with closing(sqlite3.connect(":memory:")) as made:
        made.executescript(EARLIER.read_text(encoding="utf-8"))
        made.row_factory = sqlite3.Row
        for table in schema.METADATA.sorted_tables:
            rows = [dict(row) for row in made.execute(f"SELECT * FROM {table.name} ORDER BY id")]
            if not rows:
                continue
            for flag in ("settling", "single_use", "cleared", "at_least"):
                for row in rows:
                    row.update({flag: bool(row[flag])} if flag in row else {})
            connection.execute(insert(table), rows)
            last = text("SELECT setval(pg_get_serial_sequence(:name, 'id'), :last)")
            connection.execute(last, {"name": table.name, "last": rows[-1]["id"]})


@pytest.mark.usefixtures("by_migrations")
def test_a_log_of_0011_on_a_server_is_brought_up_to_date(server: Server) -> None:
    url = server.make()
    config = Config()
    config.set_main_option("script_location", str(Path(engine.__file__).parent / "migrations"))
    database = create_engine(url)
    with database.begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "0011")
        rows_of_0011(connection)
    first_line = EARLIER.read_text(encoding="utf-8").splitlines()[0]
    links, digest = first_line.removeprefix("-- schema 0011: ").split(" transactions, last digest ")
    address = url.render_as_string(hide_password=False)
    with open_log(address) as log:
        assert log.verify() == (int(links), digest)
        said = [list(log.logged("P25")), log.verdicts().to_csv()]
    with open_log(address, read_only=False) as log:
        assert log.verify() == (int(links), digest)
        assert [list(log.logged("P25")), log.verdicts().to_csv()] == said
        with log.reading() as reading:
            assert list(compare_metadata(MigrationContext.configure(reading), schema.METADATA)) == []
            kinds = "SELECT data_type::text FROM pg_sequences WHERE schemaname = current_schema()"
            assert {str(row[0]) for row in reading.execute(text(kinds))} == {"bigint"}
        server.run(*(f"ALTER SEQUENCE {name}_id_seq RESTART WITH {BEYOND}" for name in ("shots", "ledger")), url=url)
        log.append(shots(101, 102))
        assert log.verify()[0] == int(links) + 1
        with log.reading() as reading:
            assert reading.execute(text("SELECT max(id) FROM shots")).scalar() == BEYOND + 1
    database.dispose()
    server.drop(url)
