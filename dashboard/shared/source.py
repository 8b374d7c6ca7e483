"""The log as the screens hold it: opened for reading when it appears, for writing only for the length of an entry.

It is opened anew once another file lies at its path, as after the logger put it right; while none does, that is said.
"""

import threading
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from math import inf

from dashboard.shared.heard import Heard
from dashboard.shared.kept import KeptReader
from dashboard.shared.person import allowed, need, refusal, signature
from shotlog.clock import Clock, SystemClock
from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreUnreachable
from shotlog.settings import Settings
from shotlog.store.centre.entering import open_for_entries
from shotlog.store.log.log import Log, open_log
from shotlog.store.undo import act_of_taking_back

__all__ = ["Source"]

_DAMAGED_S = 60.0
"""How long damage is held against a log after a page met it last, in seconds: while one is shown, it meets it again."""


def _for_writing(url: str) -> Log:
    return open_for_entries(url)


class Source:
    """Hands out the log of a configuration, and the time.

    Nothing is opened before it is asked for; `close` closes what is open. `open_for_writing` is how an entry gets at
    the log (a test stands in a log that cannot be written). `heard`: of a copy at a centre, whether its edge is.
    """

    def __init__(
        self,
        settings: Settings,
        clock: Clock | None = None,
        open_for_writing: Callable[[str], Log] = _for_writing,
        heard: Heard | None = None,
    ) -> None:
        self.settings = settings
        self.heard = heard
        self.clock: Clock = SystemClock() if clock is None else clock
        self.kept = KeptReader(settings, self.clock)
        self._open_for_writing = open_for_writing
        self._lock = threading.Lock()
        self._log: Log | None = None
        self._was_there = False
        self._damaged_s = -inf

    @property
    def presses(self) -> tuple[str, ...]:
        """The names of the configured presses, in their order."""
        return tuple(press.name for press in self.settings.presses)

    @property
    def balances(self) -> dict[str, str]:
        """The names of the configured balances, each with the press whose parts it weighs."""
        return {balance.name: balance.weighs for balance in self.settings.balances}

    def reading(self) -> Log:
        """Return the log, open for reading.

        Raises
        ------
        StoreUnreachable
            There is no log yet, or it cannot be opened; as StoreGone: it was there, and is not there any more.
        StoreDamaged
            It is no log, or a newer release wrote it.
        """
        with self._lock:
            self._note_damage()
            if self._log is not None and (
                self._log.trouble is not None or not self._log.is_at_its_path() or self._log.is_outgrown()
            ):
                self._log.close()
                self._log = None
            if self._log is None:
                try:
                    self._log = open_log(self.settings.store)
                except StoreUnreachable as error:
                    if self._was_there:
                        raise StoreGone(
                            f"{self.settings.store_shown} is not there any more: deleted, moved away or out of reach"
                        ) from error
                    raise
                self._was_there = True
            return self._log

    def _note_damage(self) -> None:
        if self._log is None:
            return
        if not self._log.is_at_its_path():
            self._damaged_s = -inf
        elif isinstance(self._log.trouble, StoreDamaged):
            self._damaged_s = self.clock.monotonic()

    @property
    def is_damaged(self) -> bool:
        """Whether a page that was shown met damage in the file of the log, and no other file was put there since."""
        return self.clock.monotonic() - self._damaged_s < _DAMAGED_S

    def writing(self) -> Log:
        """Return the log, open for writing; the caller closes it. Never makes a log: the logger does that.

        Of an edge at a centre it is the log there, and what is entered waits.

        Raises
        ------
        StoreUnreachable, StoreDamaged
            As for `reading`; or the log cannot be written.
        """
        self.reading()
        return self._open_for_writing(self.settings.store)

    @contextmanager
    def entering(self, act: str, typed: str) -> Iterator[tuple[Log, str]]:
        """Open the log for an entry, and hand out with it the initials that the entry bears.

        It is signed by who is logged in, whatever was `typed`; where nobody has to be, by what was typed.

        Raises
        ------
        NotAllowed
            The role of who is logged in does not allow `act`.
        StoreUnreachable, StoreDamaged
            As for `writing`.
        """
        need(act)
        signed = signature(typed)
        with self.writing() as log:
            log.signature, log.presses_open = signed, self.presses
            yield log, signed.initials

    def need_to_take_back(self, table: str, numbers: Collection[int]) -> None:
        """Refuse to take entries of a table back where the role of who is logged in does not allow it.

        Raises
        ------
        NotAllowed
            It does not.
        """
        need("enter")
        for number in () if allowed("decide") and allowed("let go") else numbers:
            need(act_of_taking_back(self.reading(), table, number, signature("")))

    def refuses_entries(self) -> str:
        """Return why nothing can be entered in a log that is there, empty where it can."""
        if refused := refusal("enter"):
            return refused
        if not self.is_there():
            return ""
        try:
            self.writing().close()
        except StoreError as error:
            return f"Nothing can be entered here: {error}."
        return ""

    def is_there(self) -> bool:
        """Say whether there is a log that can be opened."""
        try:
            self.reading()
        except StoreUnreachable:
            return False
        return True

    def close(self) -> None:
        """Close the log; closing twice is fine."""
        with self._lock:
            if self._log is not None:
                self._log.close()
                self._log = None
