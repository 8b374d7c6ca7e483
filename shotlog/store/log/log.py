"""The log of one or more presses: append-only, durable per transaction, readable while it is written."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from sqlalchemy import URL, Connection, Engine, select
from sqlalchemy.engine import make_url

from shotlog.channels import CHANNELS
from shotlog.errors import StoreMissing, StoreUnreachable
from shotlog.recording import Columns
from shotlog.records import Event, Fault, LoggedShot, SetPointChange, Shot
from shotlog.store.log import engine as database
from shotlog.store.log import schema
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.known_shots import where_shots_are
from shotlog.store.log.opened import OpenedLog
from shotlog.store.log.order import EntryOrder
from shotlog.store.log.recorded import recorded
from shotlog.store.log.set_point_rows import HeldSetPoints
from shotlog.store.log.set_points import KeepingSetPoints
from shotlog.store.log.shots import channels_present, last_shot, logged_shots
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.transaction import Record, Trial
from shotlog.store.log.verifying import nobody, verify_chain, verify_since
from shotlog.withheld import without_secrets

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Log", "open_log", "opened_as", "shown"]


class Log(OpenedLog):
    """A log, open. Write with `append` and with the functions of `store.entries`; the rest reads."""

    def __init__(self, url: str, writer: Engine | None, reader: Engine, store: URL | None = None) -> None:
        super().__init__(url, writer, reader, store)
        self._order, self._set_points = EntryOrder(), HeldSetPoints()

    def _renew(self) -> None:
        super()._renew()
        self._order, self._set_points = EntryOrder(), HeldSetPoints()

    def append(
        self,
        records: Iterable[Record | SetPointChange],
        origin: str | None = None,
        trial: Trial = None,
    ) -> list[Event | Fault]:
        """Add records in one transaction; returns after they are durably committed, what was put beside them: set-up
        entries of what a press was set to otherwise.

        A shot the log already has is left alone. With `origin`, a second call of that origin adds nothing: it makes a
        repeated delivery harmless. `trial`: see `Transaction.under`; None for the one of `use_trial`.
        """
        records = [*records]
        shots = where_shots_are(records)
        with self.transaction(origin, [*shots.values()]) as work:
            if work.is_repeated:
                return []
            work.under(trial)
            work.found({shot: rows[0] if rows else None for shot, rows in zip(shots, work.answers, strict=True)})
            keeping = KeepingSetPoints(work, self._set_points)
            for record in records:
                if isinstance(record, SetPointChange):
                    keeping.told(record)
                elif work.append(record) is not None and isinstance(record, Shot):
                    keeping.read(record)
            keeping.finish()
        return keeping.made

    def presses(self) -> list[str]:
        """Return the names of the presses that have anything in the log, in the order they came."""
        with self.reading() as connection:
            return list(connection.execute(select(schema.presses.c.name).order_by(schema.presses.c.id)).scalars())

    def timeline(self, press: str) -> Timeline:
        """Return which inserts and events were in force on a press, from the entries in force now."""
        with self.reading() as connection:
            return read_timeline(connection, press)

    def order(self, connection: Connection) -> EntryOrder:
        """Return in which order people's entries came into the log, those that `connection` sees among them."""
        self._order.read(connection)
        return self._order

    def last_shot(self, press: str) -> tuple[int, int] | None:
        """Return the last stored shot of a press and its raw counter reading, or None."""
        with self.reading() as connection:
            return last_shot(connection, press)

    def logged(self, press: str, after: int = -1, upto: int | None = None) -> Iterator[LoggedShot]:
        """Yield the shots of a press after shot `after`, in order, each with what was in force."""
        with self.reading() as connection:
            yield from logged_shots(connection, press, read_timeline(connection, press), after, upto)

    def channels_present(self, presses: Sequence[str]) -> list[str]:
        """Return the channels that were measured at least once on any of the presses."""
        with self.reading() as connection:
            present = channels_present(connection, presses)
        return [name for name in CHANNELS if name in present]

    def recorded(
        self, press: str, after: int = -1, upto: int | None = None, channels: Collection[str] = CHANNELS.keys()
    ) -> Iterator[Columns]:
        """Yield the shots that `logged` yields, some thousand at a time, as the columns of a recording.

        `channels`: those asked for, with all that were ever measured among them.
        """
        with self.reading() as connection:
            yield from recorded(connection, press, read_timeline(connection, press), after, upto, channels)

    def verify(self, tell: Callable[[str], None] = nobody) -> tuple[int, str]:
        """Recompute the hash chain over the whole log; return how many transactions it has and the last digest.

        `tell` is told now and then how far it is.

        Raises
        ------
        StoreDamaged
            A row was changed, added or taken out after it was written; says in which transaction.
        """
        with self.reading() as connection:
            return verify_chain(connection, self.url, tell)

    def verify_since(self, shots: Mapping[str, int], tell: Callable[[str], None] = nobody) -> tuple[int, str, int]:
        """Recompute the chain since the first of some shots, by press; see `verifying.verify_since`."""
        with self.reading() as connection:
            return verify_since(connection, self.url, shots, tell)

    def shots(self, press: str | None = None) -> "pd.DataFrame":
        """Return the shots as a pandas frame: one row a shot, with inserts, design, events and every channel present.

        The units are in ``frame.attrs["units"]``.
        """
        from shotlog.store.log import frames

        names = [press] if press is not None else self.presses()
        with self.one_moment():
            present = self.channels_present(names)
            return frames.shots(chain.from_iterable(self.recorded(name, channels=present) for name in names), present)

    def inserts(self) -> "pd.DataFrame":
        """Return every insert's stays in a press as a pandas frame, one row a stay."""
        from shotlog.store.log import frames

        return frames.inserts((name, self.timeline(name), self.last_shot(name)) for name in self.presses())

    def set_points(self, press: str | None = None) -> "pd.DataFrame":
        """Return what presses were set to as a pandas frame: one row where something was set otherwise, or first read.

        Columns: press, shot (the first made with it), name, value (text; empty where it could not be read), number (of
        the value, NaN where it is none), unit, old (empty at a first reading), by, time.
        """
        from shotlog.store.log import frames

        with self.reading() as connection:
            return frames.set_points(connection, press)

    def signals(self, press: str | None = None) -> "pd.DataFrame":
        """Return the signals in force as a pandas frame, in shot order."""
        from shotlog.store.log import frames

        with self.reading() as connection:
            return frames.signals(connection, press)

    def verdicts(self, press: str | None = None) -> "pd.DataFrame":
        """Return the verdicts in force as a pandas frame, one row a shot."""
        from shotlog.store.log import frames

        with self.reading() as connection:
            return frames.verdicts(connection, press)


