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

    def waiting(self, edge: str) -> "Stored":
        """Return what it is where it waits for an edge: it has no number there yet. Itself, where `edge` is empty."""
        return Stored(f"{self.words}; waits for {edge}", more=self.more) if edge else self
