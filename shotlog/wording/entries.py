"""Words for what people enter at a press, and for the place in the mould it is about."""

from shotlog.entries import KINDS

__all__ = ["at_the_shot", "display_said", "entry_text", "half_named", "since_shot"]


def display_said(display: int, shot: int) -> str:
    """Return in words that a number was taken for the one that the press showed, and which shot that is.

    Examples
    --------
    >>> display_said(3, 65539)
    'the press shows 3: shot 65539'
    """
    return f"the press shows {display}: shot {shot}"


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


def since_shot(at_shot: int) -> str:
    """Return from which shot an entry holds; 0 is that of one made before the press had any shot.

    Examples
    --------
    >>> since_shot(93), since_shot(0)
    ('from shot 93', 'from the first shot that comes')
    """
    return f"from shot {at_shot}" if at_shot else "from the first shot that comes"


def at_the_shot(at_shot: int) -> str:
    """Return at which shot something was noted; 0 as in `since_shot`."""
    return f"at shot {at_shot}" if at_shot else "at the first shot that comes"
