"""One log shipped to one centre, once or for as long as it grows; a centre that is away is tried again, for ever.

It is a process of its own: the logger waits for nothing of it, and what is not there yet stays in the log.
"""

import logging
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime

from shotlog.clock import Clock
from shotlog.errors import CentreAway, StoreDamaged, StoreError, StoreUnreachable
from shotlog.notify.own_log import OwnLog
from shotlog.store.asked.shipped import note_shipped, note_trouble, shipped
from shotlog.store.centre.centre import open_centre
from shotlog.store.centre.delivery import Moved
from shotlog.store.centre.lines import Lines
from shotlog.store.centre.shipping import AtCentre, Shipping
from shotlog.store.log.identity import Head
from shotlog.store.log.log import Log
from shotlog.withheld import without_secrets
from shotlog.wording.numbers import some
from shotlog.wording.times import ago

__all__ = ["Besides", "Shipper"]

_LOOK_S = 1.0
"""How often the log is looked into: what a shot waits for at most before it goes."""
_PRESENT_S = 5.0
"""How often the centre is told who is at work, as often as the logger gives a sign of life."""
_NOTE_S = 10.0
_LEAVE_S = 2.0
"""How long the centre has to answer once we are to leave: as long as the logger gives us, and a moment less."""
_FIRST_S, _LONGEST_S = 1.0, 60.0
"""A centre that is away is tried again after so long, each time twice as long, and at the longest."""

logger = logging.getLogger(__name__)

Besides = Callable[[Shipping], int]
"""What is done with edge and centre once a round, after the log went: taking in what was entered there. Returns how
many links it brought to the centre itself."""


