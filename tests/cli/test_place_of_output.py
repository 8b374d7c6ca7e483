"""No command writes over the log, what belongs to it, the configuration or what it reads; trials have folders apart."""

import csv
import hashlib
import io
from pathlib import Path

import pytest

from shotlog import recording
from shotlog.cli import trial_folder
from shotlog.cli.folder_name import folder_name
from shotlog.cli.main import main
from shotlog.cli.place_of_output import file_for
from shotlog.clock import iso_utc
from shotlog.errors import OutputError, UsageError
from shotlog.settings import load
from shotlog.store.log.journal_place import journal_place
from shotlog.store.log.log import Log
from tests.cli.test_parts_commands import Run, moulded, run
from tests.made_shots import START, shots

__all__ = ["moulded", "run"]


def kept(folder: Path) -> dict[str, str]:
    """Return the digest of each file that no command may touch."""
    return {name: hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in ("trial.db", "c.toml", "r.csv")}


WRITERS: dict[str, tuple[str, ...]] = {
    "review": ("--out",),
    "replay": ("r.csv", "--verdicts"),
    "export": ("--out",),
    "labels": ("S-001", "--out"),
}


NOT_THERE = (
    "trial.db", "trial.db-wal", "trial.db-journal", "trial.db.c.spool", "c.toml", "TRIAL.DB", "sub/../trial.db",
    "hard.html", "hard.csv", "soft.html", "soft.csv", "trial.pictures/x.csv", "trial.pictures/x.html", "trial.pictures",
    "x.txt", "sub/no/x.html", "sub/no/x.csv",
)  # fmt: skip


