"""A terminal that was stopped, and a folder full of files that are called like what Python would load."""

import fcntl
import os
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from shotlog.own_python import own_environment, own_python
from shotlog.store.log.log import open_log
from tests.end_to_end.running import DEADLINE_S, ServedPress, write_config

STDLIB = ("statistics", "random", "csv", "json", "pickle", "logging", "argparse", "socket")
OURS_AND_OTHERS = ("dashboard", "simulators", "sqlalchemy", "waitress", "numba", "dash")


@contextmanager
def unread() -> Iterator[int]:
    """A pipe that is full and that nobody reads; yields the end to write to."""
    out, into = os.pipe()
    os.set_blocking(into, False)
    try:
        while True:
            os.write(into, b"x" * 4096)
    except BlockingIOError:
        os.set_blocking(into, True)
    try:
        yield into
    finally:
        os.close(out)
        os.close(into)


def wait_until(found: object, process: "subprocess.Popen[bytes]") -> None:
    """Wait until `found` is true, a function of no arguments: there is no screen here to wait for."""
    until = time.monotonic() + DEADLINE_S
    assert callable(found)
    while not found():
        assert process.poll() is None, "it ended"
        assert time.monotonic() < until, "not in time"
        time.sleep(0.02)


@pytest.fixture
def trap(tmp_path: Path) -> Path:
    """A folder in which whatever is taken for a module says that it was executed."""
    for name in (*STDLIB, *OURS_AND_OTHERS):
        (tmp_path / f"{name}.py").write_text(
            f"import pathlib\npathlib.Path({str(tmp_path / 'EXECUTED')!r}).open('a').write({name!r} + ' ')\n"
        )
    return tmp_path


@pytest.mark.skipif(os.name == "nt", reason="pipes there have other sizes, and no signals")
def test_a_stopped_terminal_stops_neither_the_logging_nor_the_pages_nor_the_end(trap: Path, tmp_path: Path) -> None:
    """Started in such a folder, by ``python -m``, which puts it first."""
    text = tmp_path / "trial.db.press.log"

    def says(what: str) -> bool:
        return text.exists() and what in text.read_text(encoding="utf-8")

    with ServedPress() as press, unread() as screen:
        config = write_config(tmp_path, press.config("P25"))
        config.write_text(f"[dashboard]\nport = 0\n{config.read_text(encoding='utf-8')}", encoding="utf-8")
        command = [sys.executable, "-m", "shotlog", "run", str(config)]
        with subprocess.Popen(command, stderr=screen, cwd=trap) as process:
            try:
                wait_until(lambda: says("P25: connected"), process)
                for n in range(1, 11):
                    press.offer(n)
                    wait_until(lambda n=n: says(f"P25: shot {n} "), process)  # type: ignore[misc]
                wait_until(lambda: says("dashboard: http"), process)
                said = text.read_text(encoding="utf-8")
                url = said.partition("dashboard: ")[2].split()[0]
                with urllib.request.urlopen(url, timeout=DEADLINE_S) as page:
                    assert page.status == 200
                process.send_signal(signal.SIGTERM)
                assert process.wait(DEADLINE_S) == 0
            finally:
                process.kill()
        assert fcntl.fcntl(screen, fcntl.F_GETFL) & os.O_NONBLOCK == 0, "it is the reader that was stopped, no setting"
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}") as log:
        assert [shot.shot for shot in log.logged("P25")] == list(range(1, 11))
    assert not (trap / "EXECUTED").exists(), (trap / "EXECUTED").read_text()
    assert says("shotlog run: ended; 10 shots stored")


def test_a_python_we_start_executes_nothing_of_the_folder(trap: Path) -> None:
    """As `review`, the pages' own work and the demo's presses are started."""
    script = "import " + ", ".join((*STDLIB, *OURS_AND_OTHERS))
    subprocess.run(own_python("-c", script), cwd=trap, env=own_environment(), check=True, timeout=DEADLINE_S)
    assert not (trap / "EXECUTED").exists(), (trap / "EXECUTED").read_text()


def test_every_python_we_start_leaves_the_folder_off() -> None:
    """By reading: all go through the one place that says how."""
    root = Path(__file__).parents[2]
    asking = [
        file.relative_to(root).as_posix()
        for room in ("shotlog", "dashboard", "simulators")
        for file in sorted((root / room).rglob("*.py"))
        if any(word in file.read_text(encoding="utf-8") for word in ("sys.executable", "multiprocessing", "os.exec"))
    ]
    assert asking == ["shotlog/own_python.py"]
