"""Serving from the command line: one address, one clear line, a clean end."""

import json
import os
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hand_filled import Trial

from dashboard.__main__ import main
from dashboard.server import serve
from shotlog.errors import UsageError
from tests.end_to_end.running import heeding_interrupts


@contextmanager
def serving(file: Path, *extra: str, by: tuple[str, ...] = ("dashboard",)) -> Iterator["subprocess.Popen[str]"]:
    command = [sys.executable, "-m", *by, str(file), *extra]
    with heeding_interrupts():
        started = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    with started as process:
        try:
            yield process
        finally:
            if process.poll() is None:
                process.kill()


@contextmanager
def taken_port() -> Iterator[int]:
    """Yield a port on which another program listens."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        yield taken.getsockname()[1]


def configured(trial: Trial, port: int | None) -> None:
    text = trial.file.read_text(encoding="utf-8")
    trial.file.write_text(f"{text}\n[dashboard]\nport = {port}\n", encoding="utf-8")


def test_it_says_where_it_serves_and_stops_when_asked(trial: Trial) -> None:
    """And a configured port that is free is taken without a word."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    configured(trial, port)
    with serving(trial.file, "--ready") as process:
        assert process.stdout is not None
        assert process.stderr is not None
        url = json.loads(process.stdout.readline())["url"]
        assert process.stderr.readline() == f"dashboard: {url}\n"
        where = urllib.parse.urlsplit(url)
        assert where.hostname == trial.settings.dashboard_host
        assert where.port == port
        with urllib.request.urlopen(url, timeout=60) as page:
            assert page.status == 200
        process.send_signal(signal.SIGTERM)
        assert process.wait(timeout=60) == 0
        assert process.stderr.read() == ""


@pytest.mark.skipif(os.name == "nt", reason="there a process cannot be asked to end, only ended")
def test_the_command_takes_the_server_with_it(trial: Trial) -> None:
    """And one whose port it has names it: the program on a port is named where it is another of ours."""
    with serving(trial.file, "--port", "0", by=("shotlog", "dashboard")) as process:
        assert process.stderr is not None
        url = process.stderr.readline().removeprefix("dashboard: ").strip()
        port = urllib.parse.urlsplit(url).port
        assert port not in (None, trial.settings.dashboard_port), "a free one was asked for"
        configured(trial, port)
        with serving(trial.file) as second:
            assert second.stderr is not None
            assert f"port {port} on 127.0.0.1 is taken by another shotlog;" in second.stderr.readline()
        process.send_signal(signal.SIGTERM)
        assert process.wait(timeout=60) == 0
    with pytest.raises(urllib.error.URLError, match="refused"):
        urllib.request.urlopen(url, timeout=60)


def test_where_the_configured_port_is_taken_the_pages_are_on_the_next_one_and_it_is_said(trial: Trial) -> None:
    """And Ctrl-C is a clean end, where it reaches one process alone: on Windows it reaches the whole group."""
    with taken_port() as port:
        configured(trial, port)
        with serving(trial.file, "--ready") as process:
            assert process.stdout is not None
            assert process.stderr is not None
            url = json.loads(process.stdout.readline())["url"]
            bound = urllib.parse.urlsplit(url).port
            assert bound is not None
            warned = process.stderr.readline()
            assert warned.startswith(f"WARNING: port {port} on 127.0.0.1 is taken by another program; the pages are on")
            assert f"on port {bound} instead" in warned
            assert port < bound <= port + 9
            with urllib.request.urlopen(url, timeout=60) as page:
                assert page.status == 200
            if os.name != "nt":
                process.send_signal(signal.SIGINT)
                assert process.wait(timeout=60) == 0


def test_a_port_that_was_asked_for_and_is_in_use_is_one_line_and_a_failure(
    trial: Trial, capsys: pytest.CaptureFixture[str]
) -> None:
    with taken_port() as port:
        assert main([str(trial.file), "--port", str(port), "--host", "127.0.0.1"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 1
    assert f"NO PAGES, cannot listen on 127.0.0.1 port {port}" in err


def test_a_wrong_configuration_is_one_line_and_bad_usage(tmp_path: Path) -> None:
    (tmp_path / "wrong.toml").write_text("[log]\nstore = 3\n", encoding="utf-8")
    with serving(tmp_path / "wrong.toml") as process:
        _, err = process.communicate(timeout=60)
    assert process.returncode == 2
    assert len(err.splitlines()) == 1
    assert "log.store" in err


@pytest.mark.parametrize("host", ["0.0.0.0", "press-pc"])
def test_pages_are_not_served_to_other_machines_while_nobody_has_an_account(trial: Trial, host: str) -> None:
    def ready(url: str) -> None:
        pytest.fail(f"served at {url}")

    with pytest.raises(UsageError, match=r"NO PAGES: they would be open to other machines.* shotlog account "):
        serve(trial.settings, host, 0, ready)
