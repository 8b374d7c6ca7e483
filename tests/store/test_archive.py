"""A finished trial out of the log: what is judged, held and counted afterwards is what it was; nothing is hidden."""

import json
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.clock import HandClock, iso_utc
from shotlog.errors import StoreDamaged, UsageError
from shotlog.notebook import open_log as open_in_notebook
from shotlog.parts.part import Part
from shotlog.recorder import Judge
from shotlog.records import Shot, Verdict
from shotlog.settings import DesignSettings, Settings, load
from shotlog.store.asked import state
from shotlog.store.asked.presence import touch
from shotlog.store.inserts import entries
from shotlog.store.keeping.archive import archive
from shotlog.store.keeping.archived import check_archives
from shotlog.store.keeping.head import head_of
from shotlog.store.log.engine import connect
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.salvage import salvage, what_reads
from shotlog.store.parts.baths import make_up
from shotlog.store.parts.dispositions import enter_decision, part_standings
from shotlog.store.parts.soaks import put_in
from tests.made_shots import START

CONFIG = """[log]
store = "sqlite:///trial.db"
[trial]
name = "{trial}"
[[press]]
name = "P25"
[press.collector]
kind = "recording"
[design.cap-r2]
baseline_shots = 12
"""
FIRST, NEXT = "trial 7", "trial 8"
NOW = START + timedelta(days=2)
LAST = 46
"""The last shot of the first trial."""


def nobody(text: str) -> None:
    """Listen to nothing."""


def made(number: int) -> Shot:
    """A shot of an insert whose gate wears from shot 36 on; scatter that repeats."""
    noise = ((number * 7919) % 13 - 6) / 100
    worn = max(0, number - 36) * 0.04 if number <= LAST else 0.0
    values = {"cushion": 5.0 + noise + worn, "peak_pressure": 520.0 + 40 * noise - 150 * worn, "fill_time": 0.4}
    return Shot("P25", number, number, START + timedelta(seconds=40 * number), values)


def settings_of(config: Path, trial: str = NEXT, store: str = "trial.db") -> Settings:
    config.write_text(CONFIG.format(trial=trial).replace("trial.db", store), encoding="utf-8")
    return load(config)


def judged_live(log: Log, settings: Settings, numbers: range) -> None:
    """Store and judge shot by shot, as beside a press."""
    judge = Judge(log, "P25", settings.designs, HandClock(), None)
    for number in numbers:
        log.append([made(number)])
        judge.catch_up()


