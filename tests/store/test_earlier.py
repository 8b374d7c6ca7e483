"""A log of every earlier schema, as the last release that wrote it made it, opens and says the same of its past.

`earlier/NNNN.sql` is the dump of a small log made by running that release itself: inserts with a swap, a call, a
finding, a gap, a fault, inspected, held, released and scrapped parts, a bath, an entry taken back. Its first line says
how many transactions it had, and its digest. What may be thrown away (checkpoints, presence) is left out.
"""

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import create_engine, inspect

from shotlog.cli.main import main
from shotlog.records import Shot
from shotlog.settings import load
from shotlog.store.asked import state
from shotlog.store.keeping.whole_file import file_damage
from shotlog.store.log import schema
from shotlog.store.log.earlier import columns_in, names_in
from shotlog.store.log.engine import SCHEMA
from shotlog.store.log.log import open_log
from tests.made_shots import START

EARLIER = Path(__file__).parent / "earlier"
SCHEMAS = sorted(path.stem for path in EARLIER.glob("*.sql"))
CONFIG = """[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[design.cap-r2]
settling_shots = 3
baseline_shots = 6
  [design.cap-r2.limits]
  cushion = { low = 4.4 }
"""
QUESTIONS = (("entries", "--json"), ("parts", "P25", "--json"), ("inserts", "--json"))


def test_there_is_one_of_every_schema_before_this_one() -> None:
    """Whoever raises the schema adds the log of the release before: `git archive` of it, a small log, its dump."""
    assert [f"{number:04}" for number in range(1, int(SCHEMA))] == SCHEMAS


@pytest.mark.parametrize("number", SCHEMAS)
def test_its_tables_and_columns_are_those_that_the_library_finds(number: str) -> None:
    engine = create_engine("sqlite://")
    with engine.connect() as connection:
        connection.connection.driver_connection.executescript((EARLIER / f"{number}.sql").read_text(encoding="utf-8"))
        found = inspect(connection)
        assert names_in(connection) == set(found.get_table_names())
        assert columns_in(connection) == {
            name: {column["name"] for column in found.get_columns(name)} for name in names_in(connection)
        }
    engine.dispose()


@pytest.fixture
def config(tmp_path: Path) -> Path:
    file = tmp_path / "trial.toml"
    file.write_text(CONFIG, encoding="utf-8")
    return file


def rows_of(path: Path) -> dict[str, list[dict[str, Any]]]:
    """Return every row of record in a file, by table, read past this program."""
    with closing(sqlite3.connect(path)) as connection:
        connection.row_factory = sqlite3.Row
        there = {name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        return {
            name: [dict(row) for row in connection.execute(f"SELECT * FROM {name} ORDER BY id")]
            for name in sorted(there & {*schema.RECORD_TABLES, "ledger"})
        }


def said(config: Path, capsys: pytest.CaptureFixture[str]) -> list[object]:
    """Return what is said of the past: by commands, and every verdict in force with its sentence."""
    told: list[object] = []
    for name, *words in QUESTIONS:
        capsys.readouterr()
        assert main([name, str(config), *words]) == 0
        told.append(json.loads(capsys.readouterr().out, object_hook=_without_what_the_clock_adds))
    with open_log(load(config).store) as log:
        told += [state.verdicts(log, "P25"), list(log.logged("P25")), state.signals(log, "P25"), log.verify()]
    return told


def is_whole(config: Path) -> bool:
    """Say whether every page of its file reads well."""
    with open_log(load(config).store) as log, log.reading() as connection:
        return file_damage(connection) is None


def _without_what_the_clock_adds(document: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in document.items() if name != "overdue_h"}


@pytest.mark.parametrize("number", SCHEMAS)
def test_it_opens_and_says_the_same_only_read_brought_up_to_date_and_written_on(
    number: str, config: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    dump = (EARLIER / f"{number}.sql").read_text(encoding="utf-8")
    path = config.with_name("trial.db")
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(dump)
    before, stored = path.read_bytes(), rows_of(path)
    links, digest = dump.splitlines()[0].removeprefix(f"-- schema {number}: ").split(" transactions, last digest ")

    told = said(config, capsys)
    assert is_whole(config)
    assert path.read_bytes() == before
    assert told[-1] == (int(links), digest)
    assert len(stored["verdicts"]) > len(stored["shots"])
    assert {one.sentence for one in state_of(config)} <= {row["sentence"] for row in stored["verdicts"]}

    open_log(load(config).store, read_only=False).close()
    now = rows_of(path)
    for name, rows in stored.items():
        assert [{key: row[key] for key in old} for row, old in zip(now[name], rows, strict=True)] == rows, name
    assert said(config, capsys) == told
    assert is_whole(config)

    with open_log(load(config).store, read_only=False) as log:
        log.append([Shot("P25", 101, 101, START, {"cushion": 5.0})])
        assert log.verify()[0] == int(links) + 1
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == (SCHEMA,)
        assert connection.execute("SELECT count(*) FROM logs").fetchone() == (1,)


def state_of(config: Path) -> list[Any]:
    with open_log(load(config).store) as log:
        return state.verdicts(log, "P25")
