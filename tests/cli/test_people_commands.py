"""`status`, `explain`, `parts` and `part` say what people found, and what is held for it."""

import json
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.facts import Facts
from shotlog.records import Shot, Verdict
from shotlog.store.inserts import entries
from shotlog.store.log import judgements
from shotlog.store.log.log import open_log

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
"""


@pytest.fixture
def config(tmp_path: Path) -> str:
    """Twelve shots on two halves; shot 8 lay far out alone."""
    path = tmp_path / "trial.toml"
    path.write_text(CONFIG, encoding="utf-8")
    clock = HandClock()
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
        for serial, half in (("A-07", "fixed"), ("B-11", "moving")):
            entries.mount(log, "P25", serial, clock.now(), half=half, at_shot=1)
        for n in range(1, 13):
            clock.advance(75)
            log.append([Shot("P25", n, n, clock.now(), {"cushion": 4.1 if n == 8 else 5.0})])
        with log.transaction() as work:
            press_id = work.press_id("P25", "")
            number = judgements.open_judging(work, press_id, 1, "by hand", "a test", clock.now().isoformat())
            for n in range(1, 13):
                odd = {"odd_shot": 8, "odd_channel": "cushion", "odd_by": -9.8} if n == 8 else {}
                facts = Facts("quiet", quiet_since=1, n_sisters=3, **odd)  # type: ignore[arg-type]
                judgements.record(work, press_id, number, [Verdict("P25", n, "B-11", n, False, "keep", facts=facts)])
    return str(path)


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(list(words)) == 0
    return capsys.readouterr().out


def test_a_shot_far_out_alone_holds_its_part(config: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert "1 part held: shot 8; put it aside: shot 8; inspect 7 and 8 first" in said(capsys, "status", config)
    shown = said(capsys, "part", config, "P25", "8")
    assert "HELD" in shown
    assert "shot 8 lay far out alone: cushion 10 spreads below what was expected" in shown


def test_a_finding_is_said_by_every_command(config: str, capsys: pytest.CaptureFixture[str]) -> None:
    note = ("note", config, "P25", "finding", "crack", "--at-shot", "11", "--half", "moving", "--initials", "rk")
    said(capsys, *note)
    status = said(capsys, "status", config)
    found = "seen at shot 11, on B-11, moving half, by rk: crack; parts from shot 11 on are held"
    assert f"FOUND BY PEOPLE: {found}" in status
    assert "\n  by the values, at shot " in status
    assert "which was the last one you know to be good?" in status
    assert "3 parts held, from shot 8" in status
    assert "made on B-11, on which was seen at shot 11: crack, moving half, by rk" in said(
        capsys, "parts", config, "P25"
    )
    said(capsys, "note", config, "P25", "good", "good", "--at-shot", "9")
    document = json.loads(said(capsys, "status", config, "--json"))["presses"][0]
    assert document["held"]["shots"] == [[8, 8], [10, 12]]
    assert document["held"]["look_first"] == [10], "the one before it is known to be good"
    assert document["asked"] == ""
    assert document["stands"] == "swap", "whatever the values say"
    assert [(one["shot"], one["text"], one["half"], one["initials"]) for one in document["found"]] == [
        (11, "crack", "moving", "rk")
    ]
    part = said(capsys, "part", config, "P25", "11")
    assert "seen: crack, moving half, by rk" in part
    assert "held since the last known good one, shot 9" in part


def test_a_half_taken_out_for_flash_holds_what_it_made(config: str, capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "note", config, "P25", "good", "good", "--at-shot", "10")
    said(capsys, "remove", config, "P25", "B-11", "--reason", "flash at the parting line")
    document = json.loads(said(capsys, "status", config, "--json"))["presses"][0]
    assert document["held"]["shots"] == [[8, 8], [11, 12]]
    assert document["found"] == []
    assert "made on B-11, taken out after shot 12: flash" in said(capsys, "parts", config, "P25")


def test_a_half_taken_out_as_planned_holds_nothing(config: str, capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "remove", config, "P25", "B-11", "--reason", "planned life, cushion scatters")
    assert json.loads(said(capsys, "status", config, "--json"))["presses"][0]["held"]["shots"] == [[8, 8]]
