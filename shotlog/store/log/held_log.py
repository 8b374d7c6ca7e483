"""The log of a logger that is left alone: it is put right by itself, and nothing is written meanwhile.

What goes wrong with its file is noticed when it is opened, and at every transaction. From then on it is out of reach,
as far as anybody who writes can tell, until `reopen` has put it right. One program at a time may do that: the one that
holds the log. It takes long, and is done in a thread of its own; all others find the log out of reach meanwhile.
"""

import logging
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from itertools import groupby, pairwise
from threading import get_ident

from sqlalchemy import URL, Connection, Engine
from sqlalchemy.engine import make_url

from shotlog.clock import SystemClock
from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreUnreachable, UsageError
from shotlog.records import Event, Fault, Gap, SetPointChange, Shot
from shotlog.store.log import engine as database
from shotlog.store.log.entries_at_hand import EntriesAtHand
from shotlog.store.log.identity import Head, Seen, read_head
from shotlog.store.log.left_behind import held_against, is_left_behind, taken_up
from shotlog.store.log.log import Log, shown
from shotlog.store.log.looked_at import refuse_strangers
from shotlog.store.log.origins import known_origins
from shotlog.store.log.prepared import Asked
from shotlog.store.log.recovery import PutRight, put_right
from shotlog.store.log.server import warn_of_unsafe
from shotlog.store.log.shots import columns
from shotlog.store.log.signed import PROGRAM
from shotlog.store.log.transaction import Record, Transaction, Trial

__all__ = ["HeldLog", "held_log"]

logger = logging.getLogger(__name__)

_AT_HAND = 5_000
"""Batches kept in memory after they are stored, the newest, for a log that loses a page: hours of shots. A press that
makes one a second would need more for a shift."""
_AT_ONCE = 250
"""Shots of batches that the log knows brought in with one transaction."""
_LOST = "lost with a damaged page of the log"
_BETWEEN = "between what the log still holds and what was at hand of it"


def held_log(url: str, hold: Callable[[], None] | None = None) -> "HeldLog":
    """Return a log for writing that nobody has opened yet: out of reach until `reopen` could open it.

    `hold` makes sure that this process holds the log; it is called before the log is opened.

    Raises
    ------
    UsageError
        The URL cannot be understood, or its driver is not installed.
    """
    reader = database.connect(url, read_only=True)
    log = HeldLog(shown(url, reader), database.connect(url), reader, make_url(url))
    if hold is not None:
        log.hold = hold
    return log


def _nobody_else() -> None:
    """Hold a log of which it is known that nobody else opens it."""


