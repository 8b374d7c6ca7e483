"""How far long work is, told on stderr: nothing of what is soon done, a line every few seconds of the rest."""

import sys
from time import monotonic

__all__ = ["Progress"]

_FIRST_S, _EVERY_S = 5.0, 5.0


class Progress:
    """Tells how far a command is, at most every few seconds."""

    def __init__(self) -> None:
        self._next = monotonic() + _FIRST_S

    def __call__(self, text: str) -> None:
        """Say how far it is, unless something was said just before."""
        now = monotonic()
        if now >= self._next:
            print(text, file=sys.stderr, flush=True)
            self._next = now + _EVERY_S
