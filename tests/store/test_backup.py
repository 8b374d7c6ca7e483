"""A backup holds the log as it stood at one moment, whatever is written meanwhile; put back it says the same."""

import json
import shutil
import sqlite3
import zipfile
from collections.abc import Callable
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.errors import StoreDamaged, StoreHeld, StoreUnreachable, UsageError
from shotlog.parts.picture import Pictured
from shotlog.settings import Settings, load
from shotlog.store.asked.heartbeat import Beat, beat
from shotlog.store.holding import held
from shotlog.store.keeping import copying
from shotlog.store.keeping.anchors import compare
from shotlog.store.keeping.backup import LIST, LOG, Backup, back_up
from shotlog.store.keeping.head import contained, head_of, uid_of
from shotlog.store.keeping.restore import restore
from shotlog.store.log.journal import Batch, Journal
from shotlog.store.log.journal_note import Disk, Note
from shotlog.store.log.journal_place import earlier_places, journal_place
from shotlog.store.log.log import open_log
from shotlog.store.parts.pictures import check_pictures, picture_folder, take_picture
from tests.made_pictures import picture
from tests.made_shots import START, shot, shots

CONFIG = """[log]
store = "sqlite:///trial.db"
anchor = "outside"
[trial]
name = "trial 7"
[[press]]
name = "P25"
[press.collector]
kind = "recording"
"""
NOW = START + timedelta(days=1)

pytestmark = pytest.mark.file


def nobody(text: str) -> None:
    """Listen to nothing."""


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """A configuration whose log has 200 shots in its file, 50 more beside it (it is in use), and a picture."""
    folder = tmp_path / "hall"
    folder.mkdir()
    (folder / "trial.toml").write_text(CONFIG, encoding="utf-8")
    settings = load(folder / "trial.toml")
    with open_log(settings.store, read_only=False) as log:
        log.append(shots(1, 200))
        kept = picture_folder(settings.store, settings.file)
        take_picture(log, kept, picture(), Pictured("P25", 7), NOW, remark="flash")
    return settings


