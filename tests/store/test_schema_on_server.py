"""A log on a server of any schema before comes to this one with its rows, and its numbers go on past 32 bits.

Servers were taken from the first release on. The tables are those that the migrations make up to that schema, the rows
those of the small logs in `earlier/`, which a release wrote into a file.
"""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from sqlalchemy import Boolean, Connection, create_engine, insert, text

from shotlog.store.log import engine, schema
from shotlog.store.log.log import open_log
from tests.made_shots import shots
from tests.postgres import Server
from tests.store.test_earlier import CONFIG, EARLIER, SCHEMAS, said

BEYOND = 3_000_000_000
"""Past the end of an integer, 2,147,483,647: PostgreSQL manual, "Numeric Types"."""
QUICK = ("0001", "0011")


def copied_rows(file: sqlite3.Connection, to: Connection) -> None:
    """Put the rows of a log in a file into tables of the same schema on a server."""
    file.row_factory = sqlite3.Row
    there = {name for (name,) in file.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    for table in schema.METADATA.sorted_tables:
        rows = (
            [dict(row) for row in file.execute(f"SELECT * FROM {table.name} ORDER BY id")]
            if table.name in there
            else []
        )
        if not rows:
            continue
        for flag in rows[0].keys() & {column.name for column in table.columns if isinstance(column.type, Boolean)}:
            for row in rows:
                row[flag] = None if row[flag] is None else bool(row[flag])
        to.execute(insert(table), rows)
        last = text("SELECT setval(pg_get_serial_sequence(:name, 'id'), :last)")
        to.execute(last, {"name": table.name, "last": rows[-1]["id"]})


@pytest.mark.usefixtures("by_migrations")
@pytest.mark.parametrize(
    "number", [one if one in QUICK else pytest.param(one, marks=pytest.mark.long) for one in SCHEMAS]
)
def test_a_log_of_an_earlier_schema_is_brought_up_to_date_and_says_what_it_says_in_a_file(
    number: str, server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    dump = (EARLIER / f"{number}.sql").read_text(encoding="utf-8")
    links, digest = dump.splitlines()[0].removeprefix(f"-- schema {number}: ").split(" transactions, last digest ")
    url = server.make()
    address = url.render_as_string(hide_password=False)
    migrations = Config()
    migrations.set_main_option("script_location", str(Path(engine.__file__).parent / "migrations"))
    database = create_engine(url)
    with closing(sqlite3.connect(tmp_path / "trial.db")) as file, database.begin() as connection:
        file.executescript(dump)
        migrations.attributes["connection"] = connection
        command.upgrade(migrations, number)
        copied_rows(file, connection)
    database.dispose()

    with open_log(address, read_only=False) as log:
        assert log.verify() == (int(links), digest)
        with log.reading() as reading:
            assert list(compare_metadata(MigrationContext.configure(reading), schema.METADATA)) == []
            kinds = "SELECT data_type::text FROM pg_sequences WHERE schemaname = current_schema()"
            assert {str(row[0]) for row in reading.execute(text(kinds))} == {"bigint"}
    in_file, on_server = tmp_path / "file.toml", tmp_path / "server.toml"
    in_file.write_text(CONFIG, encoding="utf-8")
    on_server.write_text(CONFIG.replace("sqlite:///trial.db", address), encoding="utf-8")
    assert said(on_server, capsys) == said(in_file, capsys)

    server.run(*(f"ALTER SEQUENCE {name}_id_seq RESTART WITH {BEYOND}" for name in ("shots", "ledger")), url=url)
    with open_log(address, read_only=False) as log:
        log.append(shots(101, 102))
        assert log.verify()[0] == int(links) + 1
        with log.reading() as reading:
            assert reading.execute(text("SELECT max(id) FROM shots")).scalar() == BEYOND + 1
    server.drop(url)
