"""The serials that the shots of a single-use half take by themselves, and which one does not look like one of many."""

import re

from shotlog.store.log.timeline import piece

__all__ = ["is_doubtful", "next_pieces"]

_WORD = re.compile(r"[^\W\d_]{3,}[0-9]+$")
"""A word right before the number: `B-lot1`, `plate3`. Pieces are numbered behind a mark or a letter or two."""


def is_doubtful(serial: str) -> bool:
    """Whether a serial looks like the name of a lot or a plate rather than of the first piece of a series.

    Examples
    --------
    >>> is_doubtful("B-lot1"), is_doubtful("S-001"), is_doubtful("SN12")
    (True, False, False)
    """
    return _WORD.search(serial) is not None


def next_pieces(serial: str, n: int = 3) -> list[str]:
    """Return a serial and those that the shots after it take.

    Examples
    --------
    >>> next_pieces("S-009")
    ['S-009', 'S-010', 'S-011']
    """
    return [piece(serial, k) for k in range(n)]
