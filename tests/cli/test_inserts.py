"""The command ``inserts``, as a person types it."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.parts.ending import WORDS, words_in
from shotlog.records import Shot
from shotlog.store.inserts import entries
from shotlog.store.log.log import open_log
from tests.review.made_up_log import fill, settings_in

Run = Callable[..., tuple[int, str, str]]

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P1"
  [press.collector]
  kind = "recording"
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("trial")
    fill(settings_in(made))
    return made


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    def typed(*words: str) -> tuple[int, str, str]:
        status = main(["inserts", str(folder / "trial.toml"), *words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return typed


def test_every_life_is_a_line_with_its_end_and_its_price(run: Run) -> None:
    status, out, _ = run()
    assert status == 0
    lines = {line.split()[0]: line for line in out.splitlines() if line.startswith(("A-", "B-"))}
    assert list(lines) == ["A-1", "B-1", "B-2", "B-3"]
    assert "gone off" in lines["B-1"]
    assert "3.62 to 9.20" in lines["B-1"]
    assert "not known to be off" in lines["B-2"]
    assert "design cap-r2: 4 lives, 2 gone off" in out


def test_json_holds_lives_groups_and_comparisons(run: Run) -> None:
    document = json.loads(run("--json")[1])
    assert [entry["life"]["serial"] for entry in document["entries"]] == ["A-1", "B-1", "B-2", "B-3"]
    assert {group["factor"] for group in document["groups"]} == {"design", "resin family", "moulded material"}
    assert document["costs"]["cap-r2"]["insert"] == 18.0


def test_a_design_picks_its_own_and_an_unknown_one_is_refused(run: Run) -> None:
    assert "B-1" in run("--design", "cap-r2")[1]
    status, _, err = run("--design", "cap-r3")
    assert status == 2
    assert "allowed: cap-r2" in err


def test_an_empty_log_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    open_log(settings_in(tmp_path).store, read_only=False).close()
    assert main(["inserts", str(tmp_path / "trial.toml")]) == 0
    assert "no reused insert" in capsys.readouterr().out


def test_the_serial_of_what_took_its_place_is_no_reason(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A swap to ``chip-02`` does not say that the insert before it chipped, nor one to ``rest-1`` that it was sound."""
    words = sorted({word for kind in WORDS.values() for word in kind})
    serials = ["A-1", *(f"{word.replace(' ', '-')}-{n:02d}" for n, word in enumerate(words)), "A-2"]
    assert all(words_in(f"replaced by {serial}") for serial in serials[1:-1])
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    start = datetime(2026, 1, 5, 6, tzinfo=UTC)
    with open_log(f"sqlite:///{tmp_path / 'trial.db'}", read_only=False) as log:
        for n, serial in enumerate(serials):
            now = start + timedelta(minutes=n)
            entries.mount(log, "P1", serial, now, half="moving")
            log.append([Shot("P1", n + 1, n + 1, now, {"cushion": 5.0})])
    assert main(["inserts", str(tmp_path / "trial.toml"), "--json"]) == 0
    lives = [one["life"] for one in json.loads(capsys.readouterr().out)["entries"]]
    assert [(one["serial"], one["reason"], one["replaced_by"], one["failed"], one["ground"]) for one in lives] == [
        *((out, "", into, False, "nothing told") for out, into in pairwise(serials)),
        ("A-2", "", "", False, "mounted"),
    ]
    assert main(["inserts", str(tmp_path / "trial.toml")]) == 0
    assert capsys.readouterr().out.count("nobody said why it was taken out") == len(serials) - 1
    assert main(["insert", str(tmp_path / "trial.toml"), "A-1"]) == 0
    assert f"P1 moving: shot 1 to shot 1 (replaced by {serials[1]})" in capsys.readouterr().out
