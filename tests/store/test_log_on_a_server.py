"""What a log asks of a PostgreSQL server: one state to read, durable commits, one writer, refusals told as such."""

import logging
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import URL, Connection, Engine, create_engine, text
from sqlalchemy.engine import make_url

from shotlog.channels import CHANNELS
from shotlog.cli.main import main
from shotlog.errors import StoreDamaged, StoreHeld, StoreLocked, StoreUnreachable, UsageError
from shotlog.store.centre.centre import open_centre
from shotlog.store.holding import held
from shotlog.store.log import engine as database
from shotlog.store.log import schema
from shotlog.store.log.held_log import held_log
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.one_way import OneWay
from shotlog.store.log.patience import at_once
from shotlog.store.log.prepared import Asked, Row
from shotlog.store.log.server import _MIGRATIONS, _WRITERS
from tests.made_shots import shots
from tests.postgres import Server
from tests.store.test_opening import open_at_once


def address(url: URL) -> str:
    return url.render_as_string(hide_password=False)


@pytest.fixture
def log(server_url: str) -> Iterator[Log]:
    with open_log(server_url, read_only=False) as opened:
        yield opened


@contextmanager
def another(url: str) -> Iterator[Connection]:
    """Connect past this program, as a person with `psql` does."""
    engine = create_engine(url)
    with engine.connect() as connection:
        yield connection
    engine.dispose()


def end_all(connection: Connection) -> None:
    """End all other connections to a database."""
    connection.execute(
        text(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
            "WHERE datname = current_database() AND pid <> pg_backend_pid()"
        )
    )


def count(log: Log) -> int:
    with log.reading() as connection:
        return int(connection.execute(text("SELECT count(*) FROM shots")).scalar_one())


def asked(log: Log, setting: str) -> str:
    with log.transaction() as work:
        return str(work.connection.execute(text(f"SHOW {setting}")).scalar_one())


def test_all_that_is_read_within_one_moment_is_of_one_state(log: Log, server_url: str) -> None:
    log.append(shots(1, 3))
    with open_log(server_url) as reader, reader.one_moment():
        assert count(reader) == 3
        log.append(shots(4, 9))
        assert count(reader) == 3
    assert count(log) == 9


