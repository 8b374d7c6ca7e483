"""`shotlog verify`: the file page by page, the chain, what is known of it outside; a log that lost its end."""

import json
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import insert

from shotlog.cli.main import main
from shotlog.store.keeping import whole_file
from shotlog.store.keeping.head import uid_of
from shotlog.store.log import schema
from shotlog.store.log.log import Log, open_log
from tests.made_shots import shots

CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'


@pytest.fixture
def config(tmp_path: Path, log: Log) -> Path:
    """The configuration of a log of 200 shots, a transaction each, on disk and nowhere else."""
    for shot in shots(1, 200):
        log.append([shot])
    with log.transaction() as work:
        fields = {"press_id": 1, "basis": "b"}
        judging_id = work.add(schema.judgings, **fields, from_shot=0, reason="r", time="t")
        points = [{**fields, "judging_id": judging_id, "shot": n, "state": "x" * 3000} for n in range(20)]
        work.connection.execute(insert(schema.checkpoints), points)
    log.close()
    emptied_wal(tmp_path / "trial.db")
    file = tmp_path / "trial.toml"
    file.write_text(CONFIG, encoding="utf-8")
    return file


def emptied_wal(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def spoil(path: Path, name: str) -> None:
    """Overwrite the page at which a table or an index begins."""
    with closing(sqlite3.connect(path)) as connection:
        (size,) = connection.execute("PRAGMA page_size").fetchone()
        (root,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (name,)).fetchone()
    content = bytearray(path.read_bytes())
    content[(root - 1) * size : root * size] = bytes([7]) * size
    path.write_bytes(content)


def said(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, str, str]:
    capsys.readouterr()
    status = main([str(one) for one in arguments])
    return status, *capsys.readouterr()


def test_a_whole_log_says_up_to_where_and_what_confirms_it(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = said(capsys, "verify", config)
    assert status == 0
    assert "nothing outside the log confirms it: see --expect, and `anchor` under [log]" in out
    assert "nothing changed later; last digest" in out.splitlines()[-1]


def test_a_damaged_index_is_told_though_no_row_is_missing(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 0 with the page bad, while only the rows were read."""
    spoil(config.with_name("trial.db"), "shots_by_trial")
    status, out, err = said(capsys, "verify", config)
    assert (status, out) == (1, "")
    assert "its file is damaged in shots: " in err
    assert len(err.splitlines()) == 1


def test_a_damaged_table_is_named(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(config.with_name("trial.db"), "events")
    status, _, err = said(capsys, "verify", config)
    assert status == 1
    assert "its file is damaged in events: " in err


def test_damage_in_what_can_be_worked_out_again_says_that_the_record_is_whole(
    config: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(config.with_name("trial.db"), "checkpoints")
    status, out, err = said(capsys, "verify", config)
    assert status == 1
    assert "nothing changed later; last digest" in out
    assert "the record is whole, but the file is damaged in checkpoints" in err


def test_what_no_release_puts_into_a_log_is_told(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with closing(sqlite3.connect(config.with_name("trial.db"))) as connection:
        connection.execute("CREATE TRIGGER less AFTER INSERT ON shots BEGIN DELETE FROM faults; END")
        connection.commit()
    status, _, err = said(capsys, "verify", config)
    assert status == 1
    assert "a trigger 'less' was put into it, which no release of this program makes" in err


def test_it_tells_how_far_it_is_and_can_be_stopped(
    config: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Within the database's own check Ctrl-C would be swallowed, and come out as an interrupted statement."""
    monkeypatch.setattr(whole_file, "_AFTER_STEPS", 1)
    monkeypatch.setattr("shotlog.cli.progress._FIRST_S", 0.0)
    status, _, err = said(capsys, "verify", config)
    assert status == 0
    assert "every page of the file is being looked at" in err

    def stop(_: object, text: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("shotlog.cli.progress.Progress.__call__", stop)
    status, _, err = said(capsys, "verify", config)
    assert (status, err) == (130, "shotlog verify: stopped\n")


def test_a_row_that_refers_to_nothing_is_told(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with closing(sqlite3.connect(config.with_name("trial.db"))) as connection:
        connection.execute(
            "INSERT INTO checkpoints (judging_id, press_id, shot, basis, state) VALUES (77, 1, 1, '', '')"
        )
        connection.commit()
    status, _, err = said(capsys, "verify", config)
    assert status == 1
    assert "of checkpoints refers to a row of judgings that is not there" in err


def test_a_copy_of_the_file_alone_is_told_by_the_digest_of_the_report(
    config: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The newest shots lie beside the file while the log is in use: 200 of 250 were in such a copy, and it verified."""
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        for shot in shots(201, 250):
            log.append([shot])
        (tmp_path / "copied").mkdir()
        shutil.copy(tmp_path / "trial.db", tmp_path / "copied")
        shutil.copy(config, tmp_path / "copied")
        status, out, _ = said(capsys, "review", config, "--json")
        digest = json.loads(out)["log"]["digest"]
        n = json.loads(out)["log"]["n_transactions"]
    copied = tmp_path / "copied" / "trial.toml"
    assert said(capsys, "verify", copied)[0] == 0
    status, _, err = said(capsys, "verify", copied, "--expect", digest)
    assert status == 1
    assert f"none of its {n - 50} transactions has the digest {digest}: its end is missing, or it is another log" in err
    status, out, _ = said(capsys, "verify", config, "--expect", digest)
    assert status == 0
    assert f"expected digest: that of transaction {n}; 0 transactions came after it" in out


def test_a_digest_that_is_none_is_bad_usage(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert said(capsys, "verify", config, "--expect", "transaction 7")[0] == 2


@pytest.fixture
def export_of(config: Path, tmp_path: Path) -> Path:
    return tmp_path / "shots.csv"


def test_an_export_says_the_digest_and_writes_it_down_outside(
    config: Path, tmp_path: Path, export_of: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    config.write_text(CONFIG.replace("[[press]]", 'anchor = "outside"\n[[press]]', 1), encoding="utf-8")
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}") as log:
        uid = uid_of(log)
    status, out, err = said(capsys, "export", config, "--out", export_of)
    digest = err.strip().rpartition(" ")[2]
    assert (status, out) == (0, f"{export_of}: 200 shots\n")
    assert err.startswith("log: ")
    assert "transactions, last digest " in err
    assert said(capsys, "verify", config, "--expect", digest)[0] == 0
    (line,) = (tmp_path / "outside" / f"{uid}.anchors").read_text(encoding="utf-8").splitlines()[1:]
    assert line.endswith(f"{digest} export shots.csv")
    assert "confirmed from outside up to transaction" in said(capsys, "verify", config)[1]
