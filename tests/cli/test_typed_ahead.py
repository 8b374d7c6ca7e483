"""What was typed before a question is no answer to it."""

import os
import sys

import pytest

from shotlog.cli.typed_ahead import forget_typed_ahead


@pytest.mark.skipif(sys.platform == "win32", reason="a terminal of its own is made as POSIX has it")
def test_lines_typed_ahead_are_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    import pty

    keyboard, terminal = pty.openpty()
    with os.fdopen(keyboard, "wb", 0) as typed, os.fdopen(terminal, "r") as stdin:
        monkeypatch.setattr("sys.stdin", stdin)
        typed.write(b"\n\n\n")
        forget_typed_ahead()
        typed.write(b"yes\n")
        assert stdin.readline() == "yes\n"
