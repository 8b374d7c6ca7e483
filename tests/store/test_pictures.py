"""Pictures beside the log: each under its digest, of something that is on record, and found out when it is changed."""

from hashlib import sha256
from pathlib import Path

import pytest
from made_pictures import PLACE, picture
from made_shots import START, moulded, shots

from shotlog.cli.main import main
from shotlog.errors import StoreDamaged, StoreUnreachable, UsageError
from shotlog.parts.part import Part
from shotlog.parts.picture import Pictured
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.pictures import (
    check_pictures,
    of_finding,
    of_insert,
    picture_bytes,
    picture_folder,
    pictures,
    pictures_of_insert,
    pictures_of_part,
    take_picture,
)
from shotlog.store.undo import take_back

CONFIG = """
[log]
store = "sqlite:///trial.db"
[trial]
name = "pawls"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
"""
NOW = moulded(100)


@pytest.fixture
def config(tmp_path: Path) -> Path:
    """A log of 20 shots: A-07 fixed, B-11 moving up to shot 12 and B-12 after it, flash seen at shot 9."""
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    with open_log(f"sqlite:///{tmp_path}/trial.db", read_only=False) as log:
        log.use_trial("pawls", "", "", "2026-01-05T06:00:00Z")
        entries.mount(log, "P25", "A-07", START, half="fixed", at_shot=1)
        entries.mount(log, "P25", "B-11", START, half="moving", at_shot=1)
        entries.mount(log, "P25", "B-12", moulded(12), half="moving", at_shot=13)
        log.append(shots(1, 20))
        entries.note(log, "P25", "finding", "flash", moulded(9), at_shot=9, half="fixed")
    return tmp_path / "trial.toml"


@pytest.fixture
def log(config: Path) -> Log:
    with open_log(f"sqlite:///{config.parent}/trial.db", read_only=False) as opened:
        yield opened


def kept_files(config: Path) -> list[str]:
    folder = config.parent / "trial.pictures"
    return sorted(one.name for one in folder.iterdir()) if folder.exists() else []


def test_a_picture_lies_beside_the_log_under_the_digest_of_what_is_kept(config: Path, log: Log) -> None:
    folder = picture_folder(log.url, config)
    kept = take_picture(
        log, folder, picture(), Pictured("P25", 9, cavity=1), NOW, remark=" flash  at gate ", initials="RK"
    )
    assert kept_files(config) == [f"{kept.digest}.jpg"]
    data = (folder / kept.file_name).read_bytes()
    assert sha256(data).hexdigest() == kept.digest
    assert len(data) == kept.n_bytes
    assert PLACE not in data
    assert pictures(log, "P25") == [kept]
    assert (kept.remark, kept.initials, kept.taken) == ("flash at gate", "RK", NOW)
    assert picture_bytes(folder, kept) == data
    log.verify()


def test_beside_a_server_they_lie_beside_the_configuration(config: Path) -> None:
    assert picture_folder("postgresql+psycopg://user@host/db", config) == config.parent / "trial.pictures"


def test_the_same_picture_of_the_same_thing_is_entered_once(config: Path, log: Log) -> None:
    """A tablet that lost its network sends again."""
    folder = picture_folder(log.url, config)
    first = take_picture(log, folder, picture(), Pictured("P25", 9), NOW)
    assert take_picture(log, folder, picture(), Pictured("P25", 9), moulded(101)) == first
    other = take_picture(log, folder, picture(), Pictured("P25", 10), NOW)
    assert len(pictures(log, "P25")) == 2
    assert other.digest == first.digest
    assert len(kept_files(config)) == 1


@pytest.mark.either
def test_a_picture_is_found_by_its_part_and_by_its_insert(config: Path, log: Log) -> None:
    folder = picture_folder(log.url, config)
    event = log.timeline("P25") and of_finding(log, 1)
    assert event == Pictured("P25", 9, event_id=1)
    found = take_picture(log, folder, picture(seed=1), event, NOW)
    whole = take_picture(log, folder, picture(seed=2), Pictured("P25", 9), NOW)
    cavity = take_picture(log, folder, picture(seed=3), Pictured("P25", 9, 2), NOW)
    late = take_picture(log, folder, picture(seed=4), Pictured("P25", 15), NOW)
    assert of_insert(log, "B-11") == Pictured("P25", 12, insert="B-11")
    own = take_picture(log, folder, picture(seed=5), of_insert(log, "B-11"), NOW)
    assert pictures_of_part(log, Part("P25", 9, 1)) == [found, whole]
    assert pictures_of_part(log, Part("P25", 9, 2)) == [found, whole, cavity]
    assert pictures_of_insert(log, "B-11") == [whole, cavity, own], "the finding was on the other half"
    assert pictures_of_insert(log, "A-07") == [found, whole, cavity, late]
    assert pictures_of_insert(log, "B-12") == [late]


