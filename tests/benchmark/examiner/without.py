"""Parts of the call that can be left out, one at a time, to see what each is worth: `--without NAME`.

A part is a function that returns what is patched while a history is played. A part of which no figure gets worse
without it is not worth its lines.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, ExitStack, contextmanager

__all__ = ["PARTS", "without"]

PARTS: Mapping[str, Callable[[], AbstractContextManager[object]]] = {}
"""By name, what leaves a part of the call out."""


@contextmanager
def without(names: Sequence[str]) -> Iterator[None]:
    """Leave out the parts named."""
    with ExitStack() as stack:
        for name in names:
            stack.enter_context(PARTS[name]())
        yield
