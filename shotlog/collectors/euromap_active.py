"""Reading a press over EUROMAP 63 by a report that is ordered here, from it alone.

What is written and why stands in `euromap_words` and `euromap_orders`. When nothing comes for a while the press is
asked whether it is there, and its job is given to it once more: one that runs is refused as running, which is what is
hoped for; one that was lost when the press was switched off runs again. The job runs on while this program does not:
what the press made meanwhile lies in its report, and is read at the next start.
"""

from collections import deque
from collections.abc import Callable, Iterator
from functools import partial

from shotlog.clock import Clock
from shotlog.collectors.base import Reading, Resume
from shotlog.collectors.euromap_answers import TooMany
from shotlog.collectors.euromap_chain import Chain
from shotlog.collectors.euromap_events import ToldChanges
from shotlog.collectors.euromap_folder import FolderToOrder
from shotlog.collectors.euromap_follow import Appended, Follower, follower
from shotlog.collectors.euromap_known import KnownPress, discover
from shotlog.collectors.euromap_look_back import BACK, LOOKS, look_back
from shotlog.collectors.euromap_options import EuromapOptions
from shotlog.collectors.euromap_orders import Orders
from shotlog.collectors.euromap_probe import proposals, rows_of
from shotlog.collectors.euromap_report import ReportReader, TokenMap
from shotlog.collectors.euromap_rows import counts_by_report
from shotlog.collectors.euromap_session import PressSession
from shotlog.collectors.euromap_taker import Records, ReportTaker
from shotlog.collectors.set_points import Untaken
from shotlog.errors import CollectorError, PressRefused, PressUnreachable
from shotlog.records import Fault

__all__ = ["EuromapActive"]

_GONE = 3
_QUICK_S = 1.0
"""A poll that has waited for answers so long asks nothing more."""
_DAY_AGAIN_S = 3600.0
_RENEWED = 2
"""Times in a row, without a shot between, that a press may take a job as if it had not run: it does not tell."""


