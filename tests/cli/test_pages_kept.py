"""The pages' process is started again when it ends by itself, and never outlives whoever started it."""

import os
import queue
import signal
import subprocess
import sys
import threading
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from shotlog import restarts
from shotlog.cli.beside import Beside
from shotlog.own_python import own_python
from shotlog.restarts import Restarts
from tests.end_to_end.running import DEADLINE_S

SERVES = "import sys; print('up', file=sys.stderr, flush=True); sys.stdin.read()"
DEAF = "import signal, sys; signal.signal(signal.SIGTERM, signal.SIG_IGN); print('up', file=sys.stderr, flush=True)\n"
DEAF += "import threading; threading.Event().wait()"


class Begun:
    """Starts processes, and hands each one out."""

    def __init__(self, script: str) -> None:
        self._script = script
        self.processes: queue.Queue[subprocess.Popen[bytes]] = queue.Queue()

    def __call__(self) -> "subprocess.Popen[bytes]":
        command = own_python("-c", self._script)
        process = subprocess.Popen(command, stdin=subprocess.PIPE, stderr=subprocess.PIPE)
        self.processes.put(process)
        return process

    def next(self) -> "subprocess.Popen[bytes]":
        return self.processes.get(timeout=DEADLINE_S)


@pytest.mark.skipif(os.name == "nt", reason="there is no signal to kill by")
def test_killed_pages_are_started_again_and_it_is_said(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(restarts, "_FIRST_S", 0.01)
    begun, stop = Begun(SERVES), threading.Event()
    kept = Beside("the pages", begun, stop)
    kept.start()
    begun.next().kill()
    second = begun.next()
    assert [record.getMessage() for record in caplog.records] == [
        "the pages are gone (killed by SIGKILL); logging goes on, and they are started again in 0 s"
    ]
    stop.set()
    kept.end()
    assert second.poll() is not None, "what was started is stopped"
    assert begun.processes.empty()
    assert len(caplog.records) == 1, "an end that was asked for is not worth a word"


def test_pages_that_cannot_be_started_are_said_and_tried_on(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(restarts, "_FIRST_S", 0.01)
    tries: queue.Queue[None] = queue.Queue()

    def begin() -> "subprocess.Popen[bytes]":
        tries.put(None)
        raise OSError(12, "Cannot allocate memory")

    kept = Beside("the pages", begin, threading.Event())
    kept.start()
    for _ in range(3):
        tries.get(timeout=DEADLINE_S)
    kept.end()
    assert "the pages are gone (not started: Cannot allocate memory)" in caplog.text


def test_pages_that_may_not_be_are_said_once_and_come_by_themselves_once_they_may(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """The logging beside must go on, and nobody should have to stop it because there was no account."""
    monkeypatch.setattr("shotlog.cli.beside._LOOK_AGAIN_S", 0.01)
    answers = iter(["NO PAGES: nobody has an account"] * 4)
    begun, stop = Begun(SERVES), threading.Event()
    kept = Beside("the pages", begun, stop, lambda: next(answers, ""))
    kept.start()
    begun.next()
    kept.end()
    assert next(answers, "none left") == "none left"
    assert [record.getMessage() for record in caplog.records] == [
        "NO PAGES: nobody has an account. Logging goes on; the pages come by themselves once that is done"
    ]


@pytest.mark.skipif(os.name == "nt", reason="there a process cannot be asked to end, only ended")
def test_pages_that_do_not_end_when_asked_are_ended(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("shotlog.cli.beside.LET_GO_S", 0.1)
    up = threading.Event()
    monkeypatch.setattr("builtins.print", lambda *_, **__: up.set())  # its first word: it ignores signals by now
    begun = Begun(DEAF)
    kept = Beside("the pages", begun, threading.Event())
    kept.start()
    process = begun.next()
    assert up.wait(DEADLINE_S)
    kept.end()
    assert process.returncode == -signal.SIGKILL


def test_what_does_not_hold_is_tried_slowly_and_what_held_long_soon_again() -> None:
    ends = Restarts()
    assert [ends.ended(now) for now in (0.0, 10.0, 20.0, 30.0, 40.0)] == [1.0, 2.0, 4.0, 8.0, 16.0]
    assert ends.ended(50.0) == 300.0
    assert ends.ended(350.0) == 300.0
    assert ends.ended(5000.0) == 1.0


@pytest.mark.skipif(os.name == "nt", reason="there is no signal to kill by")
def test_pages_end_with_the_process_that_started_them_however_it_ends(tmp_path: Path) -> None:
    """Killed, so that nothing of its own could end them: they held the port."""
    config = tmp_path / "c.toml"
    config.write_text(
        '[log]\nstore = "sqlite:///c.db"\n[[press]]\nname = "P"\n[press.collector]\nkind = "recording"\n',
        encoding="utf-8",
    )
    command = [sys.executable, "-m", "shotlog", "dashboard", str(config), "--port", "0"]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as process:
        assert process.stderr is not None
        url = process.stderr.readline().removeprefix("dashboard: ").strip()
        with urllib.request.urlopen(url, timeout=DEADLINE_S) as page:
            assert page.status == 200
        process.kill()
        assert process.stderr.read() == "", "nobody holds this pipe any more: the pages are gone"
    with pytest.raises(urllib.error.URLError, match="refused"):
        urllib.request.urlopen(url, timeout=DEADLINE_S)
