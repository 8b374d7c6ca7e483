"""That shots of a press wait for their verdict, in words."""

from shotlog.records import COUNTED
from shotlog.wording.numbers import some

__all__ = ["NO_HASTE", "count_said", "to_look_at", "unjudged_said"]

NO_HASTE = "The first start on a computer takes longest. No shot is lost: what waits is judged once it is ready."
"""What is said beside it while judging gets ready."""

_LOOK = "Judge by the parts meanwhile. Look at what shotlog run says of judging"
_AGAIN = "; where it says nothing of it, end it and start it again: no shot is lost by that"


def to_look_at(is_ready: bool) -> str:
    """Return what to look at where shots wait long to be judged; what still gets ready would only begin anew."""
    return f"{_LOOK}{_AGAIN if is_ready else ''}."


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
    '14 shots have waited for a verdict since 14:02, from shot 31 on'
    """
    waited = "has waited" if n == 1 else "have waited"
    return f"{count_said(n)} {waited} for a verdict since {since}, from shot {first} on"
