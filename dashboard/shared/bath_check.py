"""How a bath was found, on the screens."""

from shotlog.store.parts.baths import BathCheck
from shotlog.wording.parts import wrong_text

__all__ = ["checked_words"]


def checked_words(check: BathCheck) -> str:
    """Return what a check of a bath found."""
    return f"OUT OF RANGE: {wrong_text(check.wrong)}" if check.wrong else "within its ranges"
