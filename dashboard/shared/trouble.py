"""What keeps the data of a press from being current: a silent logger, a lost link, clocks that disagree."""

from dataclasses import dataclass
from datetime import datetime

from dashboard.shared.heard import Unheard
from dashboard.shared.views import PressView
from shotlog.answers.needs import is_ahead, is_quiet
from shotlog.store.asked.kept import KeptNow
from shotlog.wording.not_current import kept_out
from shotlog.wording.times import ago, at_time

__all__ = ["Trouble", "trouble"]

LOGGER_SILENT_S = 15.0
"""The logger says every 5 s that it is at work; three times missed is no accident. A sign of life of the future counts
no more than an old one: the clock was set, and a logger that is at work soon gives another.
"""


@dataclass(frozen=True, slots=True)
class Trouble:
    """What keeps the data from being current: in a few words for the headline, and more of it.

    `kind` says what is to be done, see `wording.not_current`; nobody reads the link where the logger is ``stopped`` or
    ``silent``, nor tells of it where its edge is ``unheard``.
    """

    what: str
    more: str = ""
    kind: str = "log"

    @property
    def ends_reading(self) -> bool:
        """Whether nobody reads the link meanwhile."""
        return self.kind in ("stopped", "silent", "unheard")

    def __str__(self) -> str:
        return ": ".join(filter(None, (self.what, self.more)))


def trouble(
    view: PressView,
    now: datetime,
    logger_seen: datetime | None,
    kept: KeptNow | None = None,
    unheard: Unheard | None = None,
) -> list[Trouble]:
    """Return what keeps the data from being current, worst first; empty when they are.

    `kept`: what waits. `unheard`: of a copy at a centre, that its edge is not heard, so that nothing else is known.
    """
    if unheard is not None:
        since = at_time(unheard.since, now)
        return [Trouble(f"{unheard.edge} not heard since {since}", kind="unheard")]
    found = [] if kept is None else _waiting(kept, now)
    link = view.link
    at_work = kept is not None and kept.alive and kept.since is not None
    # one that started while the log is out of reach has not told the log of its links yet
    if link is not None and link.state == "stopped" and not at_work:
        found.append(Trouble(f"Logging stopped at {at_time(link.time, now)}", kind="stopped"))
    elif at_work:
        pass  # the logger is at work; what it cannot do is said already
    # a sign of life from the future is one of before the clock was set back
    elif logger_seen is None or abs((now - logger_seen).total_seconds()) > LOGGER_SILENT_S:
        since = "" if logger_seen is None else f" since {at_time(logger_seen, now)}"
        found.append(Trouble(f"Logger not running{since}", kind="silent"))
    if link is not None and link.state == "lost":
        found.append(Trouble(f"Connection lost since {at_time(link.time, now)}", kind="link"))
    if view.time is not None:
        age = (now - view.time).total_seconds() - view.set_since_s
        if is_ahead(age):
            found.append(Trouble("Clocks disagree", f"the last shot is stamped {ago(-age)} in the future", "clocks"))
        elif is_quiet(age, view.cycle_s):
            waits = kept is not None and bool(kept.shots or kept.unsafe)
            found.append(Trouble(f"Last shot{' in the log' if waits else ''} {ago(age)} ago", kind="quiet"))
    return found


def _waiting(kept: KeptNow, now: datetime) -> list[Trouble]:
    """Return that the log cannot be written, and that shots wait for it."""
    if kept.since is None and not kept.unsafe:
        return []
    since = "" if kept.since is None else f" since {at_time(kept.since, now)}"
    kind = "unsafe" if kept.unsafe else kept.kind or "log"
    return [Trouble(f"Log not written{since}", kept_out(kept.kind, kept.why), kind)]