class EuromapActive:
    """A collector over a report that it orders (see `collectors.base.Collector`)."""

    def __init__(self, press: str, clock: Clock, resume: Resume | None, chosen: EuromapOptions) -> None:
        self._press, self._clock, self._resume, self._chosen = press, clock, resume, chosen
        self._folder = FolderToOrder(chosen.folder, chosen.session)
        self._session = PressSession(self._folder, chosen.session, chosen.timeout_s, chosen.pause)
        self._orders = Orders(self._folder, self._session, chosen.session, clock)
        self._known: KnownPress | None = None
        self._tokens = TokenMap(chosen.counter, {})
        self._chain: Chain | None = None
        self._events: ToldChanges | None = None
        self._notes: Records = []
        self._steps: deque[Callable[[], None]] = deque()
        self._ends_others = self._looks_back = True
        self._asked_at = self._day_at = 0.0
        self._renewed_at, self._n_renewed = -1.0, 0
        self._probed: list[str] = []

    def open(self) -> None:
        self._folder.files()
        self._session.connect()
        if self._chain is None:
            self._discover()
        self._steps.clear()
        if self._orders.report:
            self._renew()
        else:
            self._order()
        while self._steps:
            self._steps.popleft()()
        self._asked_at = self._clock.monotonic()

    def close(self) -> Records:
        # a line that waits for the next one lies in the report still: it is read again from there
        probed, self._probed = self._probed, []
        for job in probed:
            try:
                self._orders.end(job)
            except CollectorError:
                continue
            self._orders.delete(job)
        return []

    def poll(self) -> Records:
        if self._chain is None:
            raise PressUnreachable(f"folder {self._folder.place} is not open")
        if self._looks_back:
            self._look_back(self._chain)
        records = self._chain.read() + (self._events.look() if self._events else [])
        if not records:  # what was read is handed over before anything is asked that may fail
            self._keep_ordered(self._chain)
        notes, self._notes = self._notes, []
        return notes + records

    def probe(self) -> list[Reading]:
        chosen, known = self._chosen, self._known
        if known is None or not self._orders.report:
            raise PressUnreachable(f"folder {self._folder.place} is not open")
        report = self._orders.report
        self._probed = [one for one in (report, self._orders.events) if one]
        rows = rows_of(self._follower(report), ReportReader(self._tokens, known.encoding), chosen.probe_s, chosen.pause)
        said = [Reading("", "GETINFO, GETID", "", None, "", remark) for remark, _ in known.remarks]
        return [*rows, *proposals(self._tokens, known.tokens), *said]

    def _discover(self) -> None:
        chosen = self._chosen
        known = discover(self._session, chosen)
        self._known = known
        set_points = tuple(one for one in chosen.set_points if not known.lacks(one.place))
        self._tokens = TokenMap(
            chosen.counter, known.channels, set_points, {key: one.unit for key, one in known.tokens.items()}
        )
        reader = ReportReader(self._tokens, known.encoding)
        taker = ReportTaker(self._press, self._clock, chosen.last_count, self._resume, reader)
        self._events = ToldChanges(self._press, self._clock, taker, self._tokens, chosen.set_points, known.encoding)
        self._chain = Chain(taker, self._clock, chosen.poll_s)
        self._notes += [self._fault("euromap63", remark, raw.encode()) for remark, raw in known.remarks]
        for one in chosen.set_points:
            if known.lacks(one.place):
                lacks = f"the press does not list (GETID) {known.with_nearest(one.place)}; the report goes without it"
                self._notes.append(Untaken(one.name, lacks).fault(self._press, self._clock.now(), None))

    def _fault(self, kind: str, detail: str, raw: bytes = b"") -> Fault:
        return Fault(self._press, self._clock.now(), kind, detail, raw)

    def _order(self, refused: Callable[[PressRefused], None] | None = None) -> None:
        """Plan to order a report under a new name, and to follow it once those before it are read to their ends.

        `refused`: what to do where the press does not take it; it is raised where nothing is given.
        """
        if counts_by_report(self._chosen.counter):
            self._plan_to_end(self._orders.running())  # two reports would count one shot each by its own count
        self._steps.append(partial(self._order_report, refused or self._raise, may_end=True))

    def _raise(self, error: PressRefused) -> None:
        if self._known is None or not (unknown := self._known.lacking(self._tokens)):
            raise error
        raise PressRefused(f"{error}; its list (GETID) has no {', '.join(unknown)}") from error

    def _order_report(self, refused: Callable[[PressRefused], None], may_end: bool) -> None:
        running: list[str] = []
        try:
            job = self._orders.order(self._tokens.tokens, self._chosen.rewritten)
        except PressRefused as error:
            if may_end and isinstance(error, TooMany):  # it gives only so many reports at a time
                running = self._orders.running()
            if not running:
                refused(error)
                return
            self._plan_to_end(running)
            self._steps.append(partial(self._order_report, refused, may_end=False))
            return
        if self._chain is not None:
            self._chain.add(self._follower(job))
        self._ends_others, self._n_renewed = True, 0
        if self._chosen.changes:
            self._steps.append(self._order_events)

    def _plan_to_end(self, jobs: list[str]) -> None:
        self._steps += [partial(self._orders.end, job) for job in jobs]

    def _follower(self, job: str) -> Follower:
        return follower(self._folder, f"{job}.DAT", self._chosen.rewritten, self._clock)

    def _keep_ordered(self, chain: Chain) -> None:
        """See that one report of ours runs, of today, and that the press is there.

        A press that is quick is asked all that is planned at once; one that is slow may take the whole time-out to
        answer each request, and is asked one at a time.
        """
        if not self._steps:
            self._plan(chain)
        began = self._clock.monotonic()
        while self._steps and self._clock.monotonic() - began < _QUICK_S:
            self._steps.popleft()()

    def _plan(self, chain: Chain) -> None:
        now = self._clock.monotonic()
        if self._ends_others:
            self._plan_to_end_others()
        elif chain.n_gone >= _GONE:
            self._order()
        elif not self._orders.is_of_today and now >= self._day_at:
            self._day_at = now + _DAY_AGAIN_S
            self._order(self._refused_today)
        else:
            self._ask_if_silent(chain)

    def _refused_today(self, error: PressRefused) -> None:
        detail = f"{error}; the report of yesterday is followed on, and another is ordered in an hour"
        self._notes.append(self._fault("job", detail, f"{self._orders.report}.JOB".encode()))

    def _order_events(self) -> None:
        try:
            self._orders.order_events()
        except PressRefused as error:
            detail = f"{error}; the press tells of no change by itself, set-points of shots do"
            self._notes.append(self._fault("set-point changes", detail, b"EVENT"))
            return
        if self._events is not None:
            self._events.follow(Appended(self._folder, f"{self._orders.events}.DAT"))

    def _plan_to_end_others(self) -> None:
        """Plan to end the reports of ours before this one."""
        self._steps += [partial(self._end_other, job) for job in self._orders.others()]
        self._steps.append(self._others_ended)

    def _others_ended(self) -> None:
        self._ends_others = False
        self._orders.tidy()

    def _end_other(self, job: str) -> None:
        try:
            self._orders.end(job)
        except PressRefused as error:
            self._notes.append(self._fault("job", f"{error}; it is read over", b"ABORT JOB"))
            self._steps = deque([self._others_ended])  # the others would be refused as well

    def _look_back(self, chain: Chain) -> None:
        """Read from where the log stands in earlier reports of ours, at the first time."""
        reports = [job for job in self._orders.lying() if job != self._orders.report]
        if self._resume is not None and not self._chosen.rewritten:
            self._catch_up(chain, reports, self._resume)
        events = [job for job in self._orders.lying("E") if job != self._orders.events]
        if self._resume is not None and self._events is not None and self._chosen.changes and events:
            self._events.go_back(Appended(self._folder, f"{events[-1]}.DAT"), self._resume.counter)
        self._looks_back = False

    def _catch_up(self, chain: Chain, reports: list[str], resume: Resume) -> None:
        def newest_first() -> Iterator[Follower]:
            for job in reversed(reports[-BACK:]):
                chain.taker.reader.begin_with(self._orders.asked_by(job))  # who emptied it took its header too
                yield Appended(self._folder, f"{job}.DAT")

        found, is_found = look_back(chain.taker, newest_first, LOOKS if reports else 0, self._chosen.pause)
        if is_found:
            chain.put_before(found)
        elif found and self._folder.changed_since(found[-1].name, resume.time):
            newest = found[-1]
            lines = newest.look()
            at = chain.taker.beyond(lines)
            if at is not None:
                newest.hold(lines[at:])
                chain.put_before([newest])

    def _ask_if_silent(self, chain: Chain) -> None:
        """Ask the press whether it is there, and for its job, where nothing came for long."""
        now, cycle_s = self._clock.monotonic(), chain.taker.cycle_s or 0.0
        if now - max(chain.line_at, self._asked_at) < max(self._chosen.silence_s, 2.0 * cycle_s):
            return
        self._asked_at = now
        self._steps.append(self._session.connect)
        if chain.line_at > self._renewed_at or self._n_renewed < _RENEWED:
            self._steps.append(self._renew_if_silent)

    def _renew_if_silent(self) -> None:
        if self._chain is not None and self._chain.line_at < self._asked_at:
            self._renew()

    def _renew(self) -> None:
        """Have the job taken once more; where the press refuses that, order another."""
        if self._chain is None:
            return
        self._chain.keep()
        if self._chain.line_at > self._renewed_at:
            self._n_renewed = 0
        self._renewed_at = self._clock.monotonic()
        try:
            runs = self._orders.renew()
        except PressRefused as error:
            detail = (
                f"{error}; another report is ordered. If another program asks in this folder under session "
                f"{self._chosen.session}, give it another number"
            )
            self._notes.append(self._fault("job", detail, f"{self._orders.report}.JOB".encode()))
            self._order()
            return
        if self._orders.events:
            self._steps.append(self._orders.renew_events)
        if not runs:
            self._n_renewed += 1
            self._chain.taker.interrupt()
            self._chain.taker.begins()
            said = f"the press ran our job {self._orders.report} no more (was it switched off?) and runs it again"
            detail = f"{said}; shots it made meanwhile show as a gap of its counter"
            self._notes.append(self._fault("job", detail, f"{self._orders.report}.JOB".encode()))
