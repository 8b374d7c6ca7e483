"""Words for what people enter at a press, and for the place in the mould it is about."""

from shotlog.entries import KINDS

__all__ = ["entry_text", "half_named"]


def entry_text(kind: str, text: str) -> str:
    """Return an entry in the words of the screens.

    Examples
    --------
    >>> entry_text("setup", "hold 240 bar"), entry_text("finding", "flash"), entry_text("pause", "pause")
    ('set-up: hold 240 bar', 'seen: flash', 'pause')
    """
    word = KINDS[kind].told or KINDS[kind].word
    return word if text == kind else f"{word}: {text}"


def half_named(half: str) -> str:
    """Return a place in the mould in words; the core stands in neither half."""
    return half if half == "core" else f"{half} half"
