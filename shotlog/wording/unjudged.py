"""That shots of a press wait for their verdict, in words."""

from shotlog.records import COUNTED
from shotlog.wording.numbers import some

__all__ = ["TO_DO", "count_said", "unjudged_said"]

TO_DO = (
    "Judge by the parts meanwhile. Look at what shotlog run says of judging; where it says nothing of it, end it and "
    "start it again: no shot is lost by that."
)
"""What to look at where shots wait long to be judged."""


def count_said(n: int) -> str:
    """Return how many shots wait; of as many as are counted, that there may be more.

    Examples
    --------
    >>> count_said(1), count_said(14), count_said(1000)
    ('1 shot', '14 shots', '1000 shots or more')
    """
    return f"{some(n, 'shot')}{' or more' if n >= COUNTED else ''}"


def unjudged_said(n: int, first: int, since: str) -> str:
    """Return which shots wait, and since when.

    Examples
    --------
    >>> unjudged_said(14, 31, "14:02")
    '14 shots wait for a verdict since 14:02, from shot 31 on'
    """
    waits = "waits" if n == 1 else "wait"
    return f"{count_said(n)} {waits} for a verdict since {since}, from shot {first} on"
