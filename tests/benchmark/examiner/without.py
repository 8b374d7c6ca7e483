"""Parts of the call that can be left out, one at a time, to see what each is worth: `--without NAME`.

A part is a function that returns what is patched while a history is played. A part of which no figure gets worse
without it is not worth its lines.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, ExitStack, contextmanager
from unittest.mock import patch

__all__ = ["PARTS", "without"]


def _labels() -> AbstractContextManager[object]:
    """Nothing is learnt of causes from what people and swaps say."""
    return patch("shotlog.wear.life.half.taught", lambda table, *_: table)


PARTS: Mapping[str, Callable[[], AbstractContextManager[object]]] = {
    "labels": _labels,
}
"""By name, what leaves a part of the call out."""


@contextmanager
def without(names: Sequence[str]) -> Iterator[None]:
    """Leave out the parts named."""
    with ExitStack() as stack:
        for name in names:
            stack.enter_context(PARTS[name]())
        yield
