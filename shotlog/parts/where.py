"""Where a part is: in a bath, or where somebody said that it was put; the newest of the two in the log."""

from dataclasses import dataclass
from datetime import datetime

__all__ = ["Whereabouts"]


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """Where a part was last known to be.

    `how`: ``in bath``, ``out of bath`` or ``placed``; `name` that of the bath, or of the place (a bag, a box, a shelf).
    `since`: when it went in, came out, or was put there. `due`: when something is to be done with it, None where
    nothing is due. `cleared`: nothing of a single-use half was left on it when it came out.
    """

    how: str
    name: str
    since: datetime
    due: datetime | None
    cleared: bool = True

    def overdue_h(self, now: datetime) -> float:
        """Return by how many hours it is overdue at `now`; 0 where it is not, or nothing is due."""
        return 0.0 if self.due is None else max(0.0, (now - self.due).total_seconds() / 3600.0)
