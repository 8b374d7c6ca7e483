"""The first time on a machine the inner loops are compiled in a process of its own, and then no more."""

import os
import subprocess
from pathlib import Path

import pytest

from shotlog.own_python import own_python
from shotlog.recorder import compiling


def test_it_is_done_apart_the_first_time_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(compiling, "compiled_folder", lambda: tmp_path)
    monkeypatch.setenv("NUMBA_DISABLE_JIT", "1")  # there, so that it does not take long
    started, rehearsed = [], []
    real = subprocess.Popen

    def start(*given: object, **how: object) -> object:
        started.append(given)
        return real(*given, **how)  # type: ignore[call-overload]

    monkeypatch.setattr(subprocess, "Popen", start)
    monkeypatch.setattr(compiling, "rehearse", lambda: rehearsed.append(None))
    for n in (1, 2):
        compiling.compile_apart_then_rehearse()
        assert len(started) == 1
        assert len(rehearsed) == n, "what was compiled has to be fetched in this process"
    assert [file.suffix for file in tmp_path.iterdir()] == [".compiled"]


def test_where_no_process_can_be_had_it_is_done_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(12, "Cannot allocate memory")

    rehearsed: list[None] = []
    monkeypatch.setattr(compiling, "compiled_folder", lambda: tmp_path)
    monkeypatch.setattr(subprocess, "Popen", refuse)
    monkeypatch.setattr(compiling, "rehearse", lambda: rehearsed.append(None))
    compiling.compile_apart_then_rehearse()
    assert len(rehearsed) == 1
    assert not list(tmp_path.iterdir()), "it is tried again at the next start"


@pytest.mark.skipif(os.name == "nt", reason="the exit status is told otherwise there")
def test_it_ends_when_whoever_started_it_does() -> None:
    script = (
        "import shotlog.recorder.compiling as c, threading; c.rehearse = lambda: threading.Event().wait(); c.main()"
    )
    process = subprocess.Popen(own_python("-c", script), stdin=subprocess.PIPE)
    process.communicate(timeout=60)  # closes its input
    assert process.returncode == 1
