"""What people enter by command: the numbers they type, what is asked first, and what was entered, to be taken back."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.records import Shot
from shotlog.store.log.log import Log, open_log
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
    assert "beginning with S-01 in moving" in run("mount", "P25", "S-01", "--single-use")[1]
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
