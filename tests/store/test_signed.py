"""How entries are counted by who signed them, and what `verify` finds of signatures; a log of before has none."""

import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import select

from shotlog.cli.main import main
from shotlog.records import Shot, Signature, Who
from shotlog.store.asked.entries_made import entries_made
from shotlog.store.asked.who import makers
from shotlog.store.inserts import entries
from shotlog.store.log import schema
from shotlog.store.log.chain import digest
from shotlog.store.log.engine import connect
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.salvage import salvage, what_reads
from shotlog.store.log.signed import PROGRAM, Tally, tally
from shotlog.store.undo import enter_again, take_back
from shotlog.wording.who import by_whom, who_said

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
TYPED = Signature("", "", "page", "127.0.0.1", "RK")
LOGGED_IN = Signature("k.brand", "quality", "page", "10.0.0.7", "KB")

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
"""


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as made:
        made.append([Shot("P25", n, n, NOON + timedelta(minutes=n), {"cushion": 5.0}) for n in range(1, 6)])
        yield made


def entered(log: Log, signature: Signature | None, text: str, initials: str = "") -> int:
    log.signature = signature
    return entries.note(log, "P25", "note", text, NOON + timedelta(hours=1), initials=initials).entry_id


def counted(log: Log) -> Tally:
    with log.reading() as connection:
        return tally(connection)


@pytest.mark.either
def test_entries_are_counted_by_how_they_are_signed(log: Log) -> None:
    entered(log, None, "of before there were signatures", "MR")
    entered(log, None, "likewise, by nobody")
    entered(log, TYPED, "typed", "RK")
    entered(log, replace(TYPED, initials=""), "by nobody")
    entered(log, LOGGED_IN, "logged in", "KB")
    entered(log, PROGRAM, "by itself")
    assert counted(log) == Tally(by_login=1, typed=2, not_said=2, by_program=1, wrong=())
    said = [who_said(one.who) for one in entries_made(log)]
    assert said == ["MR", "not said", "RK, typed", "not said", "KB, logged in as k.brand", "the logger"]


def test_who_took_back_is_known_like_who_entered(log: Log) -> None:
    number = entered(log, TYPED, "typed", "RK")
    log.signature = LOGGED_IN
    take_back(log, "events", number, NOON + timedelta(hours=2), "wrong press", "KB")
    (one,) = entries_made(log)
    assert (by_whom(one.who), by_whom(one.who_back)) == (", by RK, typed", ", by KB, logged in as k.brand")
    assert makers(log, [("events", number)]) == {("events", number): Who("RK", TYPED)}


def test_an_entry_without_a_signature_is_found_where_there_should_be_one(
    log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    entered(log, None, "of before")
    entered(log, TYPED, "typed", "RK")
    assert main(["verify", str(tmp_path / "trial.toml")]) == 0
    assert "signed: 2 entries of people: 0 by log-in, 1 with typed initials, 1 whose maker is not said" in (
        capsys.readouterr().out
    )
    missing = entered(log, None, "by a way that forgot")
    assert counted(log).wrong == (f"entry {missing} of events has no signature",)
    assert main(["verify", str(tmp_path / "trial.toml")]) == 1
    assert f"entry {missing} of events has no signature" in capsys.readouterr().err


def test_a_log_that_goes_on_from_another_excuses_what_was_entered_into_that_one_alone(
    log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What was salvaged may lack a signature; what is entered years after must not."""
    entered(log, TYPED, "typed", "RK")
    lost = entered(log, None, "its signature lay on a page that is lost")
    log.signature = PROGRAM
    with log.transaction() as work:
        work.name("salvaged", follows="0" * 32)
    said = f"entry {lost} of events has no signature"
    assert (counted(log).lost, counted(log).wrong) == ((said,), ())
    assert main(["verify", str(tmp_path / "trial.toml")]) == 0
    assert f"  {said}: it was lost with the log that this one goes on from\n" in capsys.readouterr().out
    missing = entered(log, None, "by a way that forgot")
    assert counted(log).wrong == (f"entry {missing} of events has no signature",)
    assert main(["verify", str(tmp_path / "trial.toml")]) == 1
    assert said not in capsys.readouterr().err


def test_a_signature_twice_or_of_nothing_is_found(log: Log, tmp_path: Path) -> None:
    """By whoever can write the file and chain it anew: the chain holds, the entry is signed by two."""
    number = entered(log, TYPED, "typed", "RK")
    log.close()
    with sqlite3.connect(tmp_path / "trial.db") as file:
        columns = "entry, entry_id, account, role, via, address, initials"
        kinds = "entry TEXT, entry_id BIGINT, account TEXT, role TEXT, via TEXT, address TEXT, initials TEXT"
        file.execute(f"CREATE TABLE copied (id INTEGER PRIMARY KEY, {kinds})")
        file.execute("INSERT INTO copied SELECT id, " + columns + " FROM signed")
        file.execute("DROP TABLE signed")
        file.execute("ALTER TABLE copied RENAME TO signed")
        for entry_id in (number, 99):
            row = {"entry": "events", "entry_id": entry_id, "account": "k.brand", "role": "quality", "via": "page",
                   "address": "", "initials": "KB"}  # fmt: skip
            made = file.execute(f"INSERT INTO signed ({columns}) VALUES (?, ?, ?, ?, ?, ?, ?)", tuple(row.values()))
            (before,) = file.execute("SELECT digest FROM ledger ORDER BY id DESC LIMIT 1").fetchone()
            linked = digest(before, [("signed", {"id": made.lastrowid, **row})])
            file.execute("INSERT INTO ledger (rows, digest) VALUES (?, ?)", (f"signed:{made.lastrowid}", linked))
    file.close()
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}") as again:
        again.verify()
        found = counted(again)
    assert found.wrong == (
        f"entry {number} of events has 2 signatures", "a signature is of entry 99 of events, which is not there"
    )  # fmt: skip
    assert found.by_login + found.typed >= 1


