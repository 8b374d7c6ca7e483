"""`shotlog export --follow`: every row of the log once, as it comes, as a line of JSON."""

import argparse
import errno
import io
import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from shotlog.cli.export_follow import follow
from shotlog.cli.main import main
from shotlog.own_python import own_environment, own_python
from shotlog.store.log.log import Log, open_log
from tests.end_to_end.running import DEADLINE_S, heeding_interrupts
from tests.made_shots import shot, shots
from tests.notify.schema_of_messages import check

CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'


@pytest.fixture
def config(tmp_path: Path) -> Path:
    file = tmp_path / "trial.toml"
    file.write_text(CONFIG, encoding="utf-8")
    return file


class Followed:
    """The command in a thread, writing into a file whose lines are handed out."""

    def __init__(self, config: Path, **given: str) -> None:
        self.out = config.parent / "feed.ndjson"
        usual: dict[str, Any] = {"press": None, "since": None, "after": None}
        self._stop = threading.Event()
        arguments = argparse.Namespace(config=config, out=self.out, **(usual | given))
        self._thread = threading.Thread(target=follow, args=(arguments, self._stop))
        self._thread.start()

    def lines(self, n: int) -> list[dict[str, Any]]:
        """Wait until there are `n` lines and return them all."""
        waited = threading.Event()
        for _ in range(int(DEADLINE_S / 0.02)):
            text = self.out.read_text(encoding="utf-8") if self.out.exists() else ""
            if text.count("\n") >= n:
                return [json.loads(line) for line in text.splitlines()]
            waited.wait(0.02)
        raise AssertionError(f"{n} lines did not come: {text}")

    def end(self) -> None:
        self._stop.set()
        self._thread.join(DEADLINE_S)


def test_lines_come_as_shots_do_and_go_on_where_a_reader_stopped(config: Path, log: Log) -> None:
    log.append(shots(1, 3))
    first = Followed(config, since="2026-01-05T06:02:00Z")
    assert [one["shot"] for one in first.lines(2)] == [2, 3]
    log.append([shot(4)])
    assert first.lines(3)[-1]["values"] == {"cushion": 4.97}
    first.end()
    lines = first.lines(3)
    for line in lines:
        check(line)
    log.append([shot(5)])
    again = Followed(config, after=lines[1]["id"])
    assert [one["shot"] for one in again.lines(5)] == [2, 3, 4, 4, 5]
    again.end()


def test_a_log_that_is_away_for_a_while_is_gone_on_with(
    config: Path, log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shotlog.cli.export_follow._AWAY_S", 0.02)
    log.append([shot(1)])
    log.close()
    followed = Followed(config, since="2026-01-05T06:00:00Z")
    followed.lines(1)
    (tmp_path / "trial.db").rename(tmp_path / "elsewhere.db")
    said = ""
    for _ in range(1000):
        said += capsys.readouterr().err
        if "it goes on once that can be read again" in said:
            break
        threading.Event().wait(0.02)
    (tmp_path / "elsewhere.db").rename(tmp_path / "trial.db")
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as opened:
        opened.append([shot(2)])
    assert [one["shot"] for one in followed.lines(2)] == [1, 2]
    followed.end()
    assert said.count("it goes on once") == 1


@pytest.mark.file
def test_a_reader_that_goes_away_ends_it_and_so_does_ctrl_c(config: Path, log: Log) -> None:
    log.append(shots(1, 3))
    command = own_python("-m", "shotlog", "export", str(config), "--follow", "--since", "2026-01-05T06:00:00Z")

    def started() -> "subprocess.Popen[bytes]":
        with heeding_interrupts():
            return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=own_environment())

    ends: list[Callable[[subprocess.Popen[bytes]], None]] = [lambda one: one.stdout and one.stdout.close()]  # type: ignore[list-item, func-returns-value]
    if os.name != "nt":
        import signal

        ends.append(lambda one: one.send_signal(signal.SIGINT))
    for end in ends:
        with started() as one:
            assert one.stdout is not None
            assert one.stderr is not None
            assert [json.loads(one.stdout.readline())["shot"] for _ in range(3)] == [1, 2, 3]
            end(one)
            if one.stdout.closed and os.name == "nt":
                log.append([shot(4)])  # there it is told by the next line
            assert one.wait(DEADLINE_S) == 0
            assert one.stderr.read() == b""


class Pipe(io.StringIO):
    """Refuses the next line, with the number that the system gives."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self._number = number

    def write(self, _text: str) -> int:
        raise OSError(self._number, os.strerror(self._number))


@pytest.mark.parametrize(
    ("number", "status"), [(errno.EPIPE, 0), (errno.EINVAL, 0), (errno.ENOSPC, 1)], ids=["here", "Windows", "full disk"]
)
def test_a_pipe_that_nobody_reads_is_no_failure_on_any_system(
    config: Path, log: Log, monkeypatch: pytest.MonkeyPatch, number: int, status: int
) -> None:
    log.append([shot(1)])
    monkeypatch.setattr(sys, "stdout", Pipe(number))
    assert main(["export", str(config), "--follow", "--since", "2026-01-05T06:00:00Z"]) == status


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([], "--out: given nothing, allowed: FILE.csv, FILE.parquet or a folder; or --follow"),
        (["--since", "2026-01-05", "--out", "a.csv"], "--since: given without --follow"),
        (["--follow", "--after", "7"], "id: given '7', allowed: one that was handed out"),
        (["--follow", "--after", "7.1.00000000"], "which is of another log, allowed: an id of this one"),
        (["--follow", "--after", "7.1.00000000", "--since", "2026-01-05"], "given both, allowed: one of them"),
        (["--follow", "--out", "trial.db.ndjson"], "which is the log or belongs to it"),
        (["--follow", "--out", "a.csv"], "allowed: a name that ends in .ndjson or .jsonl"),
    ],
)
def test_what_cannot_be_followed_is_refused(
    config: Path, log: Log, capsys: pytest.CaptureFixture[str], given: list[str], said: str,
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    assert main(["export", str(config), *given]) == 2
    assert said in capsys.readouterr().err


def test_a_line_that_was_cut_short_does_not_spoil_the_next(config: Path, log: Log, tmp_path: Path) -> None:
    (tmp_path / "feed.ndjson").write_text('{"type": "sh', encoding="utf-8")
    followed = Followed(config, since="2026-01-05T06:00:00Z")
    log.append([shot(1)])
    for _ in range(1000):
        text = followed.out.read_text(encoding="utf-8")
        if text.count("\n") == 2:
            break
        threading.Event().wait(0.02)
    assert json.loads(text.splitlines()[1])["shot"] == 1
    followed.end()
