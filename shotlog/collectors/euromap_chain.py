"""Reports of one press one after the other: each is read to its end before the next one is followed."""

from shotlog.clock import Clock
from shotlog.collectors.euromap_follow import Appended, Follower
from shotlog.collectors.euromap_taker import Records, ReportTaker

__all__ = ["Chain"]

_QUIET = 2
"""Looks in a row that bring nothing, after which a report has no more to come, once a later one goes on."""
_A_MOMENT_S = 5.0


class Chain:
    """The reports that are still to be read. State: which, and when the newest was looked at last."""

    def __init__(self, taker: ReportTaker, clock: Clock, poll_s: float) -> None:
        self.taker, self._clock = taker, clock
        self._a_moment_s = max(_A_MOMENT_S, 3 * poll_s)
        self._reports: list[Follower] = []
        self._looked_at: float | None = None
        self._n_quiet = self.n_gone = 0
        """`n_gone`: looks in a row at which the newest report was not there any more."""
        self._was_there = False
        self.line_at = clock.monotonic()
        """When a line was read last."""

    @property
    def newest(self) -> Follower | None:
        """The report that is followed in the end."""
        return self._reports[-1] if self._reports else None

    @property
    def names(self) -> list[str]:
        """The files of the reports that are not done with."""
        return [one.name for one in self._reports]

    def add(self, report: Follower) -> None:
        """Follow a report after those before it; it begins now, or is read from where it stands."""
        if not self._reports:
            self.taker.begins()
            self._looked_at = self._clock.monotonic()
        self._reports.append(report)
        self._was_there, self.n_gone = False, 0

    def has_backlog(self) -> None:
        """Note that what is read next may be of long ago."""
        self._looked_at = None

    def put_before(self, reports: list[Follower]) -> None:
        """Read earlier reports before those that are followed."""
        self._reports = [*reports, *self._reports]
        self._looked_at = None

    def keep(self) -> None:
        """Read what the newest report holds, before the press may begin it anew."""
        if isinstance(self.newest, Appended):
            self.newest.keep()

    def read(self) -> Records:
        """Return what the reports bring by now.

        Raises
        ------
        PressUnreachable
            The folder is away.
        PressRefused
            The report does not have the shot counter.
        """
        records = self._read()
        if self.newest is not None:
            self._was_there |= self.newest.is_there
            self.n_gone = 0 if self.newest.is_there or not self._was_there else self.n_gone + 1
        return records

    def _read(self) -> Records:
        records: Records = []
        while self._reports:
            report, is_newest = self._reports[0], len(self._reports) == 1
            is_over = not is_newest and self._goes_on_behind()  # before the last look: what it has came before that
            n_begun = report.n_begun
            lines = report.look()
            if report.n_begun != n_begun:
                self.taker.begins()
            if report.broken:
                records.append(self.taker.half(report.broken))
                report.broken = b""
            now = self._clock.monotonic()
            at_once = is_newest and self._looked_at is not None and now - self._looked_at <= self._a_moment_s
            self._looked_at = now
            if lines:
                new = self.taker.take(lines, at_once)
                self.line_at = now if new else self.line_at  # a header alone is no sign of life
                records += new
            if is_newest:
                if not records and (error := self.taker.lacks_counter()):
                    raise error
                return records
            self._n_quiet = 0 if lines else self._n_quiet + 1
            if self._n_quiet < _QUIET or (report.is_there and not is_over):
                return records
            records += self._leave(report)
        return records

    def _goes_on_behind(self) -> bool:
        """Say whether a later report has a line that is no header: the one before gets no more then.

        A report of a new day may lie there with its header while the shot over midnight still goes into the old one.
        """
        for report in self._reports[1:]:
            lines = report.look()
            report.hold(lines)
            if self.taker.has_more_than_a_header(lines):
                return True
        return False

    def _leave(self, report: Follower) -> Records:
        del self._reports[0]
        self._n_quiet = 0
        records = self.taker.take_last(report.tail) if report.tail.strip(b"\0\r\n \x1a") else []
        self._looked_at = None if len(self._reports) > 1 else self._looked_at
        self.taker.begins()
        return records
