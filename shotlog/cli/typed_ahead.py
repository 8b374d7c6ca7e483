"""What was typed before a question was asked: no answer to it. Each system has its own way to forget that."""

import sys
from contextlib import suppress

__all__ = ["forget_typed_ahead"]


def forget_typed_ahead() -> None:
    """Forget what was typed at the terminal and is not read yet; standard input is a terminal."""
    if sys.platform == "win32":
        import msvcrt

        while msvcrt.kbhit():
            msvcrt.getwch()
    else:
        import termios

        with suppress(termios.error):  # the terminal is gone: the question will say so
            termios.tcflush(sys.stdin, termios.TCIFLUSH)