@pytest.mark.parametrize("command", WRITERS)
def test_nothing_the_logger_lives_from_is_written_over(
    moulded: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    monkeypatch.chdir(tmp_path)
    for folder in ("sub", "trial.pictures"):
        (tmp_path / folder).mkdir()
    for ending in ("html", "csv"):
        (tmp_path / f"hard.{ending}").hardlink_to(tmp_path / "trial.db")
        (tmp_path / f"soft.{ending}").symlink_to("trial.db")
    before, there = kept(tmp_path), sorted(tmp_path.rglob("*"))
    for out in NOT_THERE if command == "export" else (*NOT_THERE, "sub"):
        status, _, said = moulded(command, *WRITERS[command], out)
        assert (status, said.count("\n")) == (2, 1), said
        assert f"'{out}'" in said
        assert "allowed: " in said
    assert kept(tmp_path) == before
    assert [file for file in sorted(tmp_path.rglob("*")) if not file.name.endswith(("-wal", "-shm"))] == there


def test_a_recording_is_not_written_over_by_its_own_verdicts(moulded: Run, tmp_path: Path) -> None:
    before = kept(tmp_path)
    status, _, said = moulded("replay", tmp_path / "r.csv", "--verdicts", tmp_path / "r.csv")
    assert (status, kept(tmp_path)) == (2, before)
    assert "which is the file it reads" in said


def test_a_chart_is_not_drawn_over_a_log_or_what_it_reads(moulded: Run, tmp_path: Path) -> None:
    before = kept(tmp_path)
    for name in ("trial.db", "r.csv"):
        (tmp_path / f"{name}.png").hardlink_to(tmp_path / name)
        words = [str(tmp_path / "r.csv"), "cushion", "--kind", "individuals", "--png", str(tmp_path / f"{name}.png")]
        assert main(["chart", *words]) == 2
    assert kept(tmp_path) == before


def test_a_replay_that_fails_half_way_leaves_the_verdicts_of_before(moulded: Run, tmp_path: Path) -> None:
    out, bad = tmp_path / "v.csv", tmp_path / "bad.csv"
    out.write_text("before", encoding="utf-8")
    bad.write_text((tmp_path / "r.csv").read_text(encoding="utf-8") + "P25,nonsense\n", encoding="utf-8")
    assert moulded("replay", bad, "--verdicts", out)[0] == 1
    assert out.read_text(encoding="utf-8") == "before"
    assert moulded("replay", tmp_path / "r.csv", "--verdicts", out)[0] == 0
    assert out.read_text(encoding="utf-8").startswith("press,shot,")


def test_what_lies_in_the_folders_of_journal_and_anchors_is_kept(run: Run, tmp_path: Path) -> None:
    config = tmp_path / "c.toml"
    text = config.read_text(encoding="utf-8")
    config.write_text(text.replace('trial.db"', 'trial.db"\njournal = "j"\nanchor = "a"', 1), encoding="utf-8")
    for folder in ("j", "a"):
        (tmp_path / folder).mkdir()
    settings = load(config)
    (tmp_path / "a" / "x.anchors").write_text("x", encoding="utf-8")
    kept = [journal_place(settings), settings.text_log, tmp_path / "a" / "x.anchors", Path(f"{config}.lock")]
    for place in kept:
        with pytest.raises(UsageError, match="which is "):
            file_for(place, "--out", (place.suffix,), settings)
    assert file_for(tmp_path / "a" / "report.html", "--out", (".html",), settings)


def test_the_report_of_a_log_without_an_ending_may_be_called_like_it(run: Run, tmp_path: Path) -> None:
    config = tmp_path / "c.toml"
    config.write_text(config.read_text(encoding="utf-8").replace("trial.db", "trial"), encoding="utf-8")
    settings = load(config)
    assert file_for(tmp_path / "trial.html", "--out", (".html",), settings)
    with pytest.raises(UsageError, match="the log"):
        file_for(tmp_path / "trial-wal", "--out", (".html",), settings)


def test_texts_that_look_like_formulas_leave_harmless_and_come_back(run: Run, log: Log, tmp_path: Path) -> None:
    recorded = tmp_path / "r.csv"
    head = "press,shot,time,moving,design,event,cushion"
    rows = [
        f"P25,1,{iso_utc(START)},=M-1,cap,lot:=cmd|x!A0,3.0",
        f"P25,2,{iso_utc(START)},=M-1,cap,lot:'+7,3.0",
        f"P25,3,{iso_utc(START)},'@2,+r2,finding:-,3.0",
    ]
    recorded.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    told = list(recording.read(recorded))
    assert run("import", recorded)[0] == 0
    out = tmp_path / "e.csv"
    assert run("export", "--out", out)[0] == 0
    assert list(recording.read(out)) == told
    assert run("export", "--out", tmp_path / "folder")[0] == 0
    assert run("replay", out, "--verdicts", tmp_path / "v.csv")[0] == 0
    files = [out, tmp_path / "v.csv", *(tmp_path / "folder").rglob("*.csv")]
    rows_of = [csv.reader(io.StringIO(file.read_text(encoding="utf-8"))) for file in files]
    cells = [cell for read in rows_of for row in read for cell in row]
    assert not [cell for cell in cells if cell[:1] in set("=+-@\t\r")]
    assert {"'=cmd|x!A0", "''+7", "'=M-1", "'@2", "'+r2"} <= set(cells)


def test_each_trial_has_a_folder_of_its_own(run: Run, log: Log, tmp_path: Path) -> None:
    names = ["cap 7", "cap-7", "Cap 7", "..", "a/b", "CON", "x" * 300, "x" * 301, "cap-7-2", "nul"]
    for n, name in enumerate(names, 1):
        log.use_trial(name, "cap", "PP", iso_utc(START))
        log.append(shots(n, n))
    log.use_trial("cap 7", "cap", "PA66", iso_utc(START))
    log.append(shots(20, 20))
    out = tmp_path / "out"
    assert run("export", "--out", out)[0] == 0
    made = {folder.name: (folder / "about.txt").read_text(encoding="utf-8").splitlines()[0] for folder in out.iterdir()}
    assert sorted(made.values()) == sorted(f"trial: {name}" for name in [*names, "cap 7"])
    assert len({name.casefold() for name in made}) == len(names) + 1
    assert (made["cap-7"], made["cap-7-2"], made["CON-trial"]) == ("trial: cap 7", "trial: cap-7", "trial: CON")
    first = {file: file.read_bytes() for file in out.rglob("*") if file.is_file()}
    assert run("export", "--out", out)[0] == 0
    assert {file: file.read_bytes() for file in out.rglob("*") if file.is_file()} == first, "again, in the same folders"


def test_a_folder_that_was_cut_short_is_written_again(
    run: Run, log: Log, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log.use_trial("cap-7", "cap", "PP", iso_utc(START))
    log.append(shots(1, 1))

    def full(*_: object) -> int:
        raise OutputError("shots.csv: it cannot be written (No space left on device); nothing is left there")

    with monkeypatch.context() as patch:
        patch.setattr(trial_folder, "_write_shots", full)
        assert run("export", "--out", tmp_path / "out")[0] == 1
    assert "not finished" in (tmp_path / "out" / "cap-7" / "about.txt").read_text(encoding="utf-8")
    assert run("export", "--out", tmp_path / "out")[1] == f"{tmp_path / 'out' / 'cap-7'}: 1 shot\n"
    assert "not finished" not in (tmp_path / "out" / "cap-7" / "about.txt").read_text(encoding="utf-8")


def test_a_folder_of_another_log_or_of_somebodys_own_is_left_alone(run: Run, log: Log, tmp_path: Path) -> None:
    log.use_trial("cap-7", "cap", "PP", iso_utc(START))
    log.append(shots(1, 1))
    for folder, file, text in (("cap-7", "about.txt", "trial: cap 7\n"), ("cap-7-2", "shots.csv", "mine")):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / file).write_text(text, encoding="utf-8")
    assert run("export", "--out", tmp_path)[1] == f"{tmp_path / 'cap-7-3'}: 1 shot\n"
    assert (tmp_path / "cap-7-2" / "shots.csv").read_text(encoding="utf-8") == "mine"
    assert not (tmp_path / "cap-7" / "shots.csv").exists()


@pytest.mark.parametrize(
    "name", ["con", "Com1", "LPT9", "..", ".", "/", "", "a\0b", "\ud800", "e\N{COMBINING ACUTE ACCENT}", "-x-"]
)
def test_a_folder_has_a_name_that_every_system_takes(name: str) -> None:
    found = folder_name(name, lambda _: False)
    assert found.replace("-", "").replace("_", "").isalnum()
    assert found.casefold() not in {"con", "com1", "lpt9"}
    assert found[0] != "-"
