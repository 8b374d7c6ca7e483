"""A shot that lies far out alone makes one part that is not like the others: it is held, whatever the shot was.

The call holds a shot back as odd when a channel lies 4.5 spreads from what the shots before it lead one to expect, and
takes it in after all where the next shot lies the same way. That bar is set to keep odd values out of a level: of 840
sound lives on simulated presses that behave unlike the model (74,178 shots), 22 in 100 pass it, and their parts would
be held for nothing. A part is held from FAR spreads on, which 7 in 100 of those lives reach (one shot in 1,100).
"""

from dataclasses import dataclass
from datetime import datetime

__all__ = ["FAR", "FarOut"]

FAR = 6.0
"""Spreads."""


@dataclass(frozen=True, slots=True)
class FarOut:
    """A shot held back as odd: `by` spreads, with their sign, from what was expected of `channel`, on `insert`.

    None of either in a log of before they were kept. `place`: in the order of the log; `said`: by the clock.
    """

    shot: int
    insert: str
    channel: str | None
    by: float | None
    place: int
    said: datetime

    @property
    def holds(self) -> bool:
        """Whether its part is held: not where an earlier release never kept how far out it was, and held nothing."""
        return self.by is not None and abs(self.by) >= FAR
