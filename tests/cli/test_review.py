"""The commands ``review`` and ``inserts``, as a person types them."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.store.log.log import open_log
from tests.review.made_up_log import fill, settings_in

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("trial")
    fill(settings_in(made))
    return made


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    def typed(command: str, *words: object) -> tuple[int, str, str]:
        status = main([command, str(folder / "trial.toml"), *map(str, words)])
        said = capsys.readouterr()
        return status, said.out, said.err

    return typed


def test_review_writes_one_file_and_says_so(run: Run, tmp_path: Path) -> None:
    status, out, err = run("review", "--out", tmp_path / "shift.html")
    assert (status, out) == (0, "")
    assert "118 shots reviewed" in err
    assert (tmp_path / "shift.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_review_defaults_to_a_file_in_the_folder_one_is_in(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("review")[0] == 0
    assert [path.name for path in tmp_path.iterdir()] == ["review.html"]


def test_review_as_json_is_one_document_and_no_file(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    status, out, _ = run("review", "--json", "--since", "2026-03-02T07:40:00+00:00")
    assert status == 0
    assert json.loads(out)["presses"][0]["first"] == 80
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        (["--since", "yesterday"], 2, "given 'yesterday'"),
        (["--out", "nowhere/at/all.html"], 2, "nowhere"),
    ],
)
def test_review_says_in_one_line_what_is_wrong(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], status: int, said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    found, _, err = run("review", *words)
    assert found == status
    assert said in err
    assert len(err.strip().splitlines()) == 1


@pytest.mark.file
def test_review_without_a_log_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    settings_in(tmp_path)
    assert main(["review", str(tmp_path / "trial.toml"), "--json"]) == 1
    assert "no such file" in capsys.readouterr().err


def test_an_empty_log_still_gives_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    open_log(settings_in(tmp_path).store, read_only=False).close()
    assert main(["review", str(tmp_path / "trial.toml"), "--out", str(tmp_path / "r.html")]) == 0
    assert "0 shots reviewed" in capsys.readouterr().err
    assert "No shot was stored" in (tmp_path / "r.html").read_text(encoding="utf-8")