@pytest.mark.file
def test_a_signature_is_lost_with_its_entry(log: Log, tmp_path: Path) -> None:
    """The entry's number is given to the next one, which then has one signature: its own."""
    kept = entered(log, TYPED, "stays", "RK")
    lost = entered(log, TYPED, "lies on a page that is lost", "RK")
    log.close()
    old = what_reads(connect(log.url, read_only=True))
    del old.rows["events"][lost]
    target = connect(f"sqlite:///{(tmp_path / 'new.db').as_posix()}")
    schema.METADATA.create_all(target)
    assert salvage(old, target).lost == {"events": 1, "signed": 1}
    with target.connect() as connection:
        assert connection.execute(select(schema.signed.c.entry_id)).scalars().all() == [kept]
    target.dispose()


def test_a_log_of_before_there_were_signatures_says_what_it_said(tmp_path: Path) -> None:
    file = tmp_path / "old.db"
    with sqlite3.connect(file) as made:
        made.executescript((Path(__file__).parent / "earlier" / "0009.sql").read_text(encoding="utf-8"))
    made.close()
    before = file.read_bytes()
    with open_log(f"sqlite:///{file.as_posix()}") as log:
        found = entries_made(log)
        assert found
        assert {who_said(one.who) for one in found} == {one.initials or "not said" for one in found}
        assert all(one.signature is None for one in found)
        assert counted(log).wrong == ()
        assert counted(log).by_login == 0
    assert file.read_bytes() == before
    with open_log(f"sqlite:///{file.as_posix()}", read_only=False) as log:
        log.signature = TYPED
        press = log.presses()[0]
        entries.note(log, press, "note", "after the update", datetime.now(UTC), initials="RK")
        assert counted(log).wrong == ()
        assert who_said(entries_made(log)[-1].who) == "RK, typed"


def test_a_release_is_refused_where_nobody_says_who(
    log: Log, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """From a command or Python alike, and nothing is entered; the variable of the environment says who as well."""
    config = str(tmp_path / "trial.toml")
    for decision in ("release", "scrap"):
        assert main(["parts", config, "P25", "2", f"--{decision}", "--reason", "measured"]) == 2
        said = capsys.readouterr().err
        assert "initials: given nothing, allowed: yours; parts are " in said
        assert "only by somebody who says who, so enter them first" in said
        assert said.count("\n") == 1
    assert entries_made(log) == []
    assert main(["parts", config, "P25", "3", "--hold"]) == 0
    assert main(["undo", config, "decision", "1", "--reason", "wrong tray"]) == 2
    monkeypatch.setenv("SHOTLOG_INITIALS", " QA ")
    assert main(["parts", config, "P25", "2", "--release", "--reason", "measured"]) == 0
    assert main(["undo", config, "decision", "2", "--reason", "wrong tray"]) == 0
    assert main(["undo", config, "decision", "2", "--again", "--initials", "RK"]) == 0
    capsys.readouterr()
    assert main(["entries", config]) == 0
    told = capsys.readouterr().out
    assert "by QA, typed): TAKEN BACK" in told
    assert "by QA, typed (wrong tray)" in told
    assert "by RK, typed)" in told
    monkeypatch.delenv("SHOTLOG_INITIALS")
    (held, released, again) = entries_made(log)
    assert (held.initials, released.initials, again.initials) == ("", "QA", "RK")
    assert held.signature is not None
    assert "@" in held.signature.address


def test_entering_again_keeps_whose_it_was_and_says_who_did(log: Log) -> None:
    number = entered(log, TYPED, "seen by MR", "MR")
    log.signature = replace(LOGGED_IN, initials="KB")
    take_back(log, "events", number, NOON + timedelta(hours=2), "wrong press", "KB")
    enter_again(log, "events", number, NOON + timedelta(hours=3))
    said = [who_said(one.who) for one in entries_made(log)]
    assert said == ["MR, entered by RK, typed", "MR, entered by KB, logged in as k.brand"]


def test_what_is_imported_keeps_whose_it_was_and_says_who_took_it_in(
    log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    row = "press,shot,inspected,quantity,finding,initials\nP25,4,2026-03-02T13:00:00Z,look,flash,{}\n"
    for name, whose, given in (("a", "MR", ["--initials", "RK"]), ("b", "", ["--initials", "RK"]), ("c", "ab", [])):
        (tmp_path / f"{name}.csv").write_text(row.format(whose), encoding="utf-8")
        assert main(["import", str(tmp_path / "trial.toml"), str(tmp_path / f"{name}.csv"), *given]) == 0
    capsys.readouterr()
    assert [one.initials for one in entries_made(log)] == ["MR", "", "ab"]
    first, second, third = (who_said(one.who) for one in entries_made(log))
    assert (first, second) == ("MR, taken in by RK, typed", "not said, taken in by RK, typed")
    assert third.startswith("ab, taken in by ")
    assert "@" in third


def test_initials_of_any_length_are_refused(log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["note", str(tmp_path / "trial.toml"), "P25", "note", "x", "--initials", "K" * 21]) == 2
    assert "initials: given 21 characters, allowed: up to 20" in capsys.readouterr().err
    assert entries_made(log) == []
