"""What was entered elsewhere, by somebody who had a copy of the log: whether it may still let parts go.

The log decides, in the order in which entries reach it. What holds parts, scraps them or reports something always goes
in. What lets parts go, a release or the taking back of a hold, of a scrapping or of what was found wrong, goes in only
where nothing newer in the log speaks against it: nothing about those parts that its maker had not before them, but what
was said for them. What is newer is told by the log's order alone: two machines have two clocks.
"""

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["CALLED", "INSPECTED", "NOTED", "TAKEN_BACK", "Newer", "PartSpan", "newest_about"]

CALLED, INSPECTED, NOTED, TAKEN_BACK = "called", "inspected", "noted", "taken back"
"""What may have come into the log against parts, beside a decision, which goes by its own word: a call that names them,
a bad result, what somebody saw, and that something said for them was taken back.
"""


@dataclass(frozen=True, slots=True)
class PartSpan:
    """The parts of shots `first` to `last` of a press; `cavity` is None for all cavities."""

    press: str
    first: int
    last: int
    cavity: int | None = None

    def meets(self, other: "PartSpan") -> bool:
        """Say whether some part is in both."""
        return (
            self.press == other.press
            and self.first <= other.last
            and other.first <= self.last
            and (self.cavity is None or other.cavity is None or self.cavity == other.cavity)
        )


@dataclass(frozen=True, slots=True)
class Newer:
    """Something that came into the log against some parts: `what` (a decision's word, or one of the four above).

    `place`: in the order of the log. `entry`, `initials`: which one it is (``dispositions:12``) and who made it; empty
    of a verdict. `said_at`: the shot whose part it was said of, where that is none of `parts`: it is against them too.
    """

    place: int
    what: str
    parts: PartSpan
    entry: str = ""
    initials: str = ""
    said_at: int | None = None


def newest_about(let_go: Iterable[PartSpan], newer: Iterable[Newer]) -> Newer | None:
    """Return what came in last against parts that are to be let go, None where nothing did: then they may go.

    Parameters
    ----------
    let_go
        The parts that an entry would let go; none of one that holds or reports.
    newer
        What the log has against parts that the maker of the entry did not have before them.

    Examples
    --------
    >>> held = Newer(8, "held", PartSpan("P25", 93, 95), "dispositions:12", "KB")
    >>> newest_about([PartSpan("P25", 90, 100)], [held]) is held
    True
    >>> newest_about([PartSpan("P25", 90, 92)], [held]), newest_about([], [held])
    (None, None)
    """
    spans = list(let_go)
    against = [one for one in newer if any(span.meets(one.parts) for span in spans)]
    return max(against, key=lambda one: one.place, default=None)
