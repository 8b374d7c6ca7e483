"""Parts of the call that can be left out, one at a time, to see what each is worth: `--without NAME`.

A part is a function that returns what is patched while a history is played. A part of which no figure gets worse
without it is not worth its lines.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, ExitStack, contextmanager
from unittest.mock import patch

import numpy as np

from shotlog.wear.change.detector import Filter

__all__ = ["PARTS", "without"]


def _labels() -> AbstractContextManager[object]:
    """Nothing is learnt of causes from what people and swaps say."""
    return patch("shotlog.wear.life.half.taught", lambda table, *_: table)


def _tails() -> AbstractContextManager[object]:
    """All noise is taken for normal."""
    return patch("shotlog.wear.level.sisters.heaviness", lambda _: 0.0)


def _carried_over() -> AbstractContextManager[object]:
    """A far value that lasts by itself confirms itself."""
    return patch.object(Filter, "carried_over", lambda _, u: np.zeros(len(u)))


def _by_a_third() -> AbstractContextManager[object]:
    """A far shot is confirmed by a much smaller one."""
    return patch("shotlog.wear.life.stretch.SAME_SHARE", 0.0)


def _tempering() -> AbstractContextManager[object]:
    """The table of causes is taken to hold whatever may come."""
    return patch("shotlog.wear.change.tempering.SOMETHING_ELSE", 0.0)


def _cleared() -> AbstractContextManager[object]:
    """Calls that people found to be none leave the bars as they are."""
    return patch("shotlog.wear.monitor.raised", lambda *_: 0.0)


PARTS: Mapping[str, Callable[[], AbstractContextManager[object]]] = {
    "labels": _labels,
    "tails": _tails,
    "carried-over": _carried_over,
    "by-a-third": _by_a_third,
    "tempering": _tempering,
    "cleared": _cleared,
}
"""By name, what leaves a part of the call out."""


@contextmanager
def without(names: Sequence[str]) -> Iterator[None]:
    """Leave out the parts named."""
    with ExitStack() as stack:
        for name in names:
            stack.enter_context(PARTS[name]())
        yield
