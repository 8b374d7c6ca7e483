"""From the lines of reports to records: shots, gaps, faults. Nothing is read here but the clock."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from shotlog.clock import Clock
from shotlog.collectors.base import Resume
from shotlog.collectors.euromap_report import ReportReader, ReportRow
from shotlog.collectors.euromap_rows import counts_by_report
from shotlog.collectors.euromap_taken import ReadLine, TakenLines
from shotlog.collectors.euromap_times import PressClock
from shotlog.collectors.line_shots import LineShots
from shotlog.collectors.lines import Rejection
from shotlog.collectors.pace import Pace
from shotlog.errors import PressRefused
from shotlog.records import Fault, Gap, SetPointChange, Shot

__all__ = ["Records", "ReportTaker"]

Records = list[Shot | Gap | Fault | SetPointChange]


class ReportTaker:
    """Takes the lines of one press's reports. State: counter, lines taken, the press's clock, the time of the last."""

    def __init__(
        self,
        press: str,
        clock: Clock,
        last_count: int,
        resume: Resume | None,
        reader: ReportReader,
    ) -> None:
        self._press, self._clock, self.reader = press, clock, reader
        self._shots = LineShots(press, last_count, resume, came="written")
        self._pace = Pace(clock, resume)
        self._press_clock = PressClock()
        self._resume = resume
        self._last = None if resume is None else resume.time
        self._taken = TakenLines()
        self._told: set[str] = set()

    @property
    def cycle_s(self) -> float | None:
        """What a shot usually takes, in seconds."""
        return self._pace.cycle_s

    @property
    def known(self) -> Resume | None:
        """The last shot that was taken."""
        return self._shots.known

    def interrupt(self) -> None:
        """Note that shots may have been made that no report tells of."""
        self._shots.connected(in_mid_line=False)

    def begins(self) -> None:
        """Note that the lines to come begin a report, which may tell of shots that were taken already."""
        self._taken.begins()
        if counts_by_report(self.reader.map.counter):
            self._shots.begins_anew()

    def after(self, lines: Sequence[bytes]) -> int | None:
        """Return where the lines begin that came after the last shot of the log; None where that one is not there.

        The press's clock is set by the line of that shot, whose time we know.
        """
        resume, rows = self._resume, self._rows(lines)
        found = [] if resume is None else [(n, row) for n, row in rows if row.line.counter == resume.counter]
        if resume is None or not found:
            return None
        same = [(n, row) for n, row in found if _agree(row.line.values, resume.values)]
        if not same:
            return None  # a count alone may be of before it began anew
        at, row = same[-1]
        if row.moment is not None and resume.time is not None:
            self._press_clock.seen(row.moment, resume.time)
        return self._begins_at(lines, at + 1, rows)

    def skip(self, lines: Sequence[bytes]) -> None:
        """Take lines as read that are of before: nothing comes of them, and their headers hold on."""
        self._begins_at(lines, len(lines), self._rows(lines))

    def _rows(self, lines: Sequence[bytes]) -> list[tuple[int, ReportRow]]:
        """Return the lines of shots and their places, and leave the reader as it was."""
        twin = self.reader.twin()
        return [(n, said) for n, raw in enumerate(lines) if isinstance(said := twin.read(raw), ReportRow)]

    def _begins_at(self, lines: Sequence[bytes], at: int, rows: Sequence[tuple[int, ReportRow]]) -> int:
        """Take what comes before a place as read: the headers, and the shots, which are taken or of before the log."""
        shots = dict(rows)
        for n, raw in enumerate(lines[:at]):
            if n in shots:
                self._taken.add(shots[n])
            else:
                self.reader.read(raw)
        self.reader.notes.clear()
        return at

    def beyond(self, lines: Sequence[bytes]) -> int | None:
        """Return where the lines begin that can only have come after the last shot of the log, which is not among them.

        They count on from it to their end. None where they do not: what was made meanwhile is a gap of the counter
        then, for a shot is better missed, and said, than stored twice.
        """
        resume, rows = self._resume, self._rows(lines)
        if resume is None or not rows or rows[-1][1].line.counter <= resume.counter:
            return None
        older = [n for n, row in rows if row.line.counter <= resume.counter]
        return self._begins_at(lines, max(older, default=-1) + 1, rows)

    def take(self, lines: Sequence[bytes], at_once: bool, is_cut: bool = False) -> Records:
        """Return what lines bring, in order; `at_once`: they were written since the last look, a moment ago; `is_cut`:
        they have no end.
        """
        now = self._clock.now()
        self._shots.expect(self._pace.expected())
        records: Records = []
        alone = at_once and len(lines) == 1
        said: list[ReadLine] = []
        for raw in lines:
            said.append((raw, self.reader.read(raw, is_cut)))
            records += [Fault(self._press, now, kind, detail, raw) for kind, detail in self._notes()]
        late, new = self._taken.part(said)
        records += [self._too_late(row, now) for row in late]
        for _, one in [] if self.reader.lacks_counter else new:
            if isinstance(one, Rejection):
                records.append(Fault(self._press, now, one.kind, one.detail, one.raw))
                self._taken.add(one)
            elif one is not None:
                records += self._row(one, now, at_once, alone)
        self._pace.took(records, self._shots.watched)
        return records

    def take_last(self, raw: bytes) -> Records:
        """Return what the last line of a report brings, which has no end and nothing behind it.

        It may have been cut within its last field, ``1`` of ``15.25``: that one is left out, and it is said.
        """
        said = self.reader.twin().read(raw, is_cut=True)
        if isinstance(said, Rejection):
            return [self.half(raw)]
        records = [] if said is None else self.take([raw], at_once=False, is_cut=True)
        return [self.half(raw, "; its last field may be cut, and is left out"), *records] if records else []

    def has_more_than_a_header(self, lines: Sequence[bytes]) -> bool:
        """Say whether lines of a report that is not read yet hold one that is neither blank nor a header."""
        twin = self.reader.twin()
        return any(twin.read(raw) is not None for raw in lines)

    def half(self, raw: bytes, became: str = "") -> Fault:
        """Return what is said of a line that has no end, and of what became of it."""
        return Fault(self._press, self._clock.now(), "half line", f"a report ended within a line{became}", raw)

    def lacks_counter(self) -> PressRefused | None:
        """Return the error for a report that does not have the shot counter; its lines are nothing."""
        if not self.reader.lacks_counter:
            return None
        has = ", ".join(self.reader.columns or ())[:300]
        return PressRefused(f"the report has no {self.reader.map.counter}, given as shot_counter; it has: {has}")

    def time_of(self, moment: datetime | None) -> datetime:
        """Return a time of the press by our clock, now where it tells none; never in the future."""
        now = self._clock.now()
        return now if moment is None else self._press_clock.time_of(moment, None, now)[0]

    def _notes(self) -> list[tuple[str, str]]:
        notes, self.reader.notes = self.reader.notes, []
        return notes

    def _too_late(self, row: ReportRow, now: datetime) -> Fault:
        self._taken.add(row)
        detail = f"the line of shot counter {row.line.counter} came after later ones; it stays in the gap"
        return Fault(self._press, now, "late line", detail, row.line.raw)

    def _row(self, row: ReportRow, now: datetime, at_once: bool, alone: bool) -> Records:
        records: Records = []
        time, doubtful = self._time(row, now, at_once, alone)
        if alone and row.moment is not None:
            step_s = self._press_clock.seen(row.moment, now)
            if step_s is not None:
                detail = f"the press's clock was set by about {step_s:+.0f} s; times of shots are this computer's"
                records.append(Fault(self._press, now, "press clock", detail, row.line.raw))
        if doubtful and "press clock" not in self._told:
            self._told.add("press clock")
            detail = (
                f"shots read late bear the time of the press, and it said {row.moment}, which cannot be: "
                "they were put between the shot before and now"
            )
            records.append(Fault(self._press, now, "press clock", detail, row.line.raw))
        self._taken.add(row)
        self._last = time
        return records + self._shots.take(row.line, time)

    def _time(self, row: ReportRow, now: datetime, at_once: bool, alone: bool) -> tuple[datetime, bool]:
        if alone:
            self._told.discard("press clock")
        if alone or row.moment is None or (at_once and not self._press_clock.is_known):
            return now, False
        return self._press_clock.time_of(row.moment, self._last, now)


def _agree(values: Mapping[str, float], logged: Mapping[str, float]) -> bool:
    """Say whether a line shows what the log has of its shot, as far as both tell."""
    both = values.keys() & logged.keys()
    return all(abs(values[name] - logged[name]) <= 1e-9 * max(abs(values[name]), 1.0) for name in both)
