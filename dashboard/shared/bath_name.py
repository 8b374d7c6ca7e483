"""How a bath is called on the screens, and how it was found."""

import re

from shotlog.store.parts.baths import BathCheck
from shotlog.wording.parts import wrong_text

__all__ = ["bath_named", "checked_words"]

_SAYS_SO = re.compile(r"bath\b", re.IGNORECASE)


def bath_named(name: str) -> str:
    """Return a bath as people say it; a name that begins with the word is not given it twice.

    Examples
    --------
    >>> bath_named("B1"), bath_named(" bath 1 "), bath_named("Bathroom sink")
    ('bath B1', 'bath 1', 'bath Bathroom sink')
    """
    given = name.strip()
    return given if _SAYS_SO.match(given) else f"bath {given}"


def checked_words(check: BathCheck) -> str:
    """Return what a check of a bath found."""
    return f"OUT OF RANGE: {wrong_text(check.wrong)}" if check.wrong else "within its ranges"
