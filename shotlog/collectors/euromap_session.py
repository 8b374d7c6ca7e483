"""Asking a press over EUROMAP 63: a request file, and the wait for its answer.

One request at a time: written under a temporary name and renamed, taken by the press (which deletes it before or
after it answers), answered in a file of the same name that ends in RSP. An answer may be read while it is half
written, may be one to an earlier request, and may never come: after the time-out the request is taken back, so that a
press which is switched on later finds no old one.
"""

from collections.abc import Callable, Iterator
from math import ceil

from shotlog.collectors.euromap_answers import answer_in, command_answers, is_whole, refused
from shotlog.collectors.euromap_folder import FileHeld, FolderToOrder
from shotlog.collectors.euromap_words import Order, connect, job_name, list_job, session_stem, take_job
from shotlog.errors import PressUnreachable

__all__ = ["Pause", "PressSession"]

Pause = Callable[[float], None]
"""Waits so many seconds; a test lets its press answer instead."""

_STEP_S = 0.1
_LOG_S = 2.0
"""The log of a job may follow its answer by so much, or never come: some presses are said to write none (own)."""
_STILL = 3
"""Looks in a row that agree, after which an answer without its end is taken as it stands."""


class PressSession:
    """The requests of one session, and the jobs of ours that run under it. State: the number of the last
    request, and for how long its answer was waited for.
    """

    def __init__(self, folder: FolderToOrder, session: int, timeout_s: float, pause: Pause) -> None:
        self._folder, self._session, self._timeout_s, self._pause = folder, session, timeout_s, pause
        self._number = 0
        self._waited_s = 0.0

    def connect(self) -> None:
        """Ask whether the press is there.

        Raises
        ------
        PressUnreachable
            Nobody answers, or it is busy or offline.
        """
        self._number = 0
        self._ask(connect(self._session), 0, "CONNECT")

    def run(self, order: Order) -> bool:
        """Write a job file of ours and have it taken; return False where that job ran already, or was not active.

        Raises
        ------
        PressUnreachable
            Nobody answers, or it is busy or offline.
        PressRefused
            The press refuses it.
        """
        self._folder.put(order)
        return self.again(order.name.partition(".")[0], order.word)

    def again(self, job: str, what: str = "REPORT") -> bool:
        """Have a job file that lies there taken; see `run`."""
        self._folder.files()
        self._folder.drop(f"{job}.LOG")  # of the same job, earlier
        self._number = self._number % 99_999_999 + 1
        done = self._ask(take_job(self._session, self._number, job), self._number, f"the job {job} ({what})")
        return done and self._logged(job, what)

    def list(self, what: str, command: str) -> str | None:
        """Return the list that a command gives (GETINFO, GETID), a letter a byte; None where none comes in time.

        Raises
        ------
        PressUnreachable, PressRefused
            As for `run`.
        """
        job = job_name(self._session, what)
        self._folder.drop(f"{job}.DAT")
        self.run(list_job(job, command))
        text, same = "", 0
        for _ in self._looks(self._timeout_s):
            now = self._text(f"{job}.DAT") or ""
            same = same + 1 if now and now == text else 0
            text = now
            if same >= _STILL and is_whole(text):
                break
        for ending in ("JOB", "LOG", "DAT"):
            self._folder.drop(f"{job}.{ending}")
        return text or None

    def _ask(self, order: Order, number: int, what: str) -> bool:
        """Send a request; return False where it is refused and stands as it should all the same."""
        stem = session_stem(self._session)
        self._folder.files()
        self._folder.drop(f"{stem}.RSP")
        old = self._text(f"{stem}.RSP")  # one that could not be deleted
        self._folder.put(order)
        before, same = None, 0
        for _ in self._looks(self._timeout_s):
            text = self._text(f"{stem}.RSP")
            same = same + 1 if text is not None and text == before else 0
            before = text
            if text is None or text == old or not (is_whole(text) or (text.strip() and same >= _STILL)):
                continue
            answer = answer_in(text)
            self._folder.drop(f"{stem}.RSP")
            if answer is not None and answer.number in (None, number):
                if answer.refusal is not None and not answer.refusal.is_harmless:
                    raise refused(what, answer.refusal)
                return answer.refusal is None
        raise self._silent(order, what, before)

    def _silent(self, order: Order, what: str, text: str | None) -> PressUnreachable:
        taken = order.name not in self._folder.files()
        self._folder.drop(order.name)
        after = f"the press did not answer {what} within {self._timeout_s:g} s"
        if text and text.strip():
            return PressUnreachable(f"{after}; what came is no answer to it: {text.strip()[:200]!r}")
        if taken:
            return PressUnreachable(f"{after}; it took the request, {order.name}")
        where = f"{order.name} still lay in {self._folder.place}"
        return PressUnreachable(
            f"{after}; {where}: look whether the press is on, looks into this folder (the share, its mount), and has a "
            f"session {self._session}"
        )

    def _logged(self, job: str, what: str) -> bool:
        """Read what became of the commands of a job, JOB and one more; return False where that is of no harm."""
        done: dict[int, object] = {}
        for _ in self._looks(min(self._timeout_s - self._waited_s, _LOG_S)):
            done = self.logged(job, what)
            if len(done) > 1 or any(done.values()):
                break
        return not any(done.values())

    def logged(self, job: str, what: str) -> dict[int, object]:
        """Return what the log of a job says by now, by the number of the command; None for done.

        Raises
        ------
        PressUnreachable, PressRefused
            It says that a command was refused.
        """
        found = command_answers(self._text(f"{job}.LOG") or "")
        for refusal in found.values():
            if refusal is not None and not refusal.is_harmless:
                raise refused(f"the job {job} ({what})", refusal)
        return dict(found)

    def _text(self, name: str) -> str | None:
        try:
            return self._folder.text(name)
        except FileHeld:
            return None  # it is being written

    def _looks(self, seconds: float) -> Iterator[None]:
        """Yield at once and after each pause, until so many seconds are over."""
        for n in range(ceil(seconds / _STEP_S) + 1):
            if n:
                self._pause(_STEP_S)
            self._waited_s = n * _STEP_S
            yield
