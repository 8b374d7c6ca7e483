"""The commands about inserts, parts, bath, inspection, weights, import and export, as a person types them."""

import json
import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.cautions import CAUSTIC
from shotlog.cli.main import main
from shotlog.records import Gap, Shot, Weighing
from shotlog.store.log.log import open_log
from shotlog.store.parts.weights import match_by_hand, match_new
from shotlog.wording.times import clock_time
from shotlog.wording.weighings import say_proposal

CONFIG = """
[log]
store = "sqlite:///trial.db"
[trial]
name = "cap trial 7"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[design.cap]
cavities = 2
dissolve_h = 30
tolerance = { wall = { low = 1.1, high = 1.3 } }
[design.lid]
dissolve = "not allowed"
"""

HEADER = "press,shot,time,fixed,moving,core,design,event,single_use,print_batch,cushion\n"

Run = Callable[..., tuple[int, str, str]]


def recording(path: Path, first: int, last: int, fixed: str = "F-1", design: str = "cap") -> Path:
    rows = [
        f"P25,{n},2026-01-05T06:{n:02d}:00Z,{fixed},S-{n:03d},,{design},,moving,moving:B7,3.{n:02d}\n"
        for n in range(first, last + 1)
    ]
    path.write_text(HEADER + "".join(rows), encoding="utf-8")
    return path


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command on a configuration in a folder of its own; returns exit status, stdout and stderr."""
    (tmp_path / "c.toml").write_text(CONFIG, encoding="utf-8")

    def typed(command: str, *words: object) -> tuple[int, str, str]:
        status = main([command, str(tmp_path / "c.toml"), *map(str, words)])
        said = capsys.readouterr()
        return status, said.out, said.err

    return typed


@pytest.fixture
def moulded(run: Run, tmp_path: Path) -> Run:
    """The same, with twelve shots in the log."""
    assert run("import", recording(tmp_path / "r.csv", 1, 12))[0] == 0
    return run


def test_a_dry_run_shows_what_would_be_taken_and_takes_nothing(run: Run, tmp_path: Path) -> None:
    status, out, _ = run("import", recording(tmp_path / "r.csv", 1, 12), "--dry-run")
    assert status == 0
    assert "P25: 12 shots, 1 to 12, 2026-01-05T06:01:00" in out
    assert "nothing was changed" in out
    assert json.loads(run("status", "--json")[1])["presses"][0]["shots_stored"] == 0


def test_imported_shots_are_judged_and_export_the_same(moulded: Run, tmp_path: Path) -> None:
    assert moulded("export", "--out", tmp_path / "back.csv")[0] == 0
    first = [line.split(",")[:10] for line in (tmp_path / "r.csv").read_text(encoding="utf-8").splitlines()[1:]]
    back = [line.split(",")[:10] for line in (tmp_path / "back.csv").read_text(encoding="utf-8").splitlines()[1:]]
    assert [row[:2] + row[3:] for row in back] == [row[:2] + row[3:] for row in first]
    assert json.loads(moulded("status", "--json")[1])["presses"][0]["verdict"]["shot"] == 12
    assert "nothing changed later" in moulded("verify")[1]


def test_overlapping_shots_are_refused_and_named(moulded: Run, tmp_path: Path) -> None:
    status, _, err = moulded("import", recording(tmp_path / "more.csv", 10, 15))
    assert status == 2
    assert "the log has 3 of its shots of P25 (10 to 12), allowed: only shots the log does not have" in err
    assert json.loads(moulded("status", "--json")[1])["presses"][0]["shots_stored"] == 12


def test_shots_made_with_other_inserts_than_the_log_has_are_refused(moulded: Run, tmp_path: Path) -> None:
    status, _, err = moulded("import", recording(tmp_path / "more.csv", 13, 15, fixed="F-2"))
    assert status == 2
    assert "shot 13 of P25 was made with F-2, S-013; the log has F-1, S-013 mounted there" in err


def test_later_shots_of_the_same_inserts_go_on_where_the_log_ended(moulded: Run, tmp_path: Path) -> None:
    assert moulded("import", recording(tmp_path / "more.csv", 14, 15))[0] == 0
    (card,) = json.loads(moulded("insert", "F-1", "--json")[1])
    assert [(stay["first"], stay["last"]) for stay in card["stays"]] == [(1, None)]
    assert card["shots"] == 15


def test_shots_taken_in_later_fill_the_gap_they_left(moulded: Run, tmp_path: Path) -> None:
    moment = datetime(2026, 1, 5, 6, 20, tzinfo=UTC)
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        log.append([Gap("P25", 13, 15, moment, "counter went on from 12 to 16"), Shot("P25", 16, 16, moment, {})])
    assert json.loads(moulded("status", "--json")[1])["presses"][0]["shots_missed"] == 3
    assert moulded("import", recording(tmp_path / "more.csv", 14, 15))[0] == 0
    assert json.loads(moulded("status", "--json")[1])["presses"][0]["shots_missed"] == 1
    (press,) = json.loads(moulded("review", "--json")[1])["presses"]
    assert (press["n_missed"], press["n_seen"]) == (1, 15)
    assert [(gap["first"], gap["last"]) for gap in press["gaps"]] == [(13, 13)]
    assert press["filled"] == [[14, 15]]
    moulded("export", "--out", tmp_path / "out")
    gaps = (tmp_path / "out" / "cap-trial-7" / "gaps.csv").read_text(encoding="utf-8").splitlines()
    assert gaps[1:] == ["P25,13,13,counter went on from 12 to 16,1,1"]


def test_a_press_nobody_configured_is_refused(run: Run, tmp_path: Path) -> None:
    path = recording(tmp_path / "r.csv", 1, 3)
    path.write_text(path.read_text(encoding="utf-8").replace("P25", "P99"), encoding="utf-8")
    status, _, err = run("import", path)
    assert status == 2
    assert "given press 'P99', allowed: P25" in err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("press,shot,quantity,value,unit,inspected\nP25,3,wall,1.2,g,2026-01-06T08:00Z\n", "line 2: wall: given 1.2 g"),
        ("press,shot,quantity,value,unit,inspected\nP25,99,wall,1.2,mm,2026-01-06T08:00Z\n", "counted no such shot"),
        ("press,shot,quantity,value,unit,inspected\nP25,3,wall,1.2,mm,soon\n", "line 2"),
        ("press,shot,finding\n", "no inspections|needed: press|no column|holds no shots"),
    ],
)
def test_a_file_of_inspections_that_cannot_be_is_refused_whole(
    moulded: Run, tmp_path: Path, text: str, said: str
) -> None:
    path = tmp_path / "i.csv"
    path.write_text(text, encoding="utf-8")
    status, _, err = moulded("import", path)
    assert status in (1, 2)
    assert any(words in err for words in said.split("|"))


def test_inspections_are_taken_once(moulded: Run, tmp_path: Path) -> None:
    path = tmp_path / "i.csv"
    path.write_text(
        "press,shot,cavity,inspected,quantity,value,unit,low,high,finding\n"
        "P25,3,1,2026-01-06T08:00Z,wall,1.2,mm,1.1,1.3,\nP25,4,2,2026-01-06T08:00Z,,,,,,flash\n",
        encoding="utf-8",
    )
    assert "2 inspections of 2 parts" in moulded("import", path, "--dry-run")[1]
    assert moulded("import", path)[0] == 0
    assert "taken into this log before" in moulded("import", path)[2]
    assert json.loads(moulded("part", "P25", "4/2", "--json")[1])[0]["state"] == "held"


def test_one_part_shows_its_whole_chain(moulded: Run) -> None:
    moulded("insert", "S-003", "--plate-position", "c2", "--print-batch", "B7")
    moulded("note", "P25", "lot", "L7", "--at-shot", 2)
    moulded("bath", "make-up", "B1", "--at", "2026-01-05T06:00Z")
    moulded("bath", "in", "B1", "P25", "3", "--at", "2026-01-05T08:00Z")
    moulded("inspect", "P25", "3/1", "--dimension", "wall=1.4mm", "--initials", "AB")
    moulded("parts", "P25", "3/1", "--scrap", "--reason", "too thick", "--initials", "QA")
    (chain,) = json.loads(moulded("part", "P25", "3/1", "--json")[1])
    assert chain["halves"]["moving"] == {
        "serial": "S-003", "design": "cap", "print_batch": "B7", "plate_position": "c2", "single_use": True,
        "shot_since_mounted": None,
    }  # fmt: skip
    assert chain["halves"]["fixed"]["shot_since_mounted"] == 3
    assert (chain["lot"], chain["state"], chain["values"]["cushion"]) == ("L7", "scrapped", 3.03)
    assert chain["bath"][0]["due"].startswith("2026-01-06T14:00")
    assert chain["inspections"][0]["result"] == "wall 1.4 mm, tolerance 1.1 to 1.3: OUT"
    text = moulded("part", "P25", "3/1")[1]
    assert "part P25/3/1" in text
    assert "SCRAPPED" in text
    assert "batch B7" in text


def test_parts_named_say_where_they_are_and_what_made_them(moulded: Run) -> None:
    moulded("note", "P25", "lot", "L8", "--at-shot", 5)
    moulded("bath", "make-up", "B1", "--at", "2026-01-05T06:00Z")
    moulded("bath", "in", "B1", "P25", "3-4/1", "--at", "2026-01-05T08:00Z")
    said = moulded("parts", "P25", "3-6/1")[1].splitlines()
    due = clock_time(datetime(2026, 1, 6, 14, tzinfo=UTC))
    assert said[1].startswith(f"  shots 3 to 4, 2 parts: with nothing against them; in bath B1, due {due}, OVERDUE by ")
    assert said[2] == "  shots 5 to 6, 2 parts: with nothing against them"
    assert said[3:] == [
        "made with:",
        "  lot: not noted (shots 3 to 4); L8 (shots 5 to 6)",
        "  set-up: not noted (shots 3 to 6)",
        "  fixed: F-1 (shots 3 to 6)",
        "  moving: batch B7 (shots 3 to 6)",
    ]
    rows = json.loads(moulded("parts", "P25", "4-5/1", "--json")[1])["parts"]
    assert [row["where"][:11] for row in rows] == ["in bath B1,", ""]


def test_a_bad_part_says_what_follows_from_it(moulded: Run) -> None:
    _, out, _ = moulded("inspect", "P25", "6/1", "--finding", "flash")
    assert "the life of F-1 ends at this part, after 5 shots" in out
    assert "held now: 14 parts of P25" in out
    _, out, _ = moulded("parts", "P25")
    assert "24 parts; 10 with nothing against them, 14 HELD" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("parts", "P25", "3", "--release"), "reason: given nothing"),
        (("parts", "P25", "--release"), "parts: given none"),
        (("parts", "P25", "99", "--hold"), "given 99; the last shot of P25 is 12, allowed: 1 to 12"),
        (("parts", "P25", "3/3", "--hold"), "allowed: cavity 1 to 2"),
        (("part", "P25", "99"), "given 99; the last shot of P25 is 12"),
        (("inspect", "P25", "3/1", "--weight", "5mm"), "allowed: a unit that converts to g"),
        (("inspect", "P25", "3", "--weight", "5"), "allowed: one part"),
        (("inspect", "P25", "3/1", "--weight", "5", "--dimension", "wall=1"), "one result at a time"),
        (("inspect", "P25", "3/1", "--dimension", "wall"), "allowed: NAME=VALUE"),
        (("inspect", "P25", "3/1", "--finding", "x", "--at", "yesterday"), "allowed: ISO 8601"),
        (("bath", "in", "B1", "P25", "3"), "none yet, make one up first"),
        (("bath", "out", "P25", "3/1"), "it is in no bath"),
        (("bath", "in", "B1"), "allowed: make-up BATH"),
        (("bath", "make-up", "B1", "--temperature", "warm"), "range: given 'warm'"),
        (("queue", "P25", "S-003"), "used before"),
        (("queue", "P25", "--drop", "S-003", "--reason", "x"), "it is in no queue"),
        (("weights", "P25", "--match", "x"), "allowed: NUMBER=SHOT"),
        (("weights", "P25", "--match", "1=2", "--reason", "x"), "weighing 1: there is none"),
        (("undo", "decision", "1", "--reason", "x"), "decision 1: there is none"),
        (("insert", "NOBODY"), "given a serial that nobody entered"),
        (("labels", "S-001", "--out", "l.pdf"), "ends in .html"),
        (("parts", "P99"), "press: given"),
    ],
)
def test_what_cannot_be_is_one_line_and_exit_status_2(moulded: Run, words: tuple[str, ...], said: str) -> None:
    status, out, err = moulded(*words)
    said_by_us = err.replace(f"CAUTION: {CAUSTIC}\n", "")
    assert (status, out) == (2, "")
    assert said in said_by_us
    assert said_by_us.count("\n") == 1


def test_every_bath_command_shows_the_caution(moulded: Run, capsys: pytest.CaptureFixture[str]) -> None:
    for words in (("make-up", "B1"), ("check", "B1", "--temperature", "20"), ("list",), ("in", "B1"), ("out",)):
        assert CAUSTIC in moulded("bath", *words)[2]
    with pytest.raises(SystemExit):
        main(["bath", "--help"])
    assert "nobody alone" in " ".join(capsys.readouterr().out.split())


def test_a_design_not_to_be_dissolved_stays_out_of_the_bath(run: Run, tmp_path: Path) -> None:
    run("import", recording(tmp_path / "r.csv", 1, 3, design="lid"))
    run("bath", "make-up", "B1")
    status, _, err = run("bath", "in", "B1", "P25", "2")
    assert status == 2
    assert 'design lid is set to dissolve = "not allowed"' in err


def test_what_is_in_the_bath_and_overdue_is_listed(moulded: Run) -> None:
    moulded("bath", "make-up", "B1", "--at", "2026-01-05T06:00Z", "--concentration", "0.9..1.1")
    assert "CONCENTRATION 0.7 MOL/L IS BELOW 0.9" in moulded("bath", "check", "B1", "--concentration", "0.7")[1]
    moulded("bath", "in", "B1", "P25", "3-4/1", "--at", "2026-01-05T08:00Z")
    document = json.loads(moulded("bath", "list", "--json")[1])
    assert [row["part"] for row in document["parts"]] == ["P25/3/1", "P25/4/1"]
    assert document["parts"][0]["overdue_h"] > 0
    assert document["caution"] == CAUSTIC
    assert "OVERDUE" in moulded("bath", "list")[1]
    moulded("bath", "out", "P25", "3-4/1", "--at", "2026-01-06T15:00Z")
    assert "0 parts in" in moulded("bath", "list")[1]


def test_words_may_come_after_an_option_as_well(moulded: Run) -> None:
    assert moulded("parts", "P25", "--scrap", "--reason", "flash", "--initials", "QA", "3-4/1")[0] == 0
    found = json.loads(moulded("parts", "--json", "P25", "2-5/1")[1])["parts"]
    assert [(one["shot"], one["state"]) for one in found] == [
        (2, "made"), (3, "scrapped"), (4, "scrapped"), (5, "made"),
    ]  # fmt: skip
    moulded("bath", "make-up", "--at", "2026-01-05T06:00Z", "B1")
    assert moulded("bath", "in", "B1", "P25", "--at", "2026-01-05T08:00Z", "3-4/1")[0] == 0
    assert len(json.loads(moulded("bath", "list", "--json")[1])["parts"]) == 2


def test_coming_out_of_the_bath_is_taken_back_by_the_number_it_was_shown_with(moulded: Run) -> None:
    moulded("bath", "make-up", "B1", "--at", "2026-01-05T06:00Z")
    moulded("bath", "in", "B1", "P25", "3-4/1", "--at", "2026-01-05T08:00Z")
    moulded("bath", "out", "P25", "4/1", "--at", "2026-01-06T15:00Z")
    said = moulded("bath", "out", "P25", "3/1", "--at", "2026-01-06T15:00Z")[1]
    (number,) = re.findall(r"\(bath-out ([0-9]+)\)", said)
    assert f"(bath-out {number})" in moulded("part", "P25", "3/1")[1]
    assert moulded("undo", "bath-out", number, "--reason", "still in")[0] == 0
    assert [one["part"] for one in json.loads(moulded("bath", "list", "--json")[1])["parts"]] == ["P25/3/1"]


def test_an_inspection_is_undone_and_stays_on_record(moulded: Run) -> None:
    moulded("inspect", "P25", "6/1", "--finding", "flash")
    assert moulded("undo", "inspection", "1", "--reason", "other part")[0] == 0
    assert "24 with nothing against them" in moulded("parts", "P25")[1]
    assert "was taken back before" in moulded("undo", "inspection", "1", "--reason", "again")[2]


def test_a_queue_is_loaded_shown_and_corrected(run: Run) -> None:
    run("queue", "P25", "S-01..S-03", "--at-shot", 1, "--print-batch", "B7", "--positions", "a,b,c")
    assert "0 taken, 3 waiting (S-01, S-02, S-03)" in run("queue", "P25")[1]
    run("queue", "P25", "--drop", "S-02", "--reason", "broken")
    (queue,) = json.loads(run("queue", "P25", "--json")[1])["queues"]
    assert [piece["serial"] for piece in queue["waiting"]] == ["S-01", "S-03"]
    assert "plate position: b" in run("insert", "S-02")[1]


def test_weights_are_shown_and_corrected(moulded: Run, tmp_path: Path) -> None:
    moment = datetime(2026, 1, 5, 6, 12, 30, tzinfo=UTC)
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        log.append([Weighing("P25", "balance-1", 10.2, moment, 90.0)])
        match_new(log, "P25", moment, say_proposal)
    assert "shot 12: newest shot before it; could be 11 as well" in moulded("weights", "P25")[1]
    assert moulded("weights", "P25", "--match", "1=11", "--reason", "late")[0] == 0
    (row,) = json.loads(moulded("weights", "P25", "--json")[1])["weighings"]
    assert (row["shot"], row["by_hand"], row["why"]) == (11, True, "late")


def test_a_trial_s_folder_has_the_weighings_of_its_own_shots(moulded: Run, tmp_path: Path) -> None:
    """The next trial runs on the same press; a weighing without a shot goes with the trial it was made in."""
    at = datetime(2026, 1, 5, 6, 12, 30, tzinfo=UTC)
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        log.use_trial("lid trial 8", "lid", "PP", "2026-01-05T07:00:00Z")
        log.append([Shot("P25", 13, 13, at + timedelta(hours=1), {})])
        for grams, minutes in ((10.2, 0.0), (0.9, 0.2), (11.3, 60.5), (0.8, 61.0)):
            log.append([Weighing("P25", "balance-1", grams, at + timedelta(minutes=minutes), 90.0)])
            match_new(log, "P25", at, say_proposal)
        match_by_hand(log, "P25", {2: None}, at, reason="a sprue")
    moulded("export", "--out", tmp_path / "out")
    weighed = {
        folder.name: [
            line.split(",")[4] for line in (folder / "weighings.csv").read_text(encoding="utf-8").splitlines()[1:]
        ]
        for folder in (tmp_path / "out").iterdir()
    }
    assert weighed == {"cap-trial-7": ["10.2", "0.9"], "lid-trial-8": ["11.3", "0.8"]}


def test_labels_hold_a_code_and_what_is_known(run: Run, tmp_path: Path) -> None:
    run("insert", "B-1", "--design", "cap", "--print-batch", "<B7>", "--cured", "2026-01-02T10:00+01:00")
    assert run("labels", "B-1", "B-2", "--out", tmp_path / "l.html")[0] == 0
    page = (tmp_path / "l.html").read_text(encoding="utf-8")
    assert page.count("<svg") == 2
    assert "&lt;B7&gt;" in page
    assert "cured 2026-01-02" in page
    assert "http://" not in page.replace("http://www.w3.org/2000/svg", "")


def test_a_folder_a_trial_with_a_dictionary_of_every_column(moulded: Run, tmp_path: Path) -> None:
    moulded("inspect", "P25", "6/1", "--finding", "flash")
    assert moulded("export", "--out", tmp_path / "out")[0] == 0
    folder = tmp_path / "out" / "cap-trial-7"
    told = {
        tuple(line.split(",")[:2]) for line in (folder / "dictionary.csv").read_text(encoding="utf-8").splitlines()[1:]
    }
    files = sorted(folder.glob("*.csv"))
    assert {path.name for path in files} >= {"shots.csv", "parts.csv", "inspections.csv", "stays.csv", "verdicts.csv"}
    for path in files:
        if path.name != "dictionary.csv":
            header = path.read_text(encoding="utf-8").splitlines()[0].split(",")
            assert {(path.name, column) for column in header} <= told
    assert len((folder / "parts.csv").read_text(encoding="utf-8").splitlines()) == 1 + 24


def test_the_same_log_exports_the_same_bytes(moulded: Run, tmp_path: Path) -> None:
    moulded("export", "--out", tmp_path / "a")
    moulded("export", "--out", tmp_path / "b")
    for path in (tmp_path / "a").rglob("*.*"):
        assert path.read_bytes() == (tmp_path / "b" / path.relative_to(tmp_path / "a")).read_bytes()


def test_exported_inspections_can_be_taken_in_elsewhere(moulded: Run, tmp_path: Path) -> None:
    moulded("inspect", "P25", "6/1", "--dimension", "wall=1.4")
    moulded("export", "--out", tmp_path / "out")
    moulded("undo", "inspection", "1", "--reason", "to take it in again")
    assert moulded("import", tmp_path / "out" / "cap-trial-7" / "inspections.csv")[0] == 0
    (chain,) = json.loads(moulded("part", "P25", "6/1", "--json")[1])
    assert chain["inspections"][0]["result"] == "wall 1.4 mm, tolerance 1.1 to 1.3: OUT"


def test_the_last_shot_of_an_insert_taken_out_is_the_one_before(moulded: Run) -> None:
    assert "  P25 fixed: shot 1 to now\n" in moulded("insert", "F-1")[1]
    assert moulded("remove", "P25", "F-1", "--at-shot", 9, "--reason", "flash at the gate")[0] == 0
    assert "  P25 fixed: shot 1 to shot 8 (flash at the gate)\n" in moulded("insert", "F-1")[1]
    (card,) = json.loads(moulded("insert", "F-1", "--json")[1])
    assert [(stay["first"], stay["last"]) for stay in card["stays"]] == [(1, 8)]


def test_the_status_counts_the_shots_on_each_insert(moulded: Run) -> None:
    moulded("mount", "P25", "F-2", "--half", "fixed", "--at-shot", 9)
    out = moulded("status")[1]
    assert "  fixed:      F-2, 4 shots since shot 9\n" in out
    moulded("mount", "P25", "F-3", "--half", "fixed")
    assert "  fixed:      F-3, 0 shots since shot 13\n" in moulded("status")[1]


def test_a_bath_out_of_its_ranges_is_printed_in_capitals(moulded: Run) -> None:
    moulded("bath", "make-up", "B1", "--concentration", "1.8..2.2", "--temperature", "60..70")
    assert ": never checked\n" in moulded("bath", "list")[1]
    said = moulded("bath", "check", "B1", "--concentration", "1.5", "--temperature", "75")[1]
    wrong = "CONCENTRATION 1.5 MOL/L IS BELOW 1.8; TEMPERATURE 75 DEGC IS ABOVE 70"
    assert said == f"bath B1: {wrong} (bath-check 1)\n"
    listed = moulded("bath", "list")[1]
    assert f": {wrong}\n" in listed
    assert "within" not in listed
    said = moulded("bath", "check", "B1", "--concentration", "2")[1]
    assert said == "bath B1: checked, within its ranges (bath-check 2)\n"
    assert ": within its ranges\n" in moulded("bath", "list")[1]