class Shipper:
    """Ships.

    Parameters
    ----------
    log
        The log, as whoever follows it holds it; it is written only to remember how far it went.
    to, name
        The address of the centre, and the name of this edge there.
    host, release
        Shown at the centre.
    tell
        Told now and then how far long work is.
    """

    def __init__(
        self,
        log: OwnLog,
        to: str,
        name: str,
        host: str,
        release: str,
        clock: Clock,
        tell: Callable[[str], None],
        besides: Sequence[Besides] = (),
    ) -> None:
        self._log, self._to, self._name, self._said_by = log, to, name, (host, release)
        self._clock, self._tell, self._besides = clock, tell, besides
        self._shipping: Shipping | None = None
        self._lines = Lines()
        self._shown = f"{name} at {without_secrets(to)}"
        self._present = self._noted = float("-inf")
        self._not_noted: Head | None = None
        self._noted_link = self._waited = 0
        self._away: tuple[datetime, float] | None = None
        self._centre_away = False
        self._may_be_noted_away = True
        """Whether the log may say that the centre is away: an earlier process may have ended within an outage."""
        self._wait_s = _FIRST_S

    def once(self, anew: bool = False, stop: Callable[[], bool] = lambda: False) -> tuple[int, AtCentre]:
        """Ship all there is; return how many links went, entries taken in included, and how far the centre is then.

        Raises
        ------
        CentreAway, StoreUnreachable
            The centre, or the log, is out of reach.
        UsageError
            The centre cannot take it, or not under this name; says what may be done.
        StoreDamaged
            The log does not verify; or the centre is of a newer release.
        """
        shipping = self._agreed(anew)
        at, went = AtCentre(shipping.head, 0), 0
        try:
            for at in shipping.ship():
                went += at.went
                self._told(at)
                if stop():
                    break
        except StoreDamaged:
            shipping.agree()  # where another log lies there by now, that is what is to be told
            raise
        self._note_no_trouble()
        self._waited = went
        # what else is done may bring more there, as entries that came back; of an earlier process it may not be noted
        for also in () if stop() else self._besides:
            if came := also(shipping):
                went, at = went + came, AtCentre(shipping.head, 0)
        if shipping.head.number != self._noted_link:
            self._not_noted = shipping.head
        return went, at

    @contextmanager
    def leaving(self, stop: threading.Event) -> Iterator[None]:
        """For the length of the block, wait for the centre no longer than `_LEAVE_S` once `stop` is set.

        What still waits for it then fails as if it were away: a server may take a question and never answer.
        """
        left = threading.Event()
        watch = threading.Thread(target=self._leave, args=(stop, left), name="leaving", daemon=True)
        watch.start()
        try:
            yield
        finally:
            left.set()
            watch.join()

    def _leave(self, stop: threading.Event, left: threading.Event) -> None:
        while not left.wait(_LOOK_S / 2):
            if stop.is_set() and not left.wait(_LEAVE_S):
                self._lines.cut()
                return

    def finish(self) -> None:
        """Remember how far the centre is, and close it; closing twice is fine."""
        if self._shipping is not None:
            self._note_how_far(self._shipping.log)
        self.close()

    def follow(self, stop: threading.Event) -> None:
        """Ship, and go on as the log grows, until `stop`; raises as `once`, but for what is out of reach."""
        while not stop.is_set():
            try:
                self.once(stop=stop.is_set)
                self._there()
            except StoreUnreachable as error:
                if self._lines.are_cut:
                    logger.warning("%s: it did not answer, and is left; what comes waits in the log", self._shown)
                    return
                self._out_of_reach(error)
                if isinstance(error, Moved):  # it is there, and is asked how far it is
                    self._wait_s = _FIRST_S
                self._clock.wait(stop, self._wait_s)
                if not isinstance(error, Moved):
                    self._wait_s = min(2 * self._wait_s, _LONGEST_S)
            else:
                self._clock.wait(stop, _LOOK_S)

    def close(self) -> None:
        """Close the centre; closing twice is fine."""
        if self._shipping is not None:
            self._shipping.centre.close()
            self._shipping = None

    def _agreed(self, anew: bool = False) -> Shipping:
        """Return the log as it is agreed on with the centre; anew after anything was out of reach."""
        log = self._log()
        if self._shipping is None or self._shipping.log is not log:
            self.close()
            centre = open_centre(self._to, self._said_by[1], self._lines)
            self._shipping = Shipping(log, centre, self._name, *self._said_by)
            try:
                self._shipping.agree(anew)
            except BaseException:
                self.close()
                raise
            self._present = float("-inf")
        return self._shipping

    def _told(self, at: AtCentre) -> None:
        if at.to_go:
            self._tell(f"{self._shown}: {some(at.to_go, 'transaction')} still to go")

    def _there(self) -> None:
        """Tell the centre who is at work, and remember how far it is; say that it is back, with what waited."""
        shipping, now = self._shipping, self._clock.monotonic()
        if shipping is None:
            return
        if now - self._present >= _PRESENT_S:
            shipping.say_present()
            self._present = now
        self._wait_s = _FIRST_S
        if self._away is not None:
            for_s, went = ago(now - self._away[1]), some(self._waited, "transaction")
            logger.warning("%s: it is there again after %s; %s that waited went there", self._shown, for_s, went)
            self._away, self._centre_away = None, False
            self._note_how_far(shipping.log)
        elif now - self._noted >= _NOTE_S:
            self._note_how_far(shipping.log)

    def _out_of_reach(self, error: StoreUnreachable) -> None:
        """Say once that the centre, or the log, is away; what was agreed on is agreed on anew."""
        if not isinstance(error, CentreAway):
            self._log.forget(error)
        self.close()
        if isinstance(error, Moved):
            return
        if self._away is None:
            self._away = self._clock.now(), self._clock.monotonic()
            logger.warning("%s; it is tried again until it is there, and what comes waits in the log", error)
        if isinstance(error, CentreAway) and not self._centre_away:
            self._centre_away = True
            self._may_be_noted_away = True
            with suppress(StoreError):  # a cache, as what follows: the centre itself says how far it is
                note_trouble(self._log(), self._shown, str(error), self._away[0])

    def _note_no_trouble(self) -> None:
        """Take back that the centre is away, whoever noted it: it was reached."""
        if not self._may_be_noted_away:
            return
        with suppress(StoreError):
            log = self._log()
            if any(one.to == self._shown and one.why for one in shipped(log)):
                note_trouble(log, self._shown, "", self._clock.now())
            self._may_be_noted_away = False

    def _note_how_far(self, log: Log) -> None:
        if self._not_noted is None:
            return
        with suppress(StoreError):
            note_shipped(log, self._shown, self._not_noted, self._clock.now())
            self._noted_link, self._not_noted = self._not_noted.number, None
        self._noted = self._clock.monotonic()
