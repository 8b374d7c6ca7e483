"""What is said to somebody who was logged out: why, and what to do."""

__all__ = ["LOGGED_OUT", "logged_out"]

LOGGED_OUT = {
    "idle": "nobody touched the page for {idle_min:g} min. Log in to go on where you were.",
    "over": "a log-in lasts {hours:g} h at most. Log in to go on where you were.",
    "password": "the password of your account was changed. Log in with the new one; if you do not know it, ask whoever "
    "looks after the accounts.",
    "closed": "your account was closed. Ask whoever looks after the accounts.",
    "many": "your account was logged in at too many places, and this log-in was the oldest. Log in to go on.",
    "left": "Log out was touched in this browser. Log in to go on where you were.",
    "restarted": "the pages were started anew. Log in to go on where you were.",
}
"""By what ended a log-in (`dashboard.access.sessions`)."""


def logged_out(why: str, idle_min: float, hours: float) -> str:
    """Return why somebody was logged out, and what to do; `idle_min` and `hours`: how long a log-in lasts.

    Examples
    --------
    >>> logged_out("over", 120.0, 12.0)
    'You were logged out: a log-in lasts 12 h at most. Log in to go on where you were.'
    """
    return f"You were logged out: {LOGGED_OUT[why].format(idle_min=idle_min, hours=hours)}"