class HeldLog(Log):
    """A log open for writing by the one program that holds it; see `Log`."""

    def __init__(self, url: str, writer: Engine | None, reader: Engine, store: URL | None = None) -> None:
        super().__init__(url, writer, reader, store)
        self.signature = PROGRAM
        self._newest: deque[tuple[str, list[Record | SetPointChange], Trial]] = deque(maxlen=_AT_HAND)
        self._entries = EntriesAtHand()
        self._unfinished: PutRight | None = None
        self._said = ""
        self._expected: Seen | None = None
        self._trouble = StoreUnreachable(f"log {url}: not opened yet")
        self._at_work: int | None = None
        self.hold: Callable[[], None] = _nobody_else

    def expect(self, seen: Seen) -> None:
        """Expect the log as it was seen before this process began: where it is not at its path, that is put right."""
        if self._path is not None:
            self._expected, self._since = seen, time.monotonic()

    @property
    def seen(self) -> Seen | None:
        """The log as it was last seen, by this process or by the one before; None where it never was."""
        return self._expected or super().seen

    @contextmanager
    def transaction(self, origin: str | None = None, asked: Sequence[Asked] = ()) -> Iterator[Transaction]:
        """Open a write transaction as a log does; refused while the log has to be put right first."""
        self._refuse_beside()
        if self._trouble is not None:
            raise type(self._trouble)(str(self._trouble))
        if self._path is None:  # a server that was started anew has forgotten who holds it
            self.hold()
        with super().transaction(origin, asked) as work:
            before = work.newest
            self._look(work, before)
            yield work
        if work.newest != before:
            self._entries.wrote(work.newest, work.tables)

    def _look(self, work: Transaction, newest: Head | None) -> None:
        with self._well_formed():
            self._entries.look(work.connection, newest)

    @contextmanager
    def _well_formed(self) -> Iterator[None]:
        """Take for damage what no release writes: a page that was written over reads, and holds anything."""
        try:
            yield
        except (AttributeError, KeyError, TypeError, ValueError) as error:
            raise StoreDamaged(f"log {self.url}: a row holds what no row can hold: {error}") from error

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Open a connection that reads, as a log does; refused while another thread puts the log right."""
        self._refuse_beside()
        with super().reading() as connection:
            yield connection

    def _refuse_beside(self) -> None:
        if self._at_work not in (None, get_ident()):
            raise StoreUnreachable(f"log {self.url}: it is being put right")

    @property
    def trouble(self) -> StoreError | None:
        """Why the log has to be opened again, None where it need not be; until that is done to its end."""
        if self._at_work not in (None, get_ident()):
            return StoreUnreachable(f"log {self.url}: it is being put right")
        return self._trouble

    def open(self) -> PutRight | None:
        """Open the log as it lies there; one that is damaged, or not at its path, is left in trouble for `reopen`.

        Returns what was found otherwise than expected, as `reopen` does.

        Raises
        ------
        StoreUnreachable
            It cannot be opened yet.
        StoreDamaged
            It is no log and never was, or a newer release wrote it.
        """
        self.hold()
        if self._path is not None and self._expected is not None and is_left_behind(self._path, self._expected):
            self._left_in(StoreGone(f"log {self.url}: it is not at its path, though it was logged into before"))
            return None
        self._renew()
        try:
            self.prepare()
            self._look_over()
            return self._make_ready()
        except StoreDamaged as error:
            if self._path is None or error.__cause__ is None:  # it reads, and is some other kind of database
                raise
            refuse_strangers(
                self._path, self._identity, str(getattr(error.__cause__, "orig", error.__cause__)), self.close
            )
            self._left_in(error)
            return None
        except StoreError as error:
            self._left_in(error)
            raise
        except UsageError:
            raise
        except Exception as error:
            unforeseen = self._unforeseen(error)
            self._left_in(unforeseen)
            raise unforeseen from error

    def _left_in(self, trouble: StoreError) -> None:
        self._trouble, self._since = trouble, time.monotonic()

    def append(
        self, records: Iterable[Record | SetPointChange], origin: str | None = None, trial: Trial = None
    ) -> list[Event | Fault]:
        """Add records as a log does, and keep those that have an origin at hand."""
        given = list(records)
        made = super().append(given, origin, trial)
        if origin is not None:
            self._newest.append((origin, given, trial))
        return made

    def reopen(self) -> PutRight | None:
        """Open the log, put right as far as that can be done; return what was done, None where nothing had to be.

        What a log that is not whole lost of the newest batches is appended once more.

        Raises
        ------
        StoreUnreachable
            Not yet: it has to come back first, or cannot be opened.
        StoreDamaged
            It is no log and never was, or a newer release wrote it.
        """
        if self._trouble is None:
            return None
        self._at_work = get_ident()
        try:
            return self._reopened()
        finally:
            self._at_work = None

    def _reopened(self) -> PutRight | None:
        self.hold()
        try:
            return self._opened_again()
        except StoreError:
            raise
        except Exception as error:
            # whatever a file that was damaged or written over makes of our own reading: shots have a place meanwhile
            self._trouble = self._unforeseen(error)
            raise self._trouble from error

    def _unforeseen(self, error: Exception) -> StoreError:
        """Return what stands against putting the log right that nobody thought of, told in full the first time."""
        said = f"{type(error).__name__}: {error}"
        if said != self._said:
            logger.error("log %s: a mistake in putting it right", self.url, exc_info=error)
            self._said = said
        return StoreUnreachable(
            f"log {self.url}: cannot be put right, by a mistake in this program ({said}); "
            "move the file away to begin a new one, and keep it"
        )

    def _opened_again(self) -> PutRight | None:
        known = self._identity.is_known
        done = self._put_right() if known else self._taken_up()
        self._renew()
        try:
            self.prepare()
            self._look_over()
        except StoreDamaged:
            if done is not None:
                raise
            self._put_right()
            self._renew()
            self.prepare()
        return self._make_ready()

    def _make_ready(self) -> PutRight | None:
        """Give an opened log all that it needs before anybody else writes to it; return what was done to it."""
        self._trouble = None
        with self.reading() as connection:
            warn_of_unsafe(connection, f"log {self.url}")
        self._hold_against()
        done = self._unfinished
        if done is not None and not done.whole:
            self._finish(done)
        self._expected = None
        with self.reading() as connection:
            self._entries.take_all(connection, read_head(connection))
        if self._trial is not None:
            self.use_trial(*self._trial)
        self._unfinished = None
        return done

    def _look_over(self) -> None:
        """Read what every start reads, so that a page that is damaged there is found now."""
        with self._well_formed():
            for press in self.presses():
                self.last_shot(press)
                self.timeline(press)

    def _taken_up(self) -> PutRight | None:
        if self._path is None or self._expected is None:
            return None
        done = taken_up(self._path, self._expected, self._since)
        self._unfinished = done or self._unfinished
        return done

    def _hold_against(self) -> None:
        """Hold what lies at the path, and is open now, against what was expected there."""
        if self._path is None or self._expected is None or self._unfinished is not None:
            return
        with self.reading() as connection:
            self._unfinished = held_against(connection, self._path, self._expected)

    def _put_right(self) -> PutRight | None:
        if self._path is None:
            return None
        if self._writing is not None:  # what it has open may be the only whole copy, and is taken from the pool
            self._writing.give_back()
        done = put_right(self._path, self._identity, self._writer, self.close, self._since)
        if done is not None and not done.whole:
            self._identity.head = None
        # what was lost is brought in, and said, also where the log cannot be opened yet
        if done is not None and (self._unfinished is None or not done.whole):
            self._unfinished = done
        return done

    def _finish(self, done: PutRight) -> None:
        """Make a log of what was put at the path, all of it before anything else is written; else it is tried again."""
        try:
            self._go_on_from(done)
        except StoreError as error:
            self._trouble = error
            raise
        self._unfinished = None

    def _go_on_from(self, done: PutRight) -> None:
        """Name the log that this one follows, and bring in what is still at hand of what it lost."""
        with self.transaction() as work:
            work.name(done.reason, done.uid or done.aside or None, done.digest)
            n = self._entries.bring_back(work, () if done.found is None else done.found.changed)
        logger.warning("log %s: %d rows of entries that were still at hand are in it again", self.url, n)
        newest = list(self._newest)
        # what a damaged page took is known shot by shot, below; of a copy that is older only where it ends
        between = self._between(newest) if done.found is None else []
        if between:
            Log.append(self, between)
        self._bring_in(newest)
        if done.found is not None:
            Log.append(self, self._still_missing(done.found.shots))

    def _bring_in(self, newest: list[tuple[str, list[Record | SetPointChange], Trial]]) -> None:
        """Append batches once more, in their order: those that the log does not know, and the shots of all others.

        A batch of which a part was lost is known by its origin; its shots are known one by one, so that many batches of
        which nothing is missing need few transactions: shots come in meanwhile, and wait.
        """
        with self.reading() as connection:
            known = known_origins(connection, [origin for origin, _, _ in newest])
        for (is_known, trial), batches in groupby(newest, lambda batch: (batch[0] in known, batch[2])):
            if not is_known:
                for origin, records, _ in batches:
                    Log.append(self, records, origin, trial)
                continue
            shots = [one for _, records, _ in batches for one in records if isinstance(one, Shot)]
            for first in range(0, len(shots), _AT_ONCE):
                Log.append(self, shots[first : first + _AT_ONCE], None, trial)

    def _between(self, newest: list[tuple[str, list[Record | SetPointChange], Trial]]) -> list[Gap]:
        """Return gaps from the last shot that the log holds of each press to the first that is brought in."""
        told: dict[str, list[Shot | Gap]] = {}
        for _, records, _ in newest:
            for one in records:
                if isinstance(one, Shot | Gap):
                    told.setdefault(one.press, []).append(one)
        gaps = []
        for press, came in told.items():
            last = self.last_shot(press)
            after = [] if last is None else [one for one in came if _number(one) > last[0]]
            first = min(after, key=_number, default=None)
            if last is not None and first is not None and _number(first) > last[0] + 1:
                gaps.append(Gap(press, last[0] + 1, _number(first) - 1, first.time, _BETWEEN))
        return gaps

    def _still_missing(self, missing: Mapping[str, Iterable[tuple[int, int]]]) -> list[Gap]:
        """Return gaps for the shots that a damaged page took with it and nobody could bring back."""
        now, gaps = SystemClock().now(), []
        with self.reading() as connection:
            for press, runs in missing.items():
                for first, last in runs:
                    there = [first - 1, *map(int, columns(connection, press, (), first, last)[0]), last + 1]
                    gaps += [Gap(press, a + 1, b - 1, now, _LOST) for a, b in pairwise(there) if b - a > 1]
        return gaps


def _number(record: Shot | Gap) -> int:
    return record.shot if isinstance(record, Shot) else record.first
