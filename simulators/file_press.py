"""A press that gives its shots as files in a shared folder, after EUROMAP 63 as public programs on both sides speak it.

It runs jobs, writes reports and the logs of jobs, and logs changes of set-points. It is asked nothing that would change
it: such a command is noted as refused. Not verified on a real press.
"""

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from simulators.disturb import WireFaults
from simulators.file_press_diary import Diary
from simulators.file_press_faults import FILE_FAULTS, TASK_ERRORS
from simulators.file_press_folder import Folder, in_pieces
from simulators.file_press_report import OWN_PARAMETERS, Report, date_text, time_text
from simulators.file_press_tokens import TOKENS, getid, getinfo, in_other_units, text_of
from simulators.file_press_ways import FileWays
from simulators.file_press_words import READING, Command, WordError, commands
from simulators.press import PressRun

__all__ = ["FilePress"]


@dataclass
class _Event:
    """A log of changed set-points that somebody ordered."""

    job: str
    file: str
    count: int = 0


@dataclass
class FilePress:
    """One press. `clock` is what its own clock shows at the start; `pause` waits between two pieces of a write.

    `guard` is held while it does something: it has one task for all of this.
    """

    name: str
    ways: FileWays
    folder: Folder
    clock: datetime
    first_count: int = 0
    faults: WireFaults = field(default_factory=lambda: WireFaults((), FILE_FAULTS))
    diary: Diary = field(default_factory=Diary)
    pause: Callable[[float], None] = time.sleep
    reports: list[Report] = field(default_factory=list)
    events: list[_Event] = field(default_factory=list)
    off: bool = False
    guard: threading.RLock = field(default_factory=threading.RLock)

    def __post_init__(self) -> None:
        self.tokens = in_other_units() if self.ways.units == "other" else TOKENS
        self.now = self.clock
        self.counter = str(self.first_count)
        self._piece_s = self.ways.piece_s
        self._settings: dict[str, str] = {}
        self._values: dict[str, str] = {}
        self._gone: set[str] = set()

    def begin(self) -> None:
        """Do what was done before the first shot: other people's files and orders."""
        if self.ways.others == "yes":
            self._leave_other_files()
        if self.ways.report:
            self._order_for_somebody_else()

    # --- shots ---

    def show(self, run: PressRun, index: int) -> None:
        """Make shot `index` (from 0) of a run: what is due is written, as the faults let it through."""
        values = {
            name: text_of(token, token.value(run, index))
            for name, token in self.tokens.items()
            if token.source is not None
        }
        self.make(index + 1, float(run.seconds[index]), values, run.press.operator)

    def make(self, shot: int, seconds: float, values: dict[str, str], user: str = "") -> None:
        """Make a shot, so long after the start, that has these texts by token; `user` is who stands there."""
        with self.guard:
            self.faults.shot = shot
            self.turn()
            wrong = self.faults.active("clock")
            self.now = self.clock + timedelta(seconds=seconds + (wrong.seconds if wrong else 0.0))
            self._changes(values, user)
            self.counter = values.get("ActCntCyc", str(self.faults.counter(self.first_count + shot)))
            before = self._values
            counters = {"ActCntCyc": self.counter, "ActCntMachAdd": str(self.first_count + shot)}
            self._values = counters | values
            written = [] if self.off else [name for report in self.reports for name in self._line(report, before)]
            self.diary.note(shot=shot, counter=self.counter, values=self._values, written=written)

    def slow(self, seconds: float) -> None:
        """Say how long the folder's next writes wait between pieces."""
        self._piece_s = seconds

    def between_pieces(self) -> None:
        """Wait between two pieces of a write."""
        self.pause(self._piece_s)

    def _line(self, report: Report, before: dict[str, str]) -> list[str]:
        moments = report.moments(self.now)
        at_time = report.due is not None  # the line of a time tells of the shot before it
        values = before if at_time else self._values
        whole = [report.line(moment, values) for moment in moments if values]
        return [report.file] if any(whole) and not at_time else []

    def turn(self) -> None:
        """Let begin and end what the faults say now of the share, the power and the jobs."""
        for kind in ("away", "restart", "job-lost"):
            here = self.faults.active(kind) is not None
            if here == (kind in self._gone):
                continue
            self._gone ^= {kind}
            self.diary.note(fault=kind, begins=here, shot=self.faults.shot)
            if kind == "away":
                (self.folder.put_away if here else self.folder.put_back)()
                continue
            if kind == "restart":
                self.off = here
            if here and not (kind == "restart" and self.ways.survive == "yes"):
                self.reports.clear()
                self.events.clear()
            if not here and self.ways.report:
                self._order_for_somebody_else()

    def _changes(self, values: dict[str, str], user: str) -> None:
        """Log each set-point that is not as it was at the shot before.

        The shot of an entry is what the counter shows at that moment: the first shot made with it is the next one.
        """
        settings = {name: values[name] for name, token in self.tokens.items() if token.setting and name in values}
        for name, new in settings.items():
            old = self._settings.get(name, new)
            if old == new:
                continue
            self.diary.note(change=name, old=old, new=new, counter=self.counter)
            for event in () if self.off else self.events:
                event.count += 1
                head = f"{event.count},{date_text(self.now)},{time_text(self.now)},{self.counter}"
                self.put(event.file, f'{head},"{name}",{old},{new},"{user}"{self.ways.end}', append=True)
        self._settings = settings

    # --- jobs ---

    def _order_for_somebody_else(self) -> None:
        """Run the report that somebody else ordered (`ways.report`)."""
        clause = f"CYCLIC TIME {self.ways.cyclic_time}" if self.ways.cyclic_time else f"CYCLIC SHOT {self.ways.every}"
        wanted = ", ".join((*OWN_PARAMETERS, *reversed(TOKENS)))  # the counter last: a line cut short tells a wrong one
        self.run_job(
            'JOB Theirs RESPONSE "THEIRS.LOG";'
            f'REPORT Theirs {self.ways.mode.upper()} "{self.ways.report}" START IMMEDIATE STOP NEVER '
            f"{clause} PARAMETERS {wanted};"
        )

    def _leave_other_files(self) -> None:
        """Put what other people may have left there into the folder, and let a job of theirs run."""
        self.run_job('JOB Others RESPONSE "OTHERS.LOG"; EVENT Others CHANGES "OTHERS.DAT";')
        left = {
            "OLD01.DAT": "DATE,TIME,ActCntCyc,ActStrCsh[1]\r\n20250102,03:04:05,7,1.00\r\n",
            "OLD01.JOB": 'JOB Old01 RESPONSE "OLD01.LOG";',
            "SESS0007.RSP": '00000009 PROCESSED "CONNECT";',
            "readme.txt": "not yours",
        }
        for name, text in left.items():
            self.folder.write(name, [text.encode("ascii")])

    def run_job(self, text: str) -> None:
        """Run a job file; its log says of each command what became of it."""
        read = commands(text)
        first = read[0] if read else WordError(2, "empty job")
        if not isinstance(first, Command) or first.word != "JOB":
            self.diary.note(refused="job without JOB", text=text)
            return
        log = self.named(first.file)
        self.put(log, "")
        for number, command in enumerate(read, 1):
            error = command if isinstance(command, WordError) else self._run(first.name, command)
            stamp = f"{date_text(self.now)} {time_text(self.now)}"
            if error is None:
                word = command.word if isinstance(command, Command) else ""
                line = f'COMMAND {number} PROCESSED "{word} command" {stamp};'
            else:
                line = f'COMMAND {number} ERROR 06 {error.number:08d} "{error.text}" {stamp};'
            self.put(log, line + self.ways.end, append=True)
            if error is not None:
                break

    def put(self, file: str, text: str, append: bool = False) -> None:
        """Write an answer, a log or a list, in as many pieces as this press does."""
        data = text.encode(self.ways.codec, "replace")
        self.slow(self.ways.piece_s)
        self.folder.write(file, in_pieces(data, 1 if self.ways.pieces == "one" else 2), append)

    def named(self, file: str) -> str:
        """Return the name under which it writes a file that was asked for."""
        stem, dot, end = file.rpartition(".")
        return f"{stem}{dot}{end.lower() if self.ways.ends == 'lower' else end.upper()}" if dot else file

    def _run(self, job: str, command: Command) -> WordError | None:
        """Run one command; return the error it gets."""
        if command.word not in READING:
            self.diary.note(refused=command.word)
            return WordError(1, "not allowed here")
        active = {report.job for report in self.reports} | {event.job for event in self.events}
        for kind, (word, number, text) in TASK_ERRORS.items():
            if word == command.word and self.faults.active(kind):
                return WordError(number, text)
        if command.word == "JOB" and job in active:
            return WordError(33, "job is already running")
        if command.word == "JOB" and len(active) >= self.ways.jobs:
            return WordError(3, "too many jobs")
        if command.word == "ABORT":
            return self._abort(command.name, active)
        if command.word == "REPORT":
            return self._report(job, command)
        if command.word == "EVENT":
            self.events.append(_Event(job, self.named(command.file)))
            self.put(self.named(command.file), "", append=True)
        if command.word in ("GETID", "GETINFO"):
            self._tell(command)
        return None

    def _abort(self, job: str, active: set[str]) -> WordError | None:
        if job not in active:
            return WordError(36, "job is not active")
        self.reports = [one for one in self.reports if one.job != job]
        self.events = [one for one in self.events if one.job != job]
        return None

    def _report(self, job: str, command: Command) -> WordError | None:
        if len(self.reports) >= self.ways.reports:
            return WordError(7, "too many reports")
        unknown = [name for name in command.parameters if name not in (*OWN_PARAMETERS, *self.tokens)]
        if unknown:
            return WordError(6, f"unknown parameter {unknown[0]}")
        report = Report(job, command, self.named(command.file), self.ways, self.folder, self.faults, self.slow)
        report.begin(self.now)
        self.reports.append(report)
        return None

    def _tell(self, command: Command) -> None:
        if command.word == "GETID":
            lines = getid(self.tokens, self.ways.dates == "yes")
        else:
            known = {
                "MaxSessions": self.ways.sessions,
                "CharDef": self.ways.code_page,
                "MaxJobs": self.ways.jobs,
                "MaxReports": self.ways.reports,
                "ActiveReports": len(self.reports),
            }
            lines = getinfo(known, self.ways.info)
        self.put(self.named(command.file), "".join(line + self.ways.end for line in lines))
