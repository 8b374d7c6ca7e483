"""Whether a press is logged, in a sentence beside what a machine reads of it."""

from datetime import datetime

from shotlog.wording.times import clock_time

__all__ = ["online_said"]


def online_said(state: str, since: datetime | None, press: str | None = None) -> str:
    """Return what a state of the logger means for a press, or for all of them, and what to do.

    Examples
    --------
    >>> online_said("ended", None)
    'the logger was ended as asked; nothing is logged until shotlog run is started again'
    """
    at = "" if since is None else f" since {clock_time(since)}"
    what = "the presses" if press is None else press
    again = "look whether it comes back by itself, else start shotlog run again"
    return {
        "at work": f"{what} {'are' if press is None else 'is'} logged{at}",
        "starting": "the logger has just been started, and gave no sign of life yet",
        "ended": "the logger was ended as asked; nothing is logged until shotlog run is started again",
        "dead": f"the logger is dead{at}: nothing is logged; {again}",
        "stale": f"the logger hangs: no sign of life of it{at}, nothing is logged; end it and start shotlog run again",
        "silent press": f"{what} is not read{at}: its thread in the logger hangs; end shotlog run and start it again",
        "unknown": f"how it stands with the logger cannot be told{at}: the log cannot be read",
        "gone": "the connection to the logger was lost: it, its computer or the network is off",
    }[state]