def dump(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return list(connection.iterdump())


def unpacked(backup: Path, to: Path) -> Path:
    with zipfile.ZipFile(backup) as packed:
        return Path(packed.extract(LOG, to))


def everything(folder: Path) -> dict[str, bytes]:
    """Return what lies in a folder, but for the locks that tell who is at work."""
    files = [path for path in folder.rglob("*") if path.is_file() and path.suffix != ".lock"]
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


def test_a_backup_of_a_log_in_use_is_the_same_row_by_row(settings: Settings, tmp_path: Path) -> None:
    """The file alone had 200 of 250 shots: the newest lay in the write-ahead log beside it."""
    with open_log(settings.store, read_only=False) as log:
        log.append(shots(201, 250))
        made = back_up(settings, tmp_path / "day.zip", NOW, nobody)
        assert made.head == head_of(log)
        assert made.uid == uid_of(log)
        copied = unpacked(tmp_path / "day.zip", tmp_path)
        assert dump(copied) == dump(settings.file.with_name("trial.db"))
    with closing(sqlite3.connect(copied)) as plain:
        assert plain.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert plain.execute("SELECT count(*) FROM shots").fetchone() == (250,)
        assert plain.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    assert not list(tmp_path.glob(".*"))


def test_shots_that_come_while_it_is_copied_neither_end_it_nor_get_into_it(
    settings: Settings, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(copying, "_PAGES", 1)
    with open_log(settings.store, read_only=False) as log:
        before = head_of(log)
        come = iter(range(201, 100_000))

        def tell(text: str) -> None:
            if "of the log copied" in text:
                log.append([shot(next(come))])

        made = back_up(settings, tmp_path / "day.zip", NOW, tell)
        assert next(come) > 220
        assert made.head == before
        assert contained(log, made.head.digest)[0] == before.links


def test_the_list_tells_every_file_and_any_program_can_read_it(settings: Settings, tmp_path: Path) -> None:
    made = back_up(settings, tmp_path / "day.zip", NOW, nobody)
    with zipfile.ZipFile(tmp_path / "day.zip") as packed:
        assert packed.testzip() is None
        told = json.loads(packed.read(LIST))
        assert packed.read("configuration/trial.toml").decode() == CONFIG
        assert set(told["files"]) == set(packed.namelist()) - {LIST}
    assert (told["transactions"], told["digest"], told["log"]) == (made.head.links, made.head.digest, made.uid)
    assert made.n_pictures == 1


def test_on_the_day_the_computer_dies_one_file_brings_all_of_it_back(settings: Settings, tmp_path: Path) -> None:
    made = back_up(settings, tmp_path / "day.zip", NOW, nobody)
    new = tmp_path / "new computer"
    new.mkdir()
    done = restore(new / "trial.toml", tmp_path / "day.zip", False, NOW, nobody)
    assert (done.configuration, done.aside, done.n_waiting) == (True, None, 0)
    assert sorted(path.name for path in new.iterdir() if path.suffix != ".lock") == [
        "trial.db",
        "trial.pictures",
        "trial.toml",
    ]
    assert (new / "trial.toml").read_text(encoding="utf-8") == CONFIG
    again = load(new / "trial.toml")
    with open_log(again.store) as log, open_log(settings.store) as old:
        assert list(log.logged("P25")) == list(old.logged("P25"))
        log.verify()
        assert check_pictures(log, picture_folder(again.store, again.file)) == 1
        assert contained(log, made.head.digest) == (made.head.links, 1)
        assert uid_of(log) != uid_of(old)


def test_what_stands_there_is_put_aside_only_when_told_and_never_deleted(settings: Settings, tmp_path: Path) -> None:
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    with open_log(settings.store, read_only=False) as log:
        log.append(shots(201, 210))
        before = head_of(log)
        later = dump(settings.file.with_name("trial.db"))
    with pytest.raises(
        UsageError, match="which is there, allowed: a place where no log is; with --force it is put aside"
    ):
        restore(settings.file, tmp_path / "day.zip", False, NOW, nobody)
    done = restore(settings.file, tmp_path / "day.zip", True, NOW, nobody)
    assert done.aside == settings.file.with_name("trial.replaced-20260106T060000Z.db")
    assert dump(done.aside) == later
    with open_log(settings.store, read_only=False) as log:
        assert log.last_shot("P25") == (200, 200)
        log.verify()
        with pytest.raises(StoreDamaged, match="its end is missing"):
            contained(log, before.digest)
        log.append(shots(201, 201))
    again = restore(settings.file, tmp_path / "day.zip", True, NOW, nobody)
    assert again.aside == settings.file.with_name("trial.replaced-20260106T060000Z-2.db")


def test_a_restored_log_says_what_it_goes_on_from_and_its_anchors_agree(settings: Settings, tmp_path: Path) -> None:
    config = str(settings.file)
    assert main(["backup", config, "--out", str(tmp_path / "day.zip")]) == 0
    with open_log(settings.store, read_only=False) as log:
        log.append(shots(201, 210))
    assert main(["export", config, "--out", str(tmp_path / "shots.csv")]) == 0
    restore(settings.file, tmp_path / "day.zip", True, NOW, nobody)
    with open_log(settings.store) as log:
        log.verify()
        told = compare(log, settings.file.parent / "outside")
    assert told.newest is not None
    assert told.newest.by == "backup day.zip"
    assert told.beyond is not None
    assert told.beyond.by == "export shots.csv"


def test_shots_that_waited_in_the_journal_are_in_the_backup_and_wait_again(settings: Settings, tmp_path: Path) -> None:
    """One batch of them is in the log already, and in the journal still: it enters once."""
    waiting = Journal(journal_place(settings), 50_000)
    waiting.append(Batch("one", (*shots(201, 203),)))
    waiting.append(Batch("two", (*shots(204, 205),)))
    with open_log(settings.store, read_only=False) as log:
        log.append(shots(201, 203), origin="one")
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    (tmp_path / "new").mkdir()
    assert restore(tmp_path / "new" / "trial.toml", tmp_path / "day.zip", False, NOW, nobody).n_waiting == 5
    again = load(tmp_path / "new" / "trial.toml")
    with open_log(again.store, read_only=False) as log:
        log.verify()
        for batch in Journal(journal_place(again)).batches():
            log.append(batch.records, origin=batch.origin)
        assert [one.shot for one in log.logged("P25", 199)] == [200, 201, 202, 203, 204, 205]


def test_a_restored_log_tells_nothing_of_the_computer_it_was_backed_up_on(
    settings: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It was told as STALE, by a process of the old computer, with the old computer's full disk and what it said."""
    journal = Journal(journal_place(settings), 50_000)
    journal.append(Batch("one", (*shots(201, 203),)))
    full = Disk("the log", "/old/computer", 0, 0, 0.0, 2)
    journal.note(Note(NOW, settings.store_shown, {}, 3, 0, NOW, "log /old/computer: disk is full", (full,)))
    with open_log(settings.store, read_only=False) as log:
        beat(log, Beat(7, NOW, NOW, 1.0, "old-computer", 18464))
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    config = tmp_path / "new" / "trial.toml"
    config.parent.mkdir()
    restore(config, tmp_path / "day.zip", False, NOW, nobody)
    assert main(["status", str(config)]) == 0
    told = "".join(capsys.readouterr())
    assert "3 shots wait" in told
    assert not [word for word in ("STALE", "old", "full", "FULL", "18464") if word in told]


def test_shots_that_wait_beside_the_log_are_not_written_over(settings: Settings, tmp_path: Path) -> None:
    Journal(journal_place(settings)).append(Batch("one", (*shots(201, 203),)))
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    for place in earlier_places(settings):
        Journal(place).append(Batch("two", (*shots(204, 205),)))
    before = everything(settings.file.parent)
    with pytest.raises(StoreUnreachable, match="something waits in it, and in the backup"):
        restore(settings.file, tmp_path / "day.zip", True, NOW, nobody)
    assert everything(settings.file.parent) == before


def test_a_log_that_is_held_is_left_alone(settings: Settings, tmp_path: Path) -> None:
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    before = everything(settings.file.parent)
    with held(settings.file, settings.store, ["P25"]), pytest.raises(StoreHeld, match="is logged already, by process"):
        restore(settings.file, tmp_path / "day.zip", True, NOW, nobody)
    assert everything(settings.file.parent) == before


Spoil = Callable[[Path], None]


def cut(backup: Path) -> None:
    backup.write_bytes(backup.read_bytes()[:-400])


def other_kind(backup: Path) -> None:
    backup.write_text("trial 7", encoding="utf-8")


def packed_again(backup: Path, change: Callable[[str, bytes], bytes]) -> None:
    with zipfile.ZipFile(backup) as packed:
        files = {name: packed.read(name) for name in packed.namelist()}
    with zipfile.ZipFile(backup, "w") as packed:
        for name, content in files.items():
            packed.writestr(name, change(name, content))


def log_changed(backup: Path) -> None:
    packed_again(backup, lambda name, content: content.replace(b"flash", b"burnt") if name == LOG else content)


def listed_outside(backup: Path) -> None:
    packed_again(
        backup, lambda name, content: content.replace(b"pictures/", b"pictures/../") if name == LIST else content
    )


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (cut, "File is not a zip file|does not read"),
        (other_kind, "File is not a zip file"),
        (log_changed, r"log\.db is not what was written into it"),
        (listed_outside, "its list names files that it does not hold, or that it should not"),
    ],
)
def test_a_backup_that_does_not_read_touches_nothing(
    settings: Settings, tmp_path: Path, spoil: Spoil, said: str
) -> None:
    backup = tmp_path / "day.zip"
    back_up(settings, backup, NOW, nobody)
    spoil(backup)
    before = everything(settings.file.parent)
    with pytest.raises(StoreDamaged, match=said):
        restore(settings.file, backup, True, NOW, nobody)
    assert everything(settings.file.parent) == before


@pytest.mark.parametrize("at", ["of the log copied", "packed", "reading back"])
def test_stopped_on_the_way_a_backup_leaves_the_one_before(settings: Settings, tmp_path: Path, at: str) -> None:
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    before = everything(tmp_path)

    def stop(text: str) -> None:
        if at in text:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        back_up(settings, tmp_path / "day.zip", NOW, stop)
    assert everything(tmp_path) == before


def test_stopped_on_the_way_a_restore_leaves_what_stood_there(settings: Settings, tmp_path: Path) -> None:
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    before = everything(settings.file.parent)

    def stop(text: str) -> None:
        if "looked at" in text:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        restore(settings.file, tmp_path / "day.zip", True, NOW, stop)
    assert everything(settings.file.parent) == before


def test_a_log_that_does_not_verify_replaces_no_backup(settings: Settings, tmp_path: Path) -> None:
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    before = (tmp_path / "day.zip").read_bytes()
    with closing(sqlite3.connect(settings.file.with_name("trial.db"))) as connection:
        connection.execute("UPDATE shots SET cushion = 4.2 WHERE shot = 7")
        connection.commit()
    with pytest.raises(StoreDamaged, match=r"log .*hall/trial\.db: transaction .* was changed later"):
        back_up(settings, tmp_path / "day.zip", NOW, nobody)
    assert (tmp_path / "day.zip").read_bytes() == before


def said(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    capsys.readouterr()
    status = main([str(word) for word in words])
    return status, *capsys.readouterr()


def test_by_command_it_says_the_digest_and_writes_over_nothing_else(
    settings: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    config, out = settings.file, tmp_path / "day.zip"
    status, told, _ = said(capsys, "backup", config, "--out", out)
    assert status == 0
    digest = told.strip().rpartition(" ")[2]
    assert said(capsys, "verify", config, "--expect", digest)[0] == 0
    assert said(capsys, "backup", config, "--out", out)[0] == 0
    (tmp_path / "notes.zip").write_text("mine", encoding="utf-8")
    for taken in (tmp_path / "notes.zip", config, config.with_name("trial.db"), tmp_path):
        status, _, err = said(capsys, "backup", config, "--out", taken)
        assert status == 2
        assert err.rstrip().endswith(("allowed: a name for a file of its own", "or that of a backup"))
    status, _, err = said(capsys, "restore", config, out)
    assert (status, len(err.splitlines())) == (2, 1)
    status, told, _ = said(capsys, "restore", config, out, "--force")
    assert status == 0
    assert "put aside; nothing of it was deleted" in told
    assert "it verifies. What was logged after that is not in it." in told
    assert said(capsys, "verify", config)[0] == 0


def test_a_picture_that_is_lost_is_said_and_the_rest_is_kept(
    settings: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.rmtree(picture_folder(settings.store, settings.file))
    status, _, err = said(capsys, "backup", settings.file, "--out", tmp_path / "day.zip")
    assert status == 1
    assert "was written, but 1 picture on record could not be put into it as kept" in err
    (tmp_path / "new").mkdir()
    restore(tmp_path / "new" / "trial.toml", tmp_path / "day.zip", False, NOW, nobody)


@pytest.mark.parametrize("command", [["backup", "--out", "day.zip"], ["restore", "day.zip"]])
def test_a_log_on_a_server_is_copied_by_the_servers_own_means(
    settings: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str], command: list[str]
) -> None:
    back_up(settings, tmp_path / "day.zip", NOW, nobody)
    server = tmp_path / "server.toml"
    server.write_text(CONFIG.replace("sqlite:///trial.db", "postgresql+psycopg://u:secret@h/db"), encoding="utf-8")
    name, *rest = (str(tmp_path / word) if word.endswith(".zip") else word for word in command)
    status, _, err = said(capsys, name, server, *rest)
    assert status == 2
    assert "pg_dump" in err or "pg_restore" in err
    assert "secret" not in err


def test_a_disk_without_room_is_told_before(
    settings: Settings, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    usage = shutil.disk_usage(tmp_path)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=1000))
    status, _, err = said(capsys, "backup", settings.file, "--out", tmp_path / "day.zip")
    assert status == 1
    assert "MB while it works, free are 1 MB" in err
    assert not list(tmp_path.glob("*.zip"))


def test_what_it_holds_is_summed_up(settings: Settings, tmp_path: Path) -> None:
    made = back_up(settings, tmp_path / "day.zip", NOW, nobody)
    assert isinstance(made, Backup)
    assert made.n_bytes == sum(one.n_bytes for one in made.files) > 0
