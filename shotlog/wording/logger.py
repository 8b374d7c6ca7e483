"""Whether the logger is at work, in words."""

from collections.abc import Mapping
from datetime import datetime, timedelta

from shotlog.wording.numbers import some
from shotlog.wording.times import ago, clock_time, rough_ago

__all__ = ["failure_said", "getting_ready", "ready", "silent_there", "state_said", "unheard_said"]


def state_said(state: str, seen: datetime | None, since: datetime | None, now: datetime) -> str:
    """Return how it stands with the logger, in half a line."""
    if seen is None:
        return "never seen"
    if state == "ended":
        return f"ended at {clock_time(seen)}"
    if state == "stale":
        return f"STALE, no sign of life since {clock_time(seen)}"
    if since is None:
        return f"last seen {rough_ago(seen, now)}"
    but = ", but the log is not written" if state == "log not written" else ""
    return f"at work since {clock_time(since)}, last sign of life {rough_ago(seen, now)}{but}"


def failure_said(
    state: str, seen: datetime | None, silent: Mapping[str, float], where: str, waits: str, text_log: object
) -> str:
    """Return what is wrong with the logger at `where` and what to do; empty where nothing is.

    `seen`: when it gave its last sign of life, or since when the log is not written. `waits`: what is said of shots
    that wait in its journal, if any do; `text_log`: where it says what it does.
    """
    if state == "log not written":
        since = "" if seen is None else f" since {clock_time(seen)}"
        return f"log not written{since}: logging goes on ({where}); {waits or 'no shot has had to wait yet'}"
    again = "end it there if it hangs, and start shotlog run again"
    if state == "stale":
        return (
            f"STALE: no sign of life of the logger ({where}) since {clock_time(seen)}, and it did not say that it "
            f"ends; nothing is in the log since; {waits or 'no shots wait in its journal'}. The end of {text_log} says "
            f"whether it is at work and cannot reach the log; else {again}"
        )
    if state == "silent press":
        named = ", ".join(_not_read(press, seconds, seen) for press, seconds in sorted(silent.items()))
        return f"NOT READ: {named}, by a logger that is at work ({where}); nothing of it is logged; {again}"
    return ""


def unheard_said(since: datetime) -> str:
    """Say at a centre of an edge that is not heard that nobody knows of its logger here; `since`: heard last."""
    return f"not heard since {clock_time(since)}; whether it logs meanwhile is not known here"


def silent_there(seen: datetime | None, where: str) -> str:
    """Say at a centre of an edge that is heard what is known of its logger, which gives no sign of life."""
    since = "" if seen is None else f" since {clock_time(seen)}"
    return (
        f"STALE: the edge is heard, and of its logger ({where}) no sign of life came{since}; what waits in its journal "
        "is not known here: look at the edge"
    )


def _not_read(press: str, seconds: float, seen: datetime | None) -> str:
    since = "" if seen is None else f" since {clock_time(seen - timedelta(seconds=seconds))},"
    return f"{press}{since} for {ago(seconds)}"


def getting_ready(unjudged: int, or_more: bool = False) -> str:
    """Say that judging is not ready yet; empty where no shot waits for it. `or_more`: not all of them are counted.

    Examples
    --------
    >>> getting_ready(1), getting_ready(0)
    ('judging gets ready; 1 shot is logged and waits to be judged', '')
    """
    waits = f"{' or more' if or_more else ''} {'is logged and waits' if unjudged == 1 else 'are logged and wait'}"
    return f"judging gets ready; {some(unjudged, 'shot')}{waits} to be judged" if unjudged else ""


def ready(n: int) -> str:
    """Say that judging is ready and what waited for it is judged.

    Examples
    --------
    >>> ready(3)
    'judging is ready; the 3 shots that waited are judged now'
    """
    return f"judging is ready; the {some(n, 'shot')} that waited {'is' if n == 1 else 'are'} judged now"
