"""The latest of something that takes long to work out: what is known is shown at once, what is new follows."""

import secrets
import threading
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from time import monotonic
from typing import Generic, TypeVar

from shotlog.errors import StoreError

__all__ = ["Latest", "Result"]

T = TypeVar("T")

_AGAIN_S = 5.0
"""So long after it was refused it is not tried again."""


@dataclass(frozen=True, slots=True)
class Result(Generic[T]):
    """What was found for a `mark`, or in `refused` why not.

    `name`: no other result has it, also none of who works it out after this one: a page that shows one of that name has
    nothing to be sent.
    """

    mark: Hashable
    found: T | None
    refused: str
    name: str


class Latest(Generic[T]):
    """Works something out anew when its mark has moved, one at a time, and rests as long as that took.

    So the work takes half the time at most, however fast the log grows. What was refused is tried again, though nothing
    moved: a server that was away comes back without a row more.
    """

    def __init__(self, work: Callable[[], T]) -> None:
        self._work = work
        self._lock = threading.Lock()
        self._done: Result[T] | None = None
        self._thread: threading.Thread | None = None
        self._rest_until = 0.0

    def ask(self, mark: Hashable, wait_s: float = 0.0, *, now: bool = False) -> Result[T] | None:
        """Return the newest result, None while there is none; waits `wait_s` at most for that of `mark`.

        With `now`, there is no rest before it.
        """
        with self._lock:
            moved = self._done is None or self._done.mark != mark
            rested = monotonic() >= self._rest_until
            refused = self._done is not None and self._done.found is None
            if self._thread is None and ((moved and (now or rested)) or (refused and rested)):
                self._thread = threading.Thread(target=self._run, args=(mark,), name="latest", daemon=True)
                self._thread.start()
            thread = self._thread
        if (moved or refused) and thread is not None and wait_s > 0.0:
            thread.join(wait_s)
        with self._lock:
            return self._done

    def _run(self, mark: Hashable) -> None:
        began, found, refused = monotonic(), None, "it ended by a fault of its own, told on the terminal of the pages"
        try:
            found, refused = self._work(), ""
        except StoreError as error:
            refused = str(error)
        finally:
            with self._lock:
                self._done = Result(mark, found, refused, secrets.token_hex(8))
                self._thread = None
                rest = 2.0 * monotonic() - began
                self._rest_until = rest if found is not None else max(rest, monotonic() + _AGAIN_S)
