"""Words for what people are told of, and that somebody has seen it."""

__all__ = ["ABOUT_WORDS", "seen_in_short", "seen_said", "short_of"]

ABOUT_WORDS = {
    "watch": "verdict: watch",
    "swap": "verdict: swap",
    "hold": "parts newly held",
    "limit": "an action limit passed",
    "lost": "a connection lost",
    "back": "a connection back",
    "logger": "the logger dead, or at work again",
    "log": "the log that cannot be written",
    "disk": "a disk that is low",
    "bath": "parts overdue in a bath",
    "backup": "a backup overdue",
}
"""What people can be told of, by the word in the configuration."""


def seen_said(who: str, at: str) -> str:
    """Say who has taken note of a state, and when.

    >>> seen_said("KB", "14:32")
    'seen by KB at 14:32; no more messages of it'
    """
    return f"seen{f' by {who}' if who else ''} at {at}; no more messages of it"


def seen_in_short(about: str, told: str, press: str) -> str:
    """Return what somebody has seen, as an entry is listed; `told`: the message, empty where none is kept.

    >>> seen_in_short("hold", "P25: parts of 3 shots held, shots 20 to 22. Since 14:30.", "P25")
    'seen, of what is told: parts of 3 shots held, shots 20 to 22'
    >>> seen_in_short("swap", "", "P25")
    'seen, of what is told: verdict: swap'
    """
    what = short_of(told).removeprefix(f"{press}: ") if told else ABOUT_WORDS.get(about, about)
    return f"seen, of what is told: {what}"


def short_of(said: str) -> str:
    """Return the subject of a message: its first sentence.

    >>> short_of("P25: connection lost. Since 14:30.")
    'P25: connection lost'
    """
    return said.partition(". ")[0].removesuffix(".")
