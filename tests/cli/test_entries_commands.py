"""What people enter by command: the numbers they type, what is asked first, and what was entered, to be taken back."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.entries import UNDO_KINDS
from shotlog.records import Shot
from shotlog.store.asked.entries_made import entries_made
from shotlog.store.log.log import Log, open_log
from shotlog.store.undo import UNDO
from tests.made_shots import moulded, shots

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[design.cap]
settling_shots = 10
tolerance = { wall = { low = 1.1, high = 1.3 } }
"""

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as opened:
        yield opened


@pytest.fixture
def run(tmp_path: Path, log: Log, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command on the configuration; returns exit status, stdout and stderr."""
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")

    def typed(command: str, *words: object) -> tuple[int, str, str]:
        status = main([command, str(tmp_path / "trial.toml"), *map(str, words)])
        said = capsys.readouterr()
        return status, said.out, said.err

    return typed


def rolled_over(log: Log) -> None:
    """Let a 16-bit counter go from 65530 over the top; it shows 3 now."""
    log.append(Shot("P25", n, n % 65536, moulded(n - 65530), {"cushion": 4.97}) for n in range(65530, 65540))


def test_a_number_on_the_display_after_a_rollover_is_understood_and_said(run: Run, log: Log) -> None:
    rolled_over(log)
    status, out, err = run("mount", "P25", "B-11", "--at-shot", 3)
    assert (status, err) == (0, "P25: the press shows 3: shot 65539\n")
    assert out.startswith("P25: B-11 in moving from shot 65539")
    assert run("note", "P25", "finding", "flash", "--at-shot", 2)[1].startswith("P25: finding at shot 65538: flash")
    status, out, err = run("inspect", "P25", "3", "--finding", "flash")
    assert (status, out.startswith("P25/65539/1"), "the press shows 3: shot 65539" in err) == (0, True, True)
    assert [stay.first for stay in log.timeline("P25").stays] == [65539]


@pytest.mark.parametrize(
    "words",
    [
        ("mount", "P25", "B-12", "--at-shot", "70000"),
        ("remove", "P25", "B-11", "--reason", "worn", "--at-shot", "70000"),
        ("note", "P25", "finding", "flash", "--at-shot", "70000"),
        ("queue", "P25", "S-1..S-9", "--half", "fixed", "--at-shot", "70000"),
        ("inspect", "P25", "70000"),
        ("parts", "P25", "70000", "--hold"),
        ("part", "P25", "70000"),
        ("bath", "in", "bath-1", "P25", "70000"),
        ("weights", "P25", "--match", "1=70000", "--reason", "typed wrong"),
    ],
)
def test_a_number_that_no_shot_is_near_is_refused_by_every_command(run: Run, log: Log, words: tuple[str, ...]) -> None:
    rolled_over(log)
    command, *rest = words
    if command == "bath":
        run("bath", "make-up", "bath-1")
    status, _, err = run(command, *rest)
    assert status == 2
    assert "the last shot of P25 is 65539, where it showed 3" in err
    assert "allowed: 65530 to 65539" in err or "allowed: 64530 to 65540, the next shot" in err


def test_a_mount_before_any_shot_holds_from_the_first_that_comes(run: Run, log: Log) -> None:
    assert "A-07 in fixed from the first shot that comes" in run("mount", "P25", "A-07", "--half", "fixed")[1]
    assert "S-01, S-02, S-03 and so on, in moving" in run("mount", "P25", "S-01", "--single-use")[1]
    assert run("note", "P25", "lot", "L1")[1].startswith("P25: lot at the first shot that comes: L1")
    assert log.timeline("P25").stays_at(1)["fixed"].mounting.insert.serial == "A-07"
    log.append(shots(118, 121))
    timeline = log.timeline("P25")
    assert [(stay.mounting.insert.serial, stay.first) for stay in timeline.stays] == [("A-07", 118), ("S-01", 118)]
    assert timeline.halves(121)["moving"].serial == "S-04"
    assert run("remove", "P25", "A-07", "--reason", "trial over", "--at-shot", "120")[0] == 0
    assert run("mount", "P25", "A-07", "--at-shot", "119")[0] == 0


def test_an_insert_out_and_in_again_before_any_shot(run: Run, log: Log) -> None:
    assert run("mount", "P25", "B-11")[0] == 0
    assert "out from the first shot that comes" in run("remove", "P25", "B-11", "--reason", "wrong one")[1]
    assert run("mount", "P25", "B-12")[0] == 0
    assert run("mount", "P25", "B-12")[0] == 2
    log.append(shots(118, 119))
    assert log.timeline("P25").halves(118)["moving"].serial == "B-12"


def test_what_was_entered_is_listed_with_the_numbers_that_undo_takes(run: Run, log: Log) -> None:
    log.append(shots(1, 20))
    assert "(mounting 1)" in run("mount", "P25", "B-11", "--design", "cap", "--at-shot", 1, "--initials", "RK")[1]
    assert "(event 1)" in run("note", "P25", "finding", "flash", "--half", "moving", "--initials", "AB")[1]
    out = run("mount", "P25", "B-12", "--at-shot", 15, "--reason", "flash at the gate")[1]
    assert "B-12 in moving from shot 15 (mounting 2)" in out
    assert "Counted as: " in out
    assert "(inspection 1)" in run("inspect", "P25", "7", "--dimension", "wall=1.2")[1]
    assert run("parts", "P25", "3-5", "--hold", "--initials", "QA")[0] == 0
    assert run("undo", "event", 1, "--reason", "wrong press", "--initials", "AB")[1] == (
        "event 1: P25, shot 20, seen: flash, moving half: taken back (wrong press)\n"
    )
    lines = run("entries", "P25")[1].splitlines()
    assert lines[0].startswith("6 entries, 1 taken back")
    assert "mounting 1       P25, shot 1, B-11 mounted, moving half" in lines[1]
    assert ", by RK, typed)" in lines[1]
    assert "TAKEN BACK" in lines[2]
    assert "by AB, typed (wrong press)" in lines[2]
    assert "removal 1        P25, shot 15, B-11 removed: flash at the gate" in lines[3]
    assert "decision 1       P25, shots 3 to 5/1, held" in lines[6]
    found = json.loads(run("entries", "--json")[1])
    assert [(one["kind"], one["number"], one["in_force"]) for one in found][:2] == [
        ("mounting", 1, True), ("event", 1, False),
    ]  # fmt: skip
    assert found[1]["taken_back"]["reason"] == "wrong press"
    assert {one["kind"] for one in found} == {"mounting", "event", "removal", "inspection", "decision"}


@pytest.mark.parametrize("command", ["undo event {} --reason slip", "undo event {} --again", "explain P25 {}"])
def test_a_number_that_no_log_can_hold_is_refused_in_a_sentence(run: Run, log: Log, command: str) -> None:
    log.append(shots(1, 2))
    status, _, said = run(*command.format(10**20).split())
    assert status == 2
    assert said.splitlines()[-1].endswith(
        "number: given one larger than a log can hold, allowed: 9223372036854775807 at most"
    )


def test_what_was_taken_back_is_entered_again_as_an_entry_of_its_own(run: Run, log: Log) -> None:
    log.append(shots(1, 20))
    run("mount", "P25", "B-11", "--at-shot", 1)
    run("mount", "P25", "B-12", "--at-shot", 15, "--reason", "worn")
    run("note", "P25", "finding", "flash", "--half", "moving", "--initials", "AB")
    run("parts", "P25", "3", "--hold")

    def inserts() -> list[tuple[str, str]]:
        return [(stay.mounting.insert.serial, stay.reason) for stay in log.timeline("P25").stays]

    before = inserts()
    assert before == [("B-11", "worn"), ("B-12", "")]
    assert run("undo", "mounting", 2, "--reason", "typed wrong")[0] == 0
    assert inserts() == [("B-11", "")]  # what came out for it is in again
    assert run("undo", "mounting", 2, "--again")[1].endswith("B-12 mounted, moving half: entered again\n")
    assert inserts() == before
    for kind, who in (("event", ()), ("decision", ("--initials", "QA"))):
        assert run("undo", kind, 1, "--again", *who)[0] == 2
        assert run("undo", kind, 1, "--reason", "typed wrong", *who)[0] == 0
        assert run("undo", kind, 1, "--again", *who)[0] == 0
    (event,) = log.timeline("P25").events
    assert (event.text, event.half, event.initials, event.at_shot) == ("flash", "moving", "AB", 20)
    assert run("undo", "event", 9, "--again")[0] == 2
    assert run("undo", "event", 2)[0] == 2


def test_every_kind_of_entry_that_undo_takes_is_listed(log: Log) -> None:
    assert tuple(UNDO) == UNDO_KINDS
    assert entries_made(log) == []


def test_a_reason_is_for_an_insert_that_came_out(run: Run, log: Log) -> None:
    log.append(shots(1, 5))
    status, _, err = run("mount", "P25", "B-11", "--reason", "worn")
    assert (status, "nothing was in P25 moving before shot 6" in err) == (2, True)


def test_a_lot_over_parts_checked_already_is_asked_first(run: Run, log: Log) -> None:
    log.append(shots(1, 20))
    run("note", "P25", "lot", "L1", "--at-shot", 1)
    run("inspect", "P25", "12")
    run("parts", "P25", "13-15", "--release", "--reason", "looked at", "--initials", "QA")
    status, _, err = run("note", "P25", "lot", "L2", "--at-shot", 10)
    asked = "this changes the lot of 4 parts that were inspected, released or scrapped already; --yes to go on"
    assert (status, asked in err) == (2, True)
    assert run("note", "P25", "lot", "L1", "--at-shot", 10)[0] == 0
    assert run("note", "P25", "lot", "L3", "--at-shot", 16)[0] == 0
    assert run("note", "P25", "finding", "flash", "--at-shot", 12)[0] == 0
    assert run("note", "P25", "setup", "hold 240", "--at-shot", 14)[0] == 2
    assert run("note", "P25", "lot", "L2", "--at-shot", 14, "--yes")[0] == 0


def test_a_dimension_without_a_tolerance_is_no_typing_error(run: Run, log: Log) -> None:
    run("mount", "P25", "B-11", "--design", "cap", "--at-shot", 1)
    log.append(shots(1, 3))
    status, _, err = run("inspect", "P25", "2", "--dimension", "wal=1.2")
    assert status == 2
    assert "dimension of P25/2/1: given 'wal', allowed: wall (design cap)" in err
    assert "--no-tolerance" in err
    assert "wal 1.2 mm" in run("inspect", "P25", "2", "--dimension", "wal=1.2", "--no-tolerance")[1]
    assert run("inspect", "P25", "2", "--dimension", "rib=0.8", "--tolerance", "0.7..0.9")[0] == 0
    assert "1.1 to 1.3: OUT" in run("inspect", "P25", "3", "--dimension", "wall=1.4")[1]


def test_a_lot_of_single_use_pieces_is_not_made_a_series_of_serials(run: Run, log: Log) -> None:
    log.append(shots(1, 3))
    status, _, err = run("mount", "P25", "B-lot1", "--single-use")
    assert status == 2
    assert "the next shots would take B-lot1, B-lot2, B-lot3 and so on: are these the serials of single pieces?" in err
    assert log.timeline("P25").stays == []
    assert run("mount", "P25", "B-lot1", "--single-use", "--yes")[0] == 0
    assert (
        "a new piece each shot, S-001, S-002, S-003 and so on, in moving"
        in (run("mount", "P25", "S-001", "--single-use")[1])
    )
