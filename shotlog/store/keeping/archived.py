"""What went into archives, as the log tells it, and whether the archives hold it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.engine import make_url

from shotlog.clock import parse_utc
from shotlog.errors import StoreDamaged
from shotlog.store.keeping.copying import file_digest
from shotlog.store.log import schema
from shotlog.store.log.log import Log, open_log

__all__ = ["ArchiveOf", "archive_of_shot", "archives_of", "check_archives"]

Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class ArchiveOf:
    """An archive as the log names it: of which trial, where it was written, its digest, how much went into it, when."""

    trial: str
    file: Path
    digest: str
    links: int
    rows: int
    time: datetime


def archives_of(log: Log) -> list[ArchiveOf]:
    """Return the archives that rows of a log went into, oldest first."""
    table, trials = schema.archives, schema.trials
    query = select(table, trials.c.name).join(trials, trials.c.id == table.c.trial_id).order_by(table.c.id)
    with log.reading() as connection:
        rows = connection.execute(query).mappings().all()
    return [
        ArchiveOf(row["name"], Path(row["file"]), row["file_digest"], row["links"], row["rows"], parse_utc(row["time"]))
        for row in rows
    ]


def archive_of_shot(log: Log, press: str, shot: int) -> ArchiveOf | None:
    """Return the archive of the trial that a stored shot was made in, None where it went into none."""
    shots, presses, trials = schema.shots, schema.presses, schema.trials
    query = select(trials.c.name).select_from(shots.join(presses).join(trials, trials.c.id == shots.c.trial_id))
    with log.reading() as connection:
        trial = connection.execute(query.where(presses.c.name == press, shots.c.shot == shot)).scalar()
    return next((one for one in archives_of(log) if one.trial == trial), None)


def check_archives(log: Log, tell: Tell) -> Iterator[tuple[ArchiveOf, Path | None]]:
    """Look at every archive that is at hand, where it was written or beside the log; yields where it was found.

    Raises
    ------
    StoreDamaged
        One is not the file that was written, does not verify, or does not hold what this log says that it does.
    """
    url = make_url(log.url)
    beside = Path(url.database or "").parent if url.get_backend_name() == "sqlite" else Path()
    for one in archives_of(log):
        found = next((path for path in (one.file, beside / one.file.name) if path.is_file()), None)
        if found is not None:
            if file_digest(found) != one.digest:
                raise StoreDamaged(f"archive {found}: is not the file that was written as the archive of {one.trial}")
            with open_log(f"sqlite:///{found.absolute().as_posix()}") as held:
                held.verify(tell)
                _compare(log, held, found)
        yield one, found


def _compare(log: Log, held: Log, found: Path) -> None:
    """Compare the chains link by link, as far as the archive goes: what it holds is then what went into it."""
    ledger = schema.ledger
    query = select(ledger.c.id, ledger.c.rows, ledger.c.digest).order_by(ledger.c.id)
    query = query.execution_options(yield_per=5000)
    with log.reading() as here, held.reading() as there:
        mine = iter(here.execute(query))
        for link in there.execute(query):
            if next(mine, None) != link:
                raise StoreDamaged(
                    f"log {log.url}: transaction {link.id} is not the one that the archive {found} holds"
                )
