"""Following a report that somebody else ordered over EUROMAP 63. Nothing at all is written, and nothing is deleted."""

from collections.abc import Iterator
from fnmatch import fnmatchcase

from shotlog.clock import Clock
from shotlog.collectors.base import Reading, Resume
from shotlog.collectors.euromap_chain import Chain
from shotlog.collectors.euromap_folder import Folder
from shotlog.collectors.euromap_follow import Follower, follower
from shotlog.collectors.euromap_look_back import BACK, LOOKS, look_back
from shotlog.collectors.euromap_probe import rows_of
from shotlog.collectors.euromap_report import ReportReader, TokenMap
from shotlog.collectors.euromap_session import Pause
from shotlog.collectors.euromap_taker import Records, ReportTaker
from shotlog.errors import PressUnreachable

__all__ = ["EuromapPassive", "reports_there"]

_NAMES_S = 10.0
_GONE = 3


def reports_there(folder: Folder, report: str) -> list[str]:
    """Return the files of a name or pattern that lie in a folder, oldest first."""
    found = [one for name, one in folder.files().items() if fnmatchcase(name, report.upper())]
    return [one.name for one in sorted(found, key=lambda one: (one.changed_ns, one.name))]


class EuromapPassive:
    """A collector over a report of somebody else (see `collectors.base.Collector`).

    `report`: its name, or a pattern (``SHOTS*.DAT``) where each day has a file of its own; the newest is followed.
    `header`: the names of its columns before it says any, empty where it does.
    """

    def __init__(
        self,
        press: str,
        clock: Clock,
        resume: Resume | None,
        folder: Folder,
        report: str,
        rewritten: bool,
        tokens: TokenMap,
        header: str,
        encoding: str,
        last_count: int,
        poll_s: float,
        probe_s: float,
        pause: Pause,
    ) -> None:
        self._press, self._clock, self._folder, self._report = press, clock, folder, report
        self._rewritten, self._probe_s, self._pause = rewritten, probe_s, pause
        self._resume, self._tokens, self._header, self._encoding = resume, tokens, header, encoding
        self._taker = ReportTaker(press, clock, last_count, resume, self._reader())
        self._chain = Chain(self._taker, clock, poll_s)
        self._is_open = False
        self._done: set[str] = set()
        self._named_at = 0.0

    def open(self) -> None:
        names = self._names()
        if not names and self._chain.newest is None:
            raise PressUnreachable(
                f"no report {self._report} lies in {self._folder.place}: look whether it is ordered, and whether the "
                "press writes there (the share, its mount)"
            )
        if self._chain.newest is None:
            self._begin(names)
        self._is_open = True

    def close(self) -> Records:
        # a line that waits for the next one lies in the report still: it is read again from there
        self._is_open = False
        return []

    def poll(self) -> Records:
        if not self._is_open:
            raise PressUnreachable(f"folder {self._folder.place} is not open")
        now = self._clock.monotonic()
        if self._chain.n_gone or now - self._named_at >= _NAMES_S:
            self._named_at = now
            for name in self._names():
                if name not in self._done:
                    self._follow(name)
        records = self._chain.read()
        if self._chain.n_gone >= _GONE and not records and len(self._chain.names) == 1:
            raise PressUnreachable(f"report {self._report} is not in {self._folder.place} any more")
        return records

    def probe(self) -> list[Reading]:
        names = self._names()
        if not names:
            raise PressUnreachable(f"no report {self._report} lies in {self._folder.place}")
        return rows_of(self._follower(names[-1]), self._reader(), self._probe_s, self._pause)

    def _reader(self) -> ReportReader:
        reader = ReportReader(self._tokens, self._encoding)
        reader.read(self._header.encode(self._encoding, errors="replace"))
        reader.notes.clear()
        return reader

    def _names(self) -> list[str]:
        return reports_there(self._folder, self._report)

    def _follow(self, name: str) -> None:
        self._done.add(name)
        self._chain.add(self._follower(name))

    def _follower(self, name: str) -> Follower:
        return follower(self._folder, name, self._rewritten, self._clock)

    def _begin(self, names: list[str]) -> None:
        """Go on after the last shot of the log, where a report has it; else after what lies there already."""
        self._done |= set(names)
        goes_on = self._resume is not None and not self._rewritten

        def newest_first() -> Iterator[Follower]:
            return map(self._follower, reversed(names[-BACK:] if goes_on else names[-1:]))

        found, is_found = look_back(self._taker, newest_first, LOOKS if goes_on else 1, self._pause)
        if not is_found:
            newest = found[-1]
            lines = newest.look()
            since = None if self._resume is None else self._resume.time
            is_new = self._folder.changed_since(newest.name, since)
            at = self._taker.beyond(lines) if is_new else None
            if at is None:
                self._taker.skip(lines)
            newest.hold([] if at is None else lines[at:])
            found = [newest]
        for report in found:
            self._chain.add(report)
        self._chain.has_backlog()