@pytest.mark.parametrize(
    ("of", "said"),
    [
        (Pictured("P25", 99), "no such shot"),
        (Pictured("P99", 9), "no such shot"),
        (Pictured("P25", 9, insert="B-99"), "serial of an insert on record"),
        (Pictured("P25", 9, event_id=7), "event 7: there is none"),
    ],
)
def test_a_picture_is_of_something_on_record(config: Path, log: Log, of: Pictured, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        take_picture(log, picture_folder(log.url, config), picture(), of, NOW)
    assert kept_files(config) == []


def test_a_picture_of_the_future_is_refused(config: Path, log: Log) -> None:
    with pytest.raises(UsageError, match="not after now"):
        take_picture(log, picture_folder(log.url, config), picture(), Pictured("P25", 9), NOW, taken=moulded(200))


def test_an_insert_that_made_no_shot_has_none(config: Path, log: Log) -> None:
    with pytest.raises(UsageError, match="no shot was made on it yet"):
        of_insert(log, "B-99")


def test_a_folder_that_cannot_be_written_is_said_and_nothing_is_entered(config: Path, log: Log) -> None:
    (config.parent / "trial.pictures").write_text("in the way", encoding="utf-8")
    with pytest.raises(StoreUnreachable, match=r"trial\.pictures"):
        take_picture(log, picture_folder(log.url, config), picture(), Pictured("P25", 9), NOW)
    assert pictures(log, "P25") == []


def test_taken_back_it_is_shown_no_more_and_its_file_stays(config: Path, log: Log) -> None:
    folder = picture_folder(log.url, config)
    kept = take_picture(log, folder, picture(), Pictured("P25", 9), NOW)
    take_back(log, "pictures", kept.entry_id, NOW, "the wrong part")
    assert pictures(log, "P25") == []
    assert check_pictures(log, folder) == 1
    again = take_picture(log, folder, picture(), Pictured("P25", 9), NOW)
    assert again.entry_id != kept.entry_id


def test_a_file_changed_or_lost_is_found_and_made_good_when_it_comes_again(config: Path, log: Log) -> None:
    folder = picture_folder(log.url, config)
    kept = take_picture(log, folder, picture(), Pictured("P25", 9), NOW)
    data = (folder / kept.file_name).read_bytes()
    (folder / kept.file_name).write_bytes(data[:-3] + b"\0\xff\xd9")
    with pytest.raises(StoreDamaged, match="was changed after it was kept"):
        check_pictures(log, folder)
    (folder / kept.file_name).unlink()
    with pytest.raises(StoreDamaged, match=kept.digest):
        check_pictures(log, folder)
    take_picture(log, folder, picture(), Pictured("P25", 10), NOW)
    assert check_pictures(log, folder) == 1


def run(*words: object) -> int:
    return main([str(word) for word in words])


def test_by_command_from_the_camera_to_the_export(
    config: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "phone.jpg").write_bytes(picture())
    of = ("P25", "9/1", tmp_path / "phone.jpg")
    assert run("picture", config, *of, "--remark", "flash at the gate", "--initials", "RK") == 0
    said = capsys.readouterr().out
    assert said.startswith("picture 1 kept, of P25 shot 9, cavity 1: flash at the gate, taken ")
    assert "place, camera and time that a phone writes into it are left out" in said
    assert run("verify", config) == 0
    assert "pictures: 1 file, each there and as it was kept" in capsys.readouterr().out
    assert run("export", config, "--out", tmp_path / "out") == 0
    folder = tmp_path / "out" / "pawls"
    (copied,) = (folder / "pictures").iterdir()
    assert sha256(copied.read_bytes()).hexdigest() == copied.stem
    row = (folder / "pictures.csv").read_text(encoding="utf-8").splitlines()[1]
    assert row.startswith(f"1,P25,9,1,,,pictures/{copied.name},flash at the gate,")
    assert f"pictures/{copied.name}, 1, {copied.stem}" in (folder / "about.txt").read_text(encoding="utf-8")
    assert run("undo", config, "picture", 1, "--reason", "the wrong part") == 0
    copied_from = config.parent / "trial.pictures" / copied.name
    copied_from.write_bytes(b"other")
    assert run("verify", config) == 1
    assert "was changed after it was kept" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.jpg", b"<svg onload='alert(1)'/>", "allowed: a JPEG, PNG or WebP picture of 8 MB at most"),
        ("a.png", bytes(9 * 1024 * 1024), "given 8.0 MB"),
    ],
)
def test_the_command_refuses_what_is_no_picture(
    config: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, data: bytes, words: str
) -> None:
    (tmp_path / name).write_bytes(data)
    assert run("picture", config, "P25", 9, tmp_path / name) == 2
    assert words in capsys.readouterr().err
    assert run("picture", config, "P25", "9-12", tmp_path / name) == 2
    assert run("picture", config, "P25", 9, tmp_path / "none.jpg") == 1
    assert kept_files(config) == []
