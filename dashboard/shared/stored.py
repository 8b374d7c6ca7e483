"""What an entry made at a screen became."""

from dataclasses import dataclass

__all__ = ["Stored"]


@dataclass(frozen=True, slots=True)
class Stored:
    """The words to confirm an entry with, and its table and numbers (``soaks:4,5``) where it can be taken back.

    `taken_back`: that is what became of it, and it can be entered again. `more`: what follows from it. `finding`:
    number of the finding that it is, which a picture may go with.
    """

    words: str
    entry: str = ""
    taken_back: bool = False
    more: str = ""
    finding: int | None = None