def open_log(url: str, *, read_only: bool = True) -> Log:
    """Open a log by its SQLAlchemy URL.

    A log opened for writing is made when it does not exist, and brought to this release's schema; one of an earlier
    schema that is only read stays as it is.

    Raises
    ------
    StoreUnreachable
        There is no such log (when only reading), or it cannot be opened or written.
    StoreDamaged
        It was written by a newer release, or is no log.
    """
    return opened_as(Log, url, read_only)


Opened = TypeVar("Opened", bound=Log)


def shown(url: str, reader: Engine) -> str:
    """Return how a log is named to people: no password in it."""
    return without_secrets(reader.url.render_as_string() if reader.dialect.name != "sqlite" else url)


def opened_as(kind: type[Opened], url: str, read_only: bool) -> Opened:
    """Open a log as one of a kind that can do more; see `open_log`."""
    reader = database.connect(url, read_only=True)
    where = shown(url, reader)
    if read_only and reader.dialect.name == "sqlite":
        _find(Path(make_url(url).database or ""), where)
    writer = None if read_only else database.connect(url)
    log = kind(where, writer, reader, make_url(url))
    try:
        log.prepare()
    except BaseException:
        log.close()
        raise
    return log


def _find(file: Path, where: str) -> None:
    """Refuse a log that is not there: a disk or a share that is away is no log that nobody made yet."""
    if not file.parent.is_dir():
        raise StoreUnreachable(f"log {where}: its folder is not there; is its disk or share connected?")
    if not file.exists():
        raise StoreMissing(f"log {where}: there is no such file yet")
