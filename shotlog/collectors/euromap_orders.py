"""Ordering a report of our own over EUROMAP 63, and ending it. Nothing else is asked of a press.

Each report has a number of its own in its name, one higher than any that lies in the folder: nothing of an earlier
one is written over, and what the logger missed while it did not run is still there. A report that is replaced is
ended only once the new one runs, so that no shot falls between them. Our own oldest files are deleted, in the end.
"""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from datetime import date

from shotlog.clock import Clock
from shotlog.collectors.euromap_folder import FileThere, FolderToOrder
from shotlog.collectors.euromap_session import PressSession
from shotlog.collectors.euromap_words import Order, abort_job, event_job, job_name, number_of, report_job
from shotlog.errors import PressRefused

__all__ = ["Orders"]

_KEPT = 14
"""Reports of ours that stay in the folder (own): two weeks, where one is ordered a day."""
_TRIES = 3
_LAST_NUMBER = 9999


class Orders:
    """The reports and events that one session ordered. State: those that run, and since which day."""

    def __init__(self, folder: FolderToOrder, session: PressSession, number: int, clock: Clock) -> None:
        self._folder, self._session, self._number, self._clock = folder, session, number, clock
        self.report = ""
        """The job that runs, and the name of its report without ending; empty before one was ordered."""
        self.events = ""
        self._day: date | None = None

    @property
    def is_of_today(self) -> bool:
        """Whether the report that runs was ordered today, by the calendar of this computer."""
        return self._day == self._today()

    def _today(self) -> date:
        return self._clock.now().astimezone().date()

    def lying(self, letter: str = "R") -> list[str]:
        """Return the jobs of ours whose files lie in the folder, oldest first."""
        numbers = {number_of(name, self._number, letter) for name in self._folder.files()}
        return [job_name(self._number, f"{letter}{n:04d}") for n in sorted(n for n in numbers if n is not None)]

    def asked_by(self, job: str) -> list[str]:
        """Return the tokens that a report of ours was ordered with, in their order; none where its order is gone."""
        text = self._folder.text(f"{job}.JOB") or ""
        return [one.strip() for one in text.partition("PARAMETERS")[2].strip().rstrip(";").split(", ") if one.strip()]

    def order(self, tokens: Sequence[str], rewrite: bool = False) -> str:
        """Order a report under a new name and return it.

        Raises
        ------
        PressUnreachable, PressRefused
            As for `PressSession.run`.
        """
        for _ in range(_TRIES):
            job = self._free("R")
            if self._taken(job, report_job(job, tokens, rewrite)):
                self.report, self._day = job, self._today()
                return job
        raise PressRefused(f"the press says of {_TRIES} new jobs, {job} the last, that they run already")

    def try_out(self, tokens: Sequence[str]) -> str:
        """Order a report beside those of a logger, for somebody who ends it soon; return its name.

        Raises
        ------
        PressUnreachable, PressRefused
            As for `PressSession.run`.
        """
        job = self._free("P")
        self._taken(job, report_job(job, tokens))
        return job

    def _taken(self, job: str, order: Order) -> bool:
        """Have a job taken; what was written for one that is refused is deleted."""
        try:
            return self._session.run(order)
        except PressRefused:
            self.delete(job)
            raise

    def order_events(self) -> None:
        """Have changes of set-points told, under a new name.

        Raises
        ------
        PressUnreachable, PressRefused
            As for `PressSession.run`.
        """
        job, self.events = self._free("E"), ""
        self._taken(job, event_job(job))
        self.events = job

    def renew(self) -> bool:
        """Have the job that was ordered taken once more, after the press fell silent; return whether it ran still.

        Raises
        ------
        PressUnreachable, PressRefused
            As for `PressSession.run`.
        """
        return not self._session.again(self.report)

    def renew_events(self) -> None:
        """Have the job of events taken once more.

        Raises
        ------
        PressUnreachable
            As for `PressSession.run`.
        """
        with suppress(PressRefused):  # set-points are read with each shot as well
            self._session.again(self.events, "EVENT")

    def end(self, job: str) -> None:
        """End a job of ours; that it was not active is fine. Its report stays."""
        stop = job_name(self._number, "STOP")
        self._session.run(abort_job(stop, job))
        self.forget(stop)
        self.forget(job)

    def others(self) -> list[str]:
        """Return every job of ours that may be running but those that are to, newest first."""
        return [job for job in self.running() if job not in (self.report, self.events)]

    def running(self) -> list[str]:
        """Return every job of ours that may be running, newest first."""
        return [*self._active(self.lying("R")), *self._active(self.lying("E"))]

    def _active(self, jobs: Sequence[str]) -> list[str]:
        """Return which of some jobs may be running: those whose job file still lies there."""
        files: Mapping[str, FileThere] = self._folder.files()
        return [job for job in reversed(jobs) if f"{job}.JOB" in files]

    def forget(self, job: str) -> None:
        """Delete the job file and the log of a job that was ended; its report stays."""
        self._folder.drop(f"{job}.JOB")
        self._folder.drop(f"{job}.LOG")

    def delete(self, job: str) -> None:
        """Delete all files of a job of ours."""
        for ending in ("JOB", "LOG", "DAT"):
            self._folder.drop(f"{job}.{ending}")

    def tidy(self) -> None:
        """Delete the oldest reports of ours."""
        for letter in ("R", "E"):
            for job in self.lying(letter)[:-_KEPT]:
                self.delete(job)

    def _free(self, letter: str) -> str:
        lying = self.lying(letter)
        newest = max(number_of(one, self._number, letter) or 0 for one in lying) if lying else 0
        running = [number_of(one, self._number, letter) or 0 for one in (self.report, self.events)]
        number = max(newest, *running) + 1
        if number > _LAST_NUMBER:
            raise PressRefused(
                f"no name is left for a report: delete {job_name(self._number, letter)}*.DAT in the folder"
            )
        return job_name(self._number, f"{letter}{number:04d}")