def test_any_number_of_pages_read_at_once(log: Log) -> None:
    """Each of 24 threads has two connections, more than a pool of the library's own size gives."""
    log.append(shots(1, 2))
    meet, found = threading.Barrier(24, timeout=60), []

    def read() -> None:
        with log.reading():
            meet.wait()
            found.append(count(log))

    threads = [threading.Thread(target=read) for _ in range(24)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == [2] * 24


@pytest.mark.parametrize(("default", "ours"), [("off", "on"), ("local", "local"), ("remote_apply", "remote_apply")])
def test_a_commit_is_on_disk_whatever_the_database_was_set_to(
    server: Server, server_url: str, default: str, ours: str
) -> None:
    name = make_url(server_url).database
    server.run(f'ALTER DATABASE "{name}" SET synchronous_commit = {default}')
    with open_log(server_url, read_only=False) as log:
        assert asked(log, "synchronous_commit") == ours


@pytest.mark.parametrize("command", ["run", "status", "verify", "ship"])
def test_a_server_that_brings_nothing_to_disk_is_named_once(
    log: Log, server: Server, server_url: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture, command: str,
) -> None:  # fmt: skip
    with another(server_url) as connection:
        off = connection.execute(text("SHOW fsync")).scalar_one() == "off"
    log.append(shots(1, 1))
    monkeypatch.setattr("shotlog.store.log.server._SAID", set())
    config = tmp_path / "trial.toml"
    config.write_text(
        f'[log]\nstore = "{server_url}"\n[[press]]\nname = "P25"\n  [press.collector]\n  kind = "recording"\n',
        encoding="utf-8",
    )
    with caplog.at_level(logging.WARNING):
        for _ in range(2):
            if command == "run":
                with held_log(server_url) as held_one:
                    held_one.open()
            elif command == "ship":
                open_centre(address(server.make()), "1.0").close()
            else:
                assert main([command, str(config)]) in (0, 2)
    assert caplog.text.count("off at its server: fsync") == off


def test_a_database_of_another_encoding_is_refused(
    server: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    url = server.make("template0", "ENCODING 'LATIN1' LC_COLLATE 'C' LC_CTYPE 'C'")
    said = "keeps texts as LATIN1, allowed: one that keeps them as UTF8"
    for read_only in (True, False):
        with pytest.raises(UsageError, match=said):
            open_log(address(url), read_only=read_only)
    config = tmp_path / "trial.toml"
    config.write_text(
        f'[log]\nstore = "{address(url)}"\n[[press]]\nname = "P25"\n  [press.collector]\n  kind = "recording"\n',
        encoding="utf-8",
    )
    assert main(["status", str(config)]) == 2
    assert said in capsys.readouterr().err
    server.drop(url)


def test_a_writer_waits_for_another_and_is_told_that_it_is_locked(log: Log, server_url: str) -> None:
    with open_log(server_url, read_only=False) as other, other.transaction() as work:
        work.press_id("P1", "2026-01-05T06:00:00Z")
        with at_once(), pytest.raises(StoreLocked):
            log.append(shots(1, 1))
    log.append(shots(1, 1))
    assert log.verify()[0] == 2


def test_a_server_asks_for_signs_of_life_before_it_keeps_a_lock_for_hours(log: Log) -> None:
    """Its own answer for what a session was set to: two hours, and for ever, where nobody asks (PostgreSQL manual)."""
    with log.transaction() as work:
        alive = ("idle", "interval", "count")
        asked = [f"tcp_keepalives_{one}" for one in alive] + ["tcp_user_timeout", "idle_in_transaction_session_timeout"]
        found = [str(work.connection.execute(text(f"SHOW {one}")).scalar_one()) for one in asked]
    assert found == ["10", "5", "3", "15000", "2min"]


def test_a_writer_that_stands_still_keeps_others_out_for_a_while_only(
    server_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shotlog.store.log.server._IDLE_S", 0.2)
    with open_log(server_url, read_only=False) as stands, open_log(server_url, read_only=False) as other:
        stood = stands.transaction()
        stood.__enter__().press_id("P1", "2026-01-05T06:00:00Z")
        other.append(shots(1, 1))
        with pytest.raises(StoreUnreachable):
            stood.__exit__(None, None, None)
        stands.append(shots(2, 2))
        assert (count(other), other.presses()) == (2, ["P25"])


def test_an_earlier_release_and_this_one_wait_for_each_other(log: Log, server_url: str) -> None:
    """It locks the whole table of links: two that wrote at once would fork the chain."""
    with another(server_url) as connection:
        connection.execute(text("LOCK TABLE ledger IN EXCLUSIVE MODE"))
        with at_once(), pytest.raises(StoreLocked):
            log.append(shots(1, 1))
    with log.transaction(), another(server_url) as connection, pytest.raises(Exception, match="lock timeout"):
        connection.execute(text("SET LOCAL lock_timeout = '50ms'; LOCK TABLE ledger IN EXCLUSIVE MODE"))


def test_shots_are_stored_while_the_server_cleans_a_table(log: Log, server_url: str) -> None:
    """Its lock is one that cleaning takes (PostgreSQL manual, "Explicit Locking"), for as long as that lasts."""
    with another(server_url) as connection:
        for table in ("ledger", "shots"):
            connection.execute(text(f"LOCK TABLE {table} IN SHARE UPDATE EXCLUSIVE MODE"))
        with at_once():
            log.append(shots(1, 2))
    assert count(log) == 2


def test_a_connection_that_was_ended_is_made_anew_and_nothing_is_doubled(log: Log, server_url: str) -> None:
    log.append(shots(1, 1), origin="first")
    with another(server_url) as connection:
        with pytest.raises(StoreUnreachable), log.transaction():
            end_all(connection)
        assert count(log) == 1
        end_all(connection)
    for _ in range(2):
        log.append(shots(2, 2), origin="second")
    assert (count(log), log.verify()[0]) == (2, 2)


def test_a_connection_that_is_ended_while_another_writer_is_waited_for_says_so(
    log: Log, server_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    plainly = OneWay.undo
    with another(server_url) as connection:

        def ended(way: OneWay) -> None:
            end_all(connection)
            plainly(way)

        connection.execute(text(f"SELECT pg_advisory_xact_lock({_WRITERS})"))
        monkeypatch.setattr(OneWay, "undo", ended)
        with pytest.raises(StoreUnreachable):
            log.append(shots(1, 1))
    log.append(shots(1, 1))
    assert count(log) == 1


def test_a_press_has_one_logger_whatever_the_configuration(server_url: str, tmp_path: Path) -> None:
    one, other = tmp_path / "one.toml", tmp_path / "other.toml"
    for config in (one, other):
        config.touch()
    said = "press P25 is logged already into this log, by shotlog on .*, process .*, since .*; end that one first"
    with held(one, server_url, ["P25", "P15"]):
        with pytest.raises(StoreHeld, match=said), held(other, server_url, ["P25"]):
            pass
        with held(other, server_url, ["P26"]):
            pass
    with held(other, server_url, ["P25"]):
        pass


def test_threads_that_find_the_connection_lost_at_once_do_not_refuse_each_other(
    server_url: str, tmp_path: Path
) -> None:
    """Each took the press's lock anew, and was told that this very process logs it already."""
    config = tmp_path / "one.toml"
    config.touch()
    meet, refused = threading.Barrier(12, timeout=60), list[StoreHeld]()
    with held(config, server_url, ["P25"]) as holder:

        def hold() -> None:
            meet.wait()
            try:
                holder.hold()
            except StoreHeld as error:
                refused.append(error)

        with another(server_url) as connection:
            end_all(connection)
        threads = [threading.Thread(target=hold) for _ in range(12)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        with another(server_url) as connection:
            found = "SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND database = :of"
            of = connection.execute(text("SELECT oid FROM pg_database WHERE datname = current_database()")).scalar()
            locks = connection.execute(text(found), {"of": of}).scalar()
    assert (refused, locks) == ([], 1)


def test_a_lock_that_our_own_lost_connection_still_has_is_waited_for(server_url: str, tmp_path: Path) -> None:
    """A network that was cut: the server learns of it later than we do."""
    config = tmp_path / "one.toml"
    config.touch()
    with held(config, server_url, ["P25"]) as holder:
        lost, holder._server = holder._server, None
        for _ in range(2):  # a server may take half a minute
            with pytest.raises(StoreUnreachable, match="has not given up yet the connection that we lost") as raised:
                holder.hold()
            assert not isinstance(raised.value, StoreHeld)
        assert lost is not None
        lost.engine.dispose()
        lost.invalidate()
        holder.hold()


def test_an_entry_whose_commit_nobody_heard_of_says_so(
    log: Log, server_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    plainly = OneWay.send

    def cut_off(way: OneWay, statements: Sequence[str | Asked]) -> list[list[Row]]:
        if "COMMIT" in statements:
            with another(server_url) as other:
                end_all(other)
        return plainly(way, statements)

    monkeypatch.setattr(OneWay, "send", cut_off)
    with pytest.raises(StoreUnreachable, match="which may be done: look before it is entered again"):
        log.append(shots(1, 1))
    monkeypatch.undo()
    log.append(shots(1, 1))
    assert count(log) == 1


def test_a_channel_that_is_new_is_added_by_one_program_at_a_time(
    log: Log, server: Server, server_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    server.run(f"ALTER TABLE shots DROP COLUMN {[*CHANNELS][-1]}", url=make_url(server_url))
    plainly, alone = database._missing_channels, []

    def missing(bind: Engine | Connection) -> list[str]:
        if isinstance(bind, Connection):
            with another(server_url) as other:
                alone.append(not other.execute(text(f"SELECT pg_try_advisory_xact_lock({_MIGRATIONS})")).scalar_one())
        return plainly(bind)

    monkeypatch.setattr(database, "_missing_channels", missing)
    with open_log(server_url, read_only=False) as opened, opened.reading() as connection:
        assert (alone[-1], plainly(connection)) == (True, [])


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ("UPDATE shots SET cushion = cushion + 1 WHERE shot = 2", r"transaction 1 \(.*shots:2.*\) was changed later"),
        ("DELETE FROM shots WHERE shot = 3", "row 3 of shots was taken out"),
        ("INSERT INTO presses (name, time) VALUES ('P99', '')", "rows where the chain covers"),
        ("UPDATE ledger SET rows = 'songs:1'", "names 'songs:1', which is no row of the record"),
    ],
)
def test_a_row_tampered_with_is_found(log: Log, server: Server, server_url: str, change: str, said: str) -> None:
    log.append(shots(1, 3))
    server.run(change, url=make_url(server_url))
    with pytest.raises(StoreDamaged, match=said):
        log.verify()


def test_a_database_with_nothing_in_it_says_what_fills_it(server: Server) -> None:
    url = server.make()
    with pytest.raises(
        StoreUnreachable, match="nothing is in it yet; what is logged or entered first makes its tables"
    ):
        open_log(address(url))
    server.drop(url)


def test_a_database_of_something_else_is_refused(server: Server) -> None:
    url = server.make()
    server.run("CREATE TABLE songs (name text)", url=url)
    for read_only in (True, False):
        with pytest.raises(StoreDamaged, match="holds other tables and no shots"):
            open_log(address(url), read_only=read_only)
    server.drop(url)


@pytest.mark.long
@pytest.mark.usefixtures("by_migrations")
def test_programs_that_make_a_log_at_once_make_one(server: Server) -> None:
    url = server.make()
    open_at_once(address(url), 2)
    with open_log(address(url)) as log:
        assert sorted(log.presses()) == ["P0", "P1"]
        assert log.verify()[0] == 2
    server.drop(url)


def test_a_role_that_may_only_read_is_told_so_and_reads(log: Log, server: Server, server_url: str) -> None:
    log.append(shots(1, 3))
    role = f"looks_{make_url(server_url).database}"
    url = make_url(server_url).set(username=role)
    server.run(f'CREATE ROLE "{role}" LOGIN')
    server.run(f'GRANT SELECT ON ALL TABLES IN SCHEMA public TO "{role}"', url=make_url(server_url))
    with open_log(address(url)) as reader:
        assert (count(reader), reader.verify()) == (3, log.verify())
    with (
        open_log(address(url), read_only=False) as writer,
        pytest.raises(StoreUnreachable, match=r"permission denied .* has not got this right"),
    ):
        writer.append(shots(4, 4))
    server.run(f'DROP OWNED BY "{role}"', f'DROP ROLE "{role}"', url=make_url(server_url))


def test_a_role_that_may_only_add_is_enough_to_log_with(log: Log, server: Server, server_url: str) -> None:
    """The server itself then keeps anybody from changing what is on record with it."""
    role = f"adds_{make_url(server_url).database}"
    url = make_url(server_url).set(username=role)
    caches = ", ".join(table.name for table in schema.CACHES)
    server.run(f'CREATE ROLE "{role}" LOGIN')
    server.run(
        f'GRANT SELECT, INSERT ON ALL TABLES IN SCHEMA public TO "{role}"',
        f'GRANT DELETE ON {caches} TO "{role}"',
        f'GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO "{role}"',
        url=make_url(server_url),
    )
    with held_log(address(url)) as writer:
        writer.open()
        writer.append(shots(1, 3), origin="one")
        assert writer.verify()[0] == 1
        with pytest.raises(StoreUnreachable, match="permission denied for table shots"), writer.transaction() as work:
            work.connection.execute(text("DELETE FROM shots"))
    server.run(f'DROP OWNED BY "{role}"', f'DROP ROLE "{role}"', url=make_url(server_url))


def test_a_role_that_may_not_make_tables_is_told_so(server: Server) -> None:
    url = server.make()
    role = f"new_{url.database}"
    server.run(f'CREATE ROLE "{role}" LOGIN')
    server.run("REVOKE CREATE ON SCHEMA public FROM PUBLIC", url=url)
    with pytest.raises(StoreUnreachable, match="permission denied for schema public"):
        open_log(address(url.set(username=role)), read_only=False)
    server.run(f'DROP ROLE "{role}"')
    server.drop(url)


def test_what_the_address_says_besides_is_kept(log: Log, server: Server, server_url: str) -> None:
    server.run("CREATE SCHEMA shop", url=make_url(server_url))
    elsewhere = make_url(server_url).update_query_dict({"options": "-csearch_path=shop"})
    with open_log(address(elsewhere), read_only=False) as other:
        other.append(shots(1, 4))
        assert (count(other), count(log)) == (4, 0)
    encrypted = make_url(server_url).update_query_dict({"sslmode": "require"})
    with pytest.raises(StoreUnreachable, match="SSL"):
        open_log(address(encrypted))


def test_a_database_of_an_odd_name(
    server: Server, fresh_on_server: URL, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name = "Halle 2: 50% ü/é?#'&"
    server.make_named(name, fresh_on_server.database)
    url = server.url.set(database=name)
    config = tmp_path / "trial.toml"
    config.write_text(
        f'[log]\nstore = "{address(url)}"\n[[press]]\nname = "P25"\n  [press.collector]\n  kind = "recording"\n',
        encoding="utf-8",
    )
    assert main(["mount", str(config), "P25", "B-11"]) == 0, capsys.readouterr().err
    assert main(["verify", str(config)]) == 0
    with open_log(address(url)) as log:
        assert log.timeline("P25").stays
    server.drop(url)