@pytest.fixture(scope="module")
def day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a log with two trials: the first is over and decided, the second goes on."""
    folder = tmp_path_factory.mktemp("day")
    settings = settings_of(folder / "trial.toml")
    with open_log(settings.store, read_only=False) as log:
        for trial, serial, at_shot, numbers in (
            (FIRST, "B-1", 1, range(1, LAST + 1)),
            (NEXT, "B-2", LAST + 1, range(LAST + 1, LAST + 5)),
        ):
            log.use_trial(trial, "cap", "PP", iso_utc(START))
            entries.mount(log, "P25", serial, START, half="moving", at_shot=at_shot, design="cap-r2")
            judged_live(log, settings, numbers)
        held = [one.made.part for one in part_standings(log, "P25", settings.designs) if one.state == "held"]
        assert held
        assert held[-1].shot <= LAST
        enter_decision(log, held, "scrapped", NOW, reason="gate worn", initials="AB")
    return folder


@pytest.fixture
def settings(day: Path, tmp_path: Path) -> Settings:
    shutil.copytree(day, tmp_path / "hall")
    return load(tmp_path / "hall" / "trial.toml")


def taken_out(settings: Settings, out: Path) -> tuple[int, int]:
    with open_log(settings.store, read_only=False) as log:
        done = archive(settings, log, FIRST, out, NOW, nobody)
    return done.links, done.rows


def verdicts(store: str, first: int = 0) -> list[Verdict]:
    with open_log(store) as log:
        return [one for one in state.verdicts(log, "P25") if one.shot >= first]


def told(config: Path, capsys: pytest.CaptureFixture[str], *words: str) -> object:
    capsys.readouterr()
    assert main([words[0], str(config), *words[1:]]) == 0
    document = json.loads(capsys.readouterr().out)
    if isinstance(document, dict):
        for name in ("made_at", "log"):
            document.pop(name, None)
    return document


QUESTIONS = (("review", "--json"), ("inserts", "--json"), ("parts", "P25", "--json"))


def test_the_archive_and_the_log_say_of_the_trial_what_was_said_before(
    settings: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {words: told(settings.file, capsys, *words) for words in QUESTIONS}
    all_of_it = verdicts(settings.store)
    links, rows = taken_out(settings, tmp_path / "hall" / "seven.db")
    assert 0 < rows == links
    of_archive = settings_of(tmp_path / "hall" / "seven.toml", store="seven.db")
    assert verdicts(of_archive.store) == all_of_it
    for words, said in before.items():
        assert told(settings.file, capsys, *words) == said, words
    assert told(of_archive.file, capsys, *QUESTIONS[0]) == before[QUESTIONS[0]]
    left = verdicts(settings.store)
    assert len(left) == len(all_of_it) - rows
    assert [one for one in all_of_it if one not in left and one.verdict != "keep"] == []
    with open_in_notebook(str(tmp_path / "hall" / "seven.db")) as log:
        assert len(log.verdicts()) == len(all_of_it)


@pytest.mark.parametrize("changed", [False, True], ids=["same settings", "judged again from the first shot"])
def test_new_shots_get_the_verdicts_they_would_have_got(settings: Settings, tmp_path: Path, changed: bool) -> None:
    shutil.copytree(tmp_path / "hall", tmp_path / "not archived")
    other = load(tmp_path / "not archived" / "trial.toml")
    taken_out(settings, tmp_path / "seven.db")
    design = replace(settings.designs["cap-r2"], baseline_shots=9)
    designs: dict[str, DesignSettings] = {"cap-r2": design} if changed else dict(settings.designs)
    for one in (settings, other):
        with open_log(one.store, read_only=False) as log:
            log.use_trial(NEXT, "cap", "PP", iso_utc(START))
            judged_live(log, replace(one, designs=designs), range(LAST + 5, LAST + 15))
            if changed:  # an entry that reaches back into the archived trial
                entries.note(log, "P25", "lot", "L2", NOW, at_shot=30)
                Judge(log, "P25", designs, HandClock(), None).catch_up()
            log.verify()
    first = 31 if changed else LAST + 1
    assert verdicts(settings.store, first) == verdicts(other.store, first)
    assert len(verdicts(settings.store, first)) == LAST + 15 - first


def test_the_log_gets_smaller_and_both_verify(
    settings: Settings, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "hall" / "seven.db"
    size = (tmp_path / "hall" / "trial.db").stat().st_size
    assert main(["archive", str(settings.file), "--trial", FIRST, "--out", str(out)]) == 0
    printed = capsys.readouterr().out
    assert "that say no change seen, and nothing else" in printed
    assert (tmp_path / "hall" / "trial.db").stat().st_size < size
    assert main(["verify", str(settings.file)]) == 0
    assert "which verifies and holds them" in capsys.readouterr().out
    of_archive = settings_of(tmp_path / "hall" / "seven.toml", store="seven.db")
    assert main(["verify", str(of_archive.file), "--expect", printed.splitlines()[0].rpartition(" ")[2]]) == 0
    shutil.move(out, tmp_path / "elsewhere.db")
    capsys.readouterr()
    assert main(["verify", str(settings.file)]) == 0
    assert "neither there nor beside the log" in capsys.readouterr().out
    plain = next(shot for shot in range(1, LAST) if shot not in {one.shot for one in verdicts(settings.store)})
    assert main(["explain", str(settings.file), "P25", str(plain)]) == 2
    assert f"what was said of it is in the archive {out}" in capsys.readouterr().err
    assert main(["part", str(settings.file), "P25", str(plain)]) == 0
    assert f"no change seen; the whole of it is in the archive {out}" in capsys.readouterr().out


Tamper = Callable[[sqlite3.Connection], None]


def one_more_gone(connection: sqlite3.Connection) -> None:
    connection.execute(
        "DELETE FROM verdicts WHERE id = (SELECT max(id) FROM verdicts WHERE verdict = 'keep' AND id < 40)"
    )


def a_shot_gone(connection: sqlite3.Connection) -> None:
    connection.execute("DELETE FROM shots WHERE shot = 30")


def says_less(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE archives SET rows = rows - 1")


@pytest.mark.parametrize("tamper", [one_more_gone, a_shot_gone, says_less])
def test_what_went_in_no_archive_is_found_to_be_gone(settings: Settings, tmp_path: Path, tamper: Tamper) -> None:
    taken_out(settings, tmp_path / "seven.db")
    with closing(sqlite3.connect(tmp_path / "hall" / "trial.db")) as connection:
        tamper(connection)
        connection.commit()
    with open_log(settings.store) as log, pytest.raises(StoreDamaged, match=r"was taken out|are gone|changed later"):
        log.verify()


def test_an_archive_that_was_changed_is_found(settings: Settings, tmp_path: Path) -> None:
    taken_out(settings, tmp_path / "seven.db")
    with closing(sqlite3.connect(tmp_path / "seven.db")) as connection:
        connection.execute("UPDATE verdicts SET sentence = 'x' WHERE id = 1")
        connection.commit()
    with open_log(settings.store) as log, pytest.raises(StoreDamaged, match="is not the file that was written"):
        list(check_archives(log, nobody))


def refused(settings: Settings, tmp_path: Path, said: str, name: str = FIRST) -> None:
    with open_log(settings.store, read_only=False) as log:
        before = head_of(log)
        with pytest.raises(UsageError, match=said):
            archive(settings, log, name, tmp_path / "seven.db", NOW, nobody)
        assert head_of(log) == before
    assert not (tmp_path / "seven.db").exists()


def test_what_is_not_finished_is_refused(settings: Settings, tmp_path: Path) -> None:
    refused(settings, tmp_path, 'a trial with shots: "trial 7", "trial 8"', "trial 9")
    refused(settings, tmp_path, "shots are logged under it by", NEXT)
    other = settings_of(settings.file, "trial 9")
    refused(other, tmp_path, "insert B-2, in P25 since shot 47, is still mounted", NEXT)
    with open_log(settings.store, read_only=False) as log:
        touch(log, "run", "", NOW)
    refused(other, tmp_path, "shot 50 of P25, its newest, is of this trial, and `shotlog run` is at work", NEXT)


def test_a_hold_is_never_lost(settings: Settings, tmp_path: Path) -> None:
    with open_log(settings.store, read_only=False) as log:
        enter_decision(log, [Part("P25", 7, 1)], "held", NOW, initials="AB")
    refused(settings, tmp_path, "1 of its parts are held with no decision, from shot 7 of P25 on")


def test_a_part_in_a_bath_and_a_shot_that_waits_to_be_judged(settings: Settings, tmp_path: Path) -> None:
    with open_log(settings.store, read_only=False) as log:
        make_up(log, "north", NOW)
        put_in(log, "north", [Part("P25", 7, 1)], NOW, settings.designs)
    refused(settings, tmp_path, "1 of its parts are in a bath, such as that of shot 7 of P25")
    with open_log(settings.store, read_only=False) as log:
        entries.note(log, "P25", "lot", "L2", NOW, at_shot=20)
    refused(settings, tmp_path, "shots of P25 up to 46 wait to be judged")


def test_a_trial_is_archived_once(settings: Settings, tmp_path: Path) -> None:
    taken_out(settings, tmp_path / "first.db")
    refused(settings, tmp_path, "allowed: a trial that has no archive; its is .*first.db")


@pytest.mark.parametrize("at", ["of the log copied", "looked at"])
def test_stopped_on_the_way_the_log_is_as_it_was(settings: Settings, tmp_path: Path, at: str) -> None:
    def stop(text: str) -> None:
        if at in text:
            raise KeyboardInterrupt

    with open_log(settings.store, read_only=False) as log:
        before = head_of(log)
        with pytest.raises(KeyboardInterrupt):
            archive(settings, log, FIRST, tmp_path / "seven.db", NOW, stop)
        assert head_of(log) == before
    assert [path.name for path in tmp_path.iterdir()] == ["hall"]


def test_a_damaged_log_that_is_put_right_keeps_what_it_says_of_its_archive(settings: Settings, tmp_path: Path) -> None:
    """Rows that went into an archive are not rows that a damaged page took."""
    taken_out(settings, tmp_path / "seven.db")
    url = f"sqlite:///{(tmp_path / 'anew.db').as_posix()}"
    open_log(url, read_only=False).close()
    source, target = connect(settings.store, read_only=True), connect(url)
    made = salvage(what_reads(source), target)
    source.dispose()
    target.dispose()
    assert made.lost == {}
    with open_log(settings.store) as old, open_log(url) as new:
        assert new.verify() == old.verify()
