"""Finding the last shot of the log in the reports that lie in the folder of a press over EUROMAP 63."""

from collections.abc import Callable, Iterable

from shotlog.collectors.euromap_follow import Follower
from shotlog.collectors.euromap_session import Pause
from shotlog.collectors.euromap_taker import ReportTaker

__all__ = ["BACK", "LOOKS", "look_back"]

BACK = 6
"""Reports that are looked through for the last shot of the log."""
LOOKS = 3
"""How often it is looked for (own): a press that writes its report whole at each shot may be at it."""
_BETWEEN_S = 0.5


def look_back(
    taker: ReportTaker, newest_first: Callable[[], Iterable[Follower]], n_looks: int, pause: Pause
) -> tuple[list[Follower], bool]:
    """Return the reports as far back as the last shot of the log, oldest first, and whether it was found.

    Of the one that has it what came later is held, to be read; of the others all.
    """
    scanned: list[Follower] = []
    for n in range(n_looks):
        if n:
            pause(_BETWEEN_S)
        scanned = []
        for report in newest_first():
            lines = report.backlog()
            at = taker.after(lines)
            report.hold(lines if at is None else lines[at:])
            scanned.insert(0, report)
            if at is not None:
                return scanned, True
    return scanned, False
